#pragma once

#include <memory>
#include <string>

#include "app/app.h"
#include "service/service.h"

namespace stillroom::service {

/// A small household in memory and a service over it, at 08:00 on Monday 14 September 2026 in Chicago: one person, a
/// cellar, a fridge, a counter, a kitchen at 1,250 ft with a boiling-water canner, jars and lids.
class House {
 public:
  House();
  /// What the service answers, as from a page of this machine.
  [[nodiscard]] Reply get(const std::string& path, std::map<std::string, std::string> query = {});
  [[nodiscard]] Reply post(const std::string& path, const std::string& body);
  /// Brings a lot in through the service; its id.
  std::string bring_in(const std::string& line);

  measure::Instant now;
  app::House house;
  Service service;
};

/// The published data, loaded once for all tests.
[[nodiscard]] const almanac::Almanac& published();

}  // namespace stillroom::service
