#include "kitchen/detail/recipe_measures.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "measure/quantity.h"
#include "measure/text.h"

namespace stillroom::kitchen::detail {

namespace {

using almanac::Span;
using measure::Units;

constexpr double kSmidgen = 1e-6;  // of a step: 3.0000001 tablespoons are three
constexpr double kWritten = 0.01;  // of a teaspoon: the table writes a third as 0.3333
constexpr double kMlPerTsp = 4.92892159375;
constexpr double kGramsPerPound = 453.59237;

double whole_steps(double v, double step, Rounding how) {
  const double n = v / step;
  return step * (how == Rounding::up     ? std::ceil(n - kSmidgen)
                 : how == Rounding::down ? std::floor(n + kSmidgen)
                                         : std::round(n));
}

/// Of two rulers the mark that lies nearer to `v` on the side asked for.
double nearer_mark(double v, double one, double other, Rounding how) {
  const double a = whole_steps(v, one, how), b = whole_steps(v, other, how);
  return std::abs(a - v) <= std::abs(b - v) + kSmidgen ? a : b;
}

double measurable_tsp(double tsp, Rounding how) {
  constexpr double kQuarterCup = 12, kThirdCup = 16, kTablespoon = 3, kHalfCup = 24, kTwoCups = 96;
  if (tsp >= kTwoCups) return nearer_mark(tsp, kQuarterCup, kThirdCup, how);
  if (tsp >= kHalfCup) return nearer_mark(tsp, kTablespoon, kThirdCup, how);
  if (tsp >= kQuarterCup) return nearer_mark(tsp, kTablespoon / 2, kThirdCup, how);
  return tsp >= kTablespoon ? whole_steps(tsp, kTablespoon / 2, how) : whole_steps(tsp, 0.25, how);
}

double measurable_ml(double ml, Rounding how) { return whole_steps(ml, ml >= 100 ? 10 : ml >= 15 ? 5 : 1, how); }

double pounds_in_unit(std::string_view unit) { return unit == "oz" ? 1.0 / 16 : 1.0; }

std::string say_cups(double tsp) {
  constexpr double kCup = 48, kTablespoon = 3;
  const double cups = std::floor((tsp + kWritten) / kCup);
  const double rest = tsp - cups * kCup;
  constexpr std::array<std::pair<double, const char*>, 6> kParts{
      {{0, ""}, {12, "¼"}, {16, "⅓"}, {24, "½"}, {32, "⅔"}, {36, "¾"}}};
  const std::string whole = cups > 0 ? fmt::format("{:.0f}", cups) : "";
  for (const auto& [part, sign] : kParts) {
    if (std::abs(rest - part) < kWritten) return whole + sign + (tsp <= kCup + kSmidgen ? " cup" : " cups");
  }
  const auto spoons = measure::say_number(rest / kTablespoon) + " tbsp";
  if (cups == 0) return spoons;
  return whole + (cups == 1 ? " cup " : " cups ") + spoons;
}

std::string say_us_volume(double tsp) {
  if (tsp >= 12 - kSmidgen) return say_cups(tsp);
  return tsp >= 3 - kSmidgen ? measure::say_number(tsp / 3) + " tbsp" : measure::say_number(tsp) + " tsp";
}

std::string say_ml(double ml) {
  return ml < 1000 ? fmt::format("{:.0f} ml", ml) : fmt::format("{:g} L", std::round(ml) / 1000);
}

std::string say_weight(double pounds, Units units) {
  if (units == Units::metric) {
    const double g = pounds * kGramsPerPound;
    return g < 1000 ? fmt::format("{:.0f} g", g) : fmt::format("{:g} kg", std::round(g) / 1000);
  }
  if (pounds >= 1 - kSmidgen) return measure::say_number(pounds) + " lb";
  return measure::say_number(pounds * 16) + " oz";
}

}  // namespace

Rounding rounding_for(const almanac::Recipe& recipe, const almanac::Ingredient& ingredient) {
  const auto& role = ingredient.role;
  const bool gels = recipe.kind == "jelly" || recipe.kind == "jam" || recipe.kind == "syrup" || recipe.kind == "butter";
  const bool keeps_by_salt = recipe.kind == "ferment" || recipe.kind == "brine";
  if (role == "acid" || role == "pectin" || role == "calcium") return Rounding::up;
  if (role == "sugar") return gels ? Rounding::up : Rounding::nearest;
  if (role == "salt") return keeps_by_salt ? Rounding::up : Rounding::nearest;
  return Rounding::down;  // water, oil and food thin the acid out
}

std::optional<double> teaspoons_in(std::string_view unit) {
  constexpr std::array<std::pair<std::string_view, double>, 5> kVolumes{
      {{"tsp", 1}, {"tbsp", 3}, {"cup", 48}, {"qt", 192}, {"gal", 768}}};
  const auto* it = std::ranges::find(kVolumes, unit, &std::pair<std::string_view, double>::first);
  if (it == kVolumes.end()) return std::nullopt;
  return it->second;
}

double measurable(double amount, std::string_view unit, Rounding how, Units units) {
  if (unit == "each") return whole_steps(amount, 1, how);
  if (const auto tsp = teaspoons_in(unit)) {
    if (units == Units::us) return measurable_tsp(amount * *tsp, how) / *tsp;
    return measurable_ml(amount * *tsp * kMlPerTsp, how) / (*tsp * kMlPerTsp);
  }
  const double pounds = amount * pounds_in_unit(unit);
  if (units == Units::metric)
    return whole_steps(pounds * kGramsPerPound, 10, how) / kGramsPerPound / pounds_in_unit(unit);
  return whole_steps(pounds, pounds >= 1 ? 0.25 : 1.0 / 16 / 4, how) / pounds_in_unit(unit);
}

std::string say_measure(double amount, std::string_view unit, Units units) {
  if (amount <= 0) return "none";
  if (unit == "each") return measure::say_number(amount);
  if (const auto tsp = teaspoons_in(unit))
    return units == Units::us ? say_us_volume(amount * *tsp) : say_ml(amount * *tsp * kMlPerTsp);
  return say_weight(amount * pounds_in_unit(unit), units);
}

std::string say_printed(Span amount, std::string_view unit, Units units) {
  const bool other = unit != "cup" && unit != "each" && teaspoons_in(unit);
  if (units == Units::metric || !other) return say_measures(amount, unit, units);
  const auto number = [](double v) { return measure::say_number(v); };
  const auto high = number(amount.high) + " " + std::string(unit);
  return amount.high - amount.low < kSmidgen ? high : number(amount.low) + " to " + high;
}

std::string say_measures(Span amount, std::string_view unit, Units units) {
  const auto high = say_measure(amount.high, unit, units);
  if (amount.high - amount.low < kSmidgen) return high;
  auto low = say_measure(amount.low, unit, units);
  // "3 to 4 cups" rather than "3 cups to 4 cups".
  const auto noun = high.rfind(' ');
  if (noun != std::string::npos && low.ends_with(high.substr(noun))) low.resize(low.size() - (high.size() - noun));
  return low + " to " + high;
}

}  // namespace stillroom::kitchen::detail
