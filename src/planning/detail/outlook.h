#pragma once

#include "planning/detail/search.h"

namespace stillroom::planning::detail {

/// Fills Plan::lots (what becomes of every lot, the dearest to keep waiting first) and the line of reason of every
/// stage. The plan must be what stands in the search's schedule; the schedule is the same afterwards.
/// The cost of waiting is an estimate: what a day's delay of everything planned for the lot, its move included, takes
/// off the worth of those batches at the margin; `why` plans again for the real figure.
void tell_outlooks(PlanSearch& search, Plan& plan);

/// Why what is left of a lot is not used, in words; empty when it could be after all.
[[nodiscard]] std::string let_go_reason(PlanSearch& search, int lot);

/// What keeps a job from an earlier place: "ann this morning", "the pressure canner on Saturday"; empty when nothing
/// does.
[[nodiscard]] std::string binding_of(PlanSearch& search, int id);

}  // namespace stillroom::planning::detail
