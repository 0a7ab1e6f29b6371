#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "almanac/recipes.h"
#include "measure/amount.h"

/// Spoons, cups and scales. Inside kitchen/ only.
namespace stillroom::kitchen::detail {

enum class Rounding { up, down, nearest };

/// How this ingredient of this recipe is rounded so that nothing gets weaker.
[[nodiscard]] Rounding rounding_for(const almanac::Recipe& recipe, const almanac::Ingredient& ingredient);

/// Teaspoons in one unit of volume; nothing for "lb", "oz", "each".
[[nodiscard]] std::optional<double> teaspoons_in(std::string_view unit);

/// `amount` in `unit` to the next thing that can be measured. us: quarter and third cups from two cups up, tablespoons
/// and third cups from half a cup up, half tablespoons below, quarter teaspoons below one tablespoon; quarter
/// pounds, ounces below one pound. metric: 10 ml, 5 ml below 100 ml, 1 ml below 15 ml; 10 g. Things are counted whole.
[[nodiscard]] double measurable(double amount, std::string_view unit, Rounding how, measure::Units units);
/// "2¼ cups", "1 cup 3 tbsp", "2½ tbsp", "1¼ tsp", "2¾ lb", "5 oz", "6"; metric "120 ml", "1.25 kg".
[[nodiscard]] std::string say_measure(double amount, std::string_view unit, measure::Units units);
/// As the recipe prints it, in its own unit where a household measures so: "8 tsp", "7 qt".
[[nodiscard]] std::string say_printed(almanac::Span amount, std::string_view unit, measure::Units units);
[[nodiscard]] std::string say_measures(almanac::Span amount, std::string_view unit, measure::Units units);

}  // namespace stillroom::kitchen::detail
