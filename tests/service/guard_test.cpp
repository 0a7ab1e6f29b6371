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

Request home_request(Door door, std::string host, std::string peer = "192.168.1.20") {
  return {.method = "GET", .path = "/day", .host = std::move(host), .door = door, .peer = std::move(peer)};
}

TEST(Guard, OnTheHomeNetworkTakesTheNamesThereOnly) {
  const std::vector<std::string> names = {"kitchen.local", "192.168.1.5", "[fd00::2]"};
  for (const Door door : {Door::plain, Door::secure}) {
    for (const char* host :
         {"kitchen.local:8643", "KITCHEN.local", "192.168.1.5:8643", "[fd00::2]:8643", "localhost:8643"})
      EXPECT_FALSE(barred(home_request(door, host), names)) << host;
    for (const char* host : {"", "rebound.example", "kitchen.local.rebound.example", "192.168.1.50:8643", "192.168.1.6",
                             "kitchen.local:8643@rebound.example", "fd00::2"}) {
      ASSERT_TRUE(barred(home_request(door, host), names)) << host;
      EXPECT_EQ(barred(home_request(door, host), names)->code, "forbidden");
    }
  }
  EXPECT_TRUE(barred(page_request("kitchen.local:8137"), names)) << "loopback has no home name";
}

TEST(Guard, OnTheHomeNetworkTurnsAwayStrangersFromOutsideIt) {
  const std::vector<std::string> names = {"kitchen.local"};
  for (const char* peer : {"203.0.113.7", "2001:db8::7", ""})
    EXPECT_TRUE(barred(home_request(Door::secure, "kitchen.local", peer), names)) << peer;
  for (const char* peer : {"10.0.0.7", "fd00::7", "fe80::7", "127.0.0.1"})
    EXPECT_FALSE(barred(home_request(Door::secure, "kitchen.local", peer), names)) << peer;
}

TEST(Guard, TheOriginMustBeOfTheSameScheme) {
  const std::vector<std::string> names = {"kitchen.local"};
  Request r = home_request(Door::secure, "kitchen.local:8643");
  r.origin = "https://kitchen.local:8643";
  EXPECT_FALSE(barred(r, names));
  r.origin = "http://kitchen.local:8643";
  EXPECT_TRUE(barred(r, names));
  r.door = Door::plain;
  EXPECT_FALSE(barred(r, names));
  r.origin = "https://kitchen.local:8643";
  EXPECT_TRUE(barred(r, names));
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
