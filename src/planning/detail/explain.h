#pragma once

#include "planning/detail/search.h"

namespace stillroom::planning::detail {

/// Fills in what becomes of every lot (Plan::lots, sorted by cost of waiting) and the one line of reason of every
/// stage. The plan must be what stands in the search's decoder.
void explain(PlanSearch& search, Plan& plan);

}  // namespace stillroom::planning::detail
