#pragma once

#include <string>

#include "app/app.h"

/// A small household in memory for the tests of app/: Test Hill, 1,200 ft, two adults and a child, a kitchen that can
/// can.
namespace stillroom::app::test {

/// The almanac, loaded once for the whole program.
[[nodiscard]] const almanac::Almanac& published();

/// 2026-09-14 15:00 UTC: nine in the morning at Test Hill.
[[nodiscard]] Instant morning();

/// Empty, in memory, zone set.
[[nodiscard]] House empty_house();
/// With people, places, equipment, stock and altitude.
[[nodiscard]] House kitchen();

/// Brings one line in; fails the test when it is refused. The id.
std::string bring(House& h, Instant now, const std::string& line);

/// A quick plan on a fixed step budget.
struct Planned {
  planning::Household snapshot;
  planning::Plan plan;
};
[[nodiscard]] Planned planned(const House& h, Instant now);

}  // namespace stillroom::app::test
