#pragma once

#include "planning/plan.h"

namespace stillroom::planning {

/// Fills Plan::lots, what becomes of every lot (largest cost of waiting first), and the one line of reason of each
/// batch's stages, from the household and the placed plan alone. The cost of waiting here is an estimate: what a day's
/// fading where the lot lies takes off the worth of its best use; `why` re-solves for the real figure.
void fill_outlooks(const Household& h, Plan& plan);

}  // namespace stillroom::planning
