#pragma once

#include <optional>

#include "process/detail/refusals.h"

namespace stillroom::process::detail {

/// Refuses for what has happened to the food, whatever the rows say: mould or decay, an own recipe, frost-killed vines
/// (tomatoes), or a condition no table knows. Having been frozen raw is weighed row by row instead (was_frozen).
[[nodiscard]] std::optional<measure::Refusal> barred(const Asked& asked);
[[nodiscard]] bool was_frozen(const Question& q);

}  // namespace stillroom::process::detail
