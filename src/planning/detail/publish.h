#pragma once

#include "planning/detail/objective.h"

namespace stillroom::planning::detail {

/// Writes a schedule as a Plan: batches in order of start, holds, trips, other work, terms. Outlooks
/// and reasons are added by explain.h.
[[nodiscard]] Plan publish(const Schedule& schedule, const ObjectiveTerms& terms);

/// The list that fills to a given plan (or very nearly, when the household has changed): jobs in order of start.
[[nodiscard]] PinnedList list_from(const Project& project, const Plan& plan);
/// The same from the plan in force of the snapshot.
[[nodiscard]] PinnedList list_from_in_force(const Project& project);

}  // namespace stillroom::planning::detail
