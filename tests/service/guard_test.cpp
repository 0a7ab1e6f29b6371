#include "service/guard.h"

#include <gtest/gtest.h>

namespace stillroom::service {
namespace {

Request page_request(std::string host) { return {.method = "GET", .path = "/day", .host = std::move(host)}; }

TEST(Guard, LetsThisMachineInByEveryNameItHas) {
  for (const char* host : {"localhost:8137", "localhost", "127.0.0.1:8137", "[::1]:8137", "LOCALHOST:8137"}) {
    EXPECT_FALSE(barred(page_request(host))) << host;
  }
}

TEST(Guard, BarsAnyOtherName) {
  for (const char* host : {"", "stillroom.example", "localhost.example:8137", "localhost:", "localhost:8137.example",
                           "127.0.0.1.example", "localhost:81@example", "192.168.1.5:8137", "localhost:1234567"}) {
    const auto refused = barred(page_request(host));
    ASSERT_TRUE(refused) << host;
    EXPECT_EQ(refused->code, "forbidden");
    EXPECT_EQ(status_of(refused->code), 403);
  }
}

TEST(Guard, BarsPagesOfOtherSites) {
  Request r = page_request("localhost:8137");
  r.origin = "http://localhost:9000";
  EXPECT_TRUE(barred(r)) << "another port is another site";
  r.origin = "null";
  EXPECT_TRUE(barred(r));
  r.origin = "http://localhost:8137";
  EXPECT_FALSE(barred(r));
  r.fetch_site = "cross-site";
  EXPECT_TRUE(barred(r));
  r.fetch_site = "same-origin";
  EXPECT_FALSE(barred(r));
}

TEST(Guard, TakesOnlyJson) {
  Request r{.method = "POST", .path = "/entries", .host = "localhost:8137", .content_type = "text/plain"};
  ASSERT_TRUE(barred(r));
  EXPECT_EQ(status_of(barred(r)->code), 415);
  for (const char* type : {"application/json", "application/json; charset=utf-8", "Application/JSON ;x=y"}) {
    r.content_type = type;
    EXPECT_FALSE(barred(r)) << type;
  }
  r.content_type = "application/jsonp";
  EXPECT_TRUE(barred(r));
}

}  // namespace
}  // namespace stillroom::service
