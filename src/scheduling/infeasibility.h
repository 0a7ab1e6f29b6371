#pragma once

#include <optional>
#include <string>
#include <vector>

#include "scheduling/project.h"

namespace stillroom::scheduling {

/// A proof that a project has no schedule, with what to look at.
/// code: "circular_precedence" or "positive_cycle" (activities = the circle in order), "activity_too_large" (one
/// activity asks for more of a renewable resource than exists in each of its modes), "nonrenewable_exceeded" (no choice
/// of modes fits the named resources), "no_room_in_lags" (two activities that cannot overlap and cannot follow each
/// other either).
struct Infeasibility {
  std::string code;
  std::string message;            ///< one sentence with names and numbers
  std::vector<int> renewable;     ///< resources that take part
  std::vector<int> nonrenewable;  ///< smallest set of non-renewable resources for which no mode choice fits
  std::vector<int> activities;    ///< circle, or the activities at fault
};

/// Looks for a proof before any search: circles, activities that never fit, and the exact question whether any choice
/// of modes fits the non-renewable totals (dynamic programming over undominated sums). The sets named are smallest:
/// leaving any one resource out makes a choice possible, and no smaller set clashes. Nothing found means only that no
/// such proof exists; renewable resources over time are the search's business.
[[nodiscard]] std::optional<Infeasibility> explain_infeasible(const Project& project);

/// A mode per activity that fits the non-renewable totals and every renewable capacity, or nothing if there is none.
/// `resources` restricts the non-renewables looked at. Exact; memory grows with the number of undominated sums.
[[nodiscard]] std::optional<std::vector<int>> fitting_modes(const Project& project,
                                                            const std::vector<int>& nonrenewable_considered,
                                                            const std::vector<int>& renewable_considered);

}  // namespace stillroom::scheduling
