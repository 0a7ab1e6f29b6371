#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "measure/amount.h"
#include "measure/detail/tokens.h"

namespace stillroom::measure::detail {

/// One unit, container or counted thing. SI value = number * factor + offset.
struct Unit {
  AmountKind kind = AmountKind::count;
  double factor = 1;
  double offset = 0;
  std::string key;        ///< container or count key; empty for physical units
  bool plural = false;    ///< written as a plural
  bool doubtful = false;  ///< "c": cups or Celsius
};

/// Longest unit phrase at the cursor (a hyphen or the point of an abbreviation may stand between its words); moves
/// behind it. Sizes in digits count as words: "5-gallon bucket".
[[nodiscard]] std::optional<Unit> read_unit(Cursor& cursor);
/// A degree sign, or "degrees", "degree", "deg".
bool take_degrees(Cursor& cursor);
/// A vessel that people give a size: bag, sack, box, crate, bucket, pail, basket, carton, lug, pack; or its plural.
[[nodiscard]] bool is_sizeable(std::string_view word);
/// Every spelling, for suggestions.
[[nodiscard]] std::vector<std::string> unit_spellings();

inline constexpr double kSecondsPerYear = 31'556'952;  // mean Gregorian year, 365.2425 days

}  // namespace stillroom::measure::detail
