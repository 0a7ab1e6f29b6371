#pragma once

#include <optional>

#include "measure/amount.h"
#include "measure/detail/tokens.h"
#include "measure/result.h"

namespace stillroom::measure::detail {

/// Reads an amount at the cursor and moves behind it; `said` is left empty. Nothing, cursor unmoved, when no number
/// stands there. `wanted` settles doubtful letters ("c", "m") and gives a bare number the household's unit.
struct Wanted {
  std::optional<AmountKind> kind;
  Units units = Units::us;
};
[[nodiscard]] Result<std::optional<Amount>> read_amount(Cursor& cursor, Wanted wanted = {});

}  // namespace stillroom::measure::detail
