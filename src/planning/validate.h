#pragma once

#include <optional>

#include "measure/result.h"
#include "planning/household.h"

namespace stillroom::planning {

/// The first fault of a snapshot (code "bad_snapshot"; the message names the field and says what is wanted), or
/// nothing. Checks what the planner relies on: horizon, sorted free time, shares and masses in range, keys that are
/// known and unique, concave worth, known hazard clocks.
[[nodiscard]] std::optional<measure::Refusal> fault_in(const Household& h);

}  // namespace stillroom::planning
