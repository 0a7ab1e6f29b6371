#include "service/house.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <stdexcept>

#include "service/described.h"

namespace stillroom::service {
namespace {

template <class T>
T must(measure::Result<T> result) {
  if (!result) throw std::runtime_error(result.error().code + ": " + result.error().message);
  return std::move(*result);
}

/// Whatever a test asks, docs/api/openapi.yaml has to say that it may be answered so.
Reply as_described(std::string_view method, const std::string& path, Reply reply) {
  EXPECT_TRUE(is_described(method, path, reply.status))
      << method << " " << path << " answers " << reply.status << ", which docs/api/openapi.yaml does not have";
  return reply;
}

}  // namespace

const almanac::Almanac& published() {
  static const almanac::Almanac kAlmanac = must(almanac::load_almanac());
  return kAlmanac;
}

House::House()
    : now(must(measure::parse_instant("2026-09-14T13:00:00Z"))),
      house{published(), must(ledger::Ledger::open(":memory:")), measure::Random(7), ""},
      service(
          house, [this] { return now; }, 0.1) {
  must(app::set(house, now, "zone", "America/Chicago"));
  must(app::answer_start(house, now, "altitude", "1250 ft"));
  must(app::answer_start(house, now, "hands", "Mary 41 pressure"));
  must(app::answer_start(house, now, "canners", "boiling water 1, 4 burners"));
  must(app::answer_start(house, now, "jars", "24 quart, 24 pint"));
}

Reply House::get(const std::string& path, std::map<std::string, std::string> query) {
  return as_described(
      "GET", path,
      service.answer({.method = "GET", .path = path, .query = std::move(query), .host = "localhost:8137"}));
}

Reply House::post(const std::string& path, const std::string& body) {
  return as_described("POST", path,
                      service.answer({.method = "POST",
                                      .path = path,
                                      .body = body,
                                      .host = "localhost:8137",
                                      .origin = "http://localhost:8137",
                                      .content_type = "application/json"}));
}

std::string House::bring_in(const std::string& line) {
  const auto draft = must(app::read_bring_in(house, now, line));
  return must(app::bring_in(house, now, draft));
}

}  // namespace stillroom::service
