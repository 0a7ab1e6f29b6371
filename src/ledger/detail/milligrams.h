#pragma once

#include <cmath>
#include <cstdint>

#include "measure/quantity.h"

/// The ledger counts mass in whole milligrams, so that what went in and what came out balance exactly.
namespace stillroom::ledger::detail {

/// No household weighs out more than this at once (100 t): a fact that says more is a slip.
inline constexpr double kMostAtOnceKg = 1e5;
/// And no sum in its book reaches this (4 million t); below it a double still tells every milligram apart.
inline constexpr double kMostKilograms = 4e9;

[[nodiscard]] inline std::int64_t milligrams(measure::Mass m) {
  const double kg = measure::in_kilograms(m);
  if (!(std::abs(kg) <= kMostKilograms)) return kg > 0 ? std::int64_t{4'000'000'000'000'000} : 0;
  return std::llround(kg * 1e6);
}
[[nodiscard]] inline measure::Mass from_milligrams(std::int64_t mg) {
  return measure::kilograms(static_cast<double>(mg) / 1e6);
}
/// To the nearest milligram.
[[nodiscard]] inline measure::Mass rounded(measure::Mass m) { return from_milligrams(milligrams(m)); }

}  // namespace stillroom::ledger::detail
