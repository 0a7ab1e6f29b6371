#pragma once

#include <optional>
#include <vector>

#include "measure/result.h"
#include "scheduling/detail/lanes.h"
#include "scheduling/infeasibility.h"

namespace stillroom::scheduling {

/// A single-mode project with minimum and maximum lags, closed under them: distance(i, j) is the longest path, so that
/// start of j >= start of i + distance(i, j) follows from the lags. Pairs that cannot run at the same time and can
/// stand in one order only have that order built in.
struct LagProject {
  static constexpr Time kUnrelated = -100'000'000;

  int activities = 0;
  std::vector<Time> duration;
  std::vector<Lanes::Word> demand;
  Lanes::Word guard = 0, full = 0;
  std::vector<Time> from_row;    ///< distance(i, j) at [i * activities + j]
  std::vector<Time> to_row;      ///< distance(i, j) at [j * activities + i]
  std::vector<Time> head, tail;  ///< least time before the start / from the start to the end of the project
  std::vector<std::vector<int>> before, after;  ///< strict order: distance > 0, or 0 one way only
  Time horizon = 0, lower_bound = 0;

  [[nodiscard]] Time distance(int i, int j) const { return from_row[i * activities + j]; }

  /// Refuses (code "unsupported_lags") several modes; (code "too_wide") as CompiledProject. An Infeasibility
  /// ("no_room_in_lags") comes out in `impossible` when two activities fit in neither order.
  [[nodiscard]] static measure::Result<LagProject> compile(const Project& project,
                                                           std::optional<Infeasibility>& impossible);
};

}  // namespace stillroom::scheduling
