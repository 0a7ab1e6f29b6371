#pragma once

#include "planning/household.h"

namespace stillroom::bench {

/// What all that comes in would be worth if nothing faded while it waits and there were no limit of hands, equipment,
/// stock, room or time: every lot by the mixture of ways that is worth most in all, at the best quality it can still
/// reach and as sound as it came in, less materials, energy and the effort of full batches; no work late. Worth falls
/// off beyond the need as it always does. Measured in USD; no plan is worth more but for rounding. "Value lost" is this
/// less what a plan is worth: part of it no plan could save (planning/bound.h says how much at least).
[[nodiscard]] double full_worth(const planning::Household& h);

}  // namespace stillroom::bench
