#pragma once

#include <cstdint>

#include "planning/plan.h"

/// The best plan of a tiny household by integer programming over every placement on an hourly grid: a yardstick for the
/// search that shares nothing with it.
namespace stillroom::planning::test {

/// Three to five lots, one or two days and people, one canner, all times whole hours and nobody free for more than four
/// hours a day: whatever starts as early as it can starts on the hour, earlier is never worse, and effort is linear, so
/// the best plan lies on the grid.
[[nodiscard]] Household hourly_household(std::uint64_t seed);

struct OraclePlan {
  bool proven = false;
  double value = 0;
  Plan plan;  ///< batches, other work and terms
};
/// Range: a household of hourly_household.
[[nodiscard]] OraclePlan best_on_the_hour(const Household& h);

}  // namespace stillroom::planning::test
