#pragma once

#include <string>
#include <vector>

#include "almanac/routes.h"
#include "measure/amount.h"

/// Amounts of a scaled batch as a person measures them out. Inside kitchen/ only.
namespace stillroom::kitchen::detail {

/// What one batch is scaled to.
struct Scale {
  double kg = 0;
  int loads = 1;
  double packs = 0;
  std::string pack;
  double load_kg = 0;  ///< of a full load; the whole batch where the route has no loads
  measure::Units units = measure::Units::us;
};

/// The stage's instruction with every {placeholder} filled in.
[[nodiscard]] std::string filled_instruction(const almanac::Stage& stage, const Scale& scale);
/// What to lay ready: "7 quart jars and 1 spare", "7 lids", "2¼ cups of sugar", "boiling-water canner".
[[nodiscard]] std::vector<std::string> to_gather(const almanac::Stage& stage, const Scale& scale);
/// Stock or named amount ("sugar_kg", "vinegar_l", "water_l", "lid") as said. Acids and salt go up to the next measure
/// and water down, so that no rounding weakens a brine; everything else to the nearest.
[[nodiscard]] std::string say_measured(const std::string& name, double amount, measure::Units units);
/// What a recipe takes beside its own crop, down to the next mark of a scale: onions never outgrow their acid.
[[nodiscard]] std::string say_beside(double kg, measure::Units units);
/// 0.5 -> "½", 1.25 -> "1¼", 0.125 -> "⅛": headspaces as printed.
[[nodiscard]] std::string say_inches(double inches);

}  // namespace stillroom::kitchen::detail
