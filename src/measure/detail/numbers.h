#pragma once

#include <optional>

#include "measure/detail/tokens.h"
#include "measure/result.h"

namespace stillroom::measure::detail {

/// A number as found: digits, fractions or words.
struct NumberRead {
  double value = 0;
  bool about = false;     ///< "about", "~" stood before it
  bool negative = false;  ///< value is already below zero
  bool article = false;   ///< it was only "a" or "an"
};

/// Reads a number at the cursor and moves behind it, with the "of a" of "half of a". Nothing (cursor unmoved) when
/// there is none. Refuses with "bad_number" and "amount_range".
[[nodiscard]] Result<std::optional<NumberRead>> read_number(Cursor& cursor);

/// "a half", "half", "three quarters", "1/2", "½": the fraction after "and".
[[nodiscard]] std::optional<double> read_fraction(Cursor& cursor);

/// Value of a number token, thousands commas checked.
[[nodiscard]] Result<double> digits_value(std::string_view text);
/// One to nineteen, or the tens, by word.
[[nodiscard]] std::optional<int> number_word(std::string_view word);

}  // namespace stillroom::measure::detail
