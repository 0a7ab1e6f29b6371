#pragma once

#include "process/detail/refusals.h"

namespace stillroom::process::detail {

/// `rows` as pasteurised below the boil: the jar, headspace, acid and altitude band are the recipe's own row's, the
/// time and the source those of data/canning/low_temperature.csv. Refuses ("no_row") recipes that do not name it, and
/// says so where a recipe forbids it (reduced salt).
[[nodiscard]] measure::Result<std::vector<Choice>> pasteurised(const Asked& asked, RowRefs rows);

}  // namespace stillroom::process::detail
