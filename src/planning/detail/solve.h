#pragma once

#include <functional>

#include "planning/detail/search.h"

namespace stillroom::planning::detail {

/// How long and from where to search.
struct Effort {
  std::uint64_t seed = 1;
  long schedules = 20000;  ///< per worker
  double seconds = 0;      ///< 0 = by schedules only
  int workers = 2, threads = 2;
  std::function<double()> elapsed;
  std::function<bool()> cancelled;
  bool only_warm = false;  ///< start from `warm` alone, without trying the recipes
};

struct Solved {
  Schedule::Snapshot best;
  double worth = 0;  ///< total of the objective
  long schedules = 0;
};

/// Called whenever the best has improved; also with the first.
using OnBetter = std::function<void(const Schedule::Snapshot&)>;

/// Searches from the best of the rules of thumb, or from `warm` when that is better (its gaps filled first).
/// Same seed, schedules and workers: same result on any number of threads.
[[nodiscard]] Solved solve(const Project& project, const PinnedList& warm, const Effort& effort,
                           const OnBetter& on_better = {});

}  // namespace stillroom::planning::detail
