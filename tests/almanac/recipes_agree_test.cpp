#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <map>

#include "almanac/almanac.h"
#include "measure/amount.h"

// A tested recipe stands in data/recipes, for the kitchen, and as a route in data/routes, for the plan. Both are copies
// of the publication named in their rows, made apart: here they are held to each other.
namespace stillroom::almanac {
namespace {

const Almanac& both_copies() {
  static const Almanac all = load_almanac().value();
  return all;
}

/// What decides between safe and not: what both copies print of it.
const std::map<std::string, std::string> kWordOf{{"vinegar_l", "vinegar"},
                                                 {"lemon_juice_l", "lemon"},
                                                 {"sugar_kg", "sugar"},
                                                 {"salt_kg", "salt"},
                                                 {"water_l", "water"}};
/// Cups to the cup, tablespoon, teaspoon and quart.
const std::map<std::string, double> kCups{{"cup", 1}, {"tbsp", 1.0 / 16}, {"tsp", 1.0 / 48}, {"qt", 4}};

/// Cups of each in one load of the route, which is a whole recipe or a stated part of one.
std::map<std::string, double> cups_in_load(const Route& route) {
  const double cup = measure::in_litres(measure::us_cups(1));
  std::map<std::string, double> cups;
  const auto add = [&](const std::string& use, const Scaled& amount) {
    const auto word = kWordOf.find(use);
    if (word == kWordOf.end() || amount.per_kg <= 0) return;
    // Sugar by 0.2 kg to the cup and canning salt by 18 g to the tablespoon, as routes.cpp weighs them.
    const double per_cup = use == "sugar_kg" ? 0.2 : use == "salt_kg" ? 0.018 * 16 : cup;
    cups[word->second] = amount.per_kg * route.load_kg / per_cup;
  };
  for (const Stage& s : route.stages) {
    for (const StockUse& u : s.stock) add(u.item, u.amount);
    for (const NamedAmount& a : s.amounts) add(a.name, a.amount);
  }
  return cups;
}

/// Printed batches that a load is, as far as this ingredient can tell.
struct Part {
  double low = 0, high = 0;
};

std::optional<Part> part_by(const Ingredient& i, const Route& route, const std::map<std::string, double>& cups) {
  if (i.base && i.unit == "lb") {
    const double lb = measure::in_pounds(measure::kilograms(route.load_kg));
    return Part{lb / i.amount.high, lb / i.amount.low};
  }
  const auto unit = kCups.find(i.unit);
  if (unit == kCups.end()) return std::nullopt;
  for (const auto& [word, amount] : cups) {
    if (i.item.find(word) == std::string::npos) continue;
    return Part{amount / (i.amount.high * unit->second), amount / (i.amount.low * unit->second)};
  }
  return std::nullopt;
}

TEST(RecipesAgree, OnAcidSaltSugarAndWaterToTheFood) {
  constexpr double kRounding = 1.01;  // printed thirds, salt weighed
  int held = 0, figures = 0;
  for (const Route& route : both_copies().routes.all()) {
    if (!route.process) continue;
    const auto cups = cups_in_load(route);
    for (const Recipe& recipe : both_copies().recipes.recipes) {
      if (recipe.process.empty() || recipe.process != route.process->id) continue;
      Part all{0, 1e9};
      int told = 0;
      for (const Ingredient& i : recipe.ingredients) {
        const auto part = part_by(i, route, cups);
        if (!part) continue;
        ++told;
        all.low = std::max(all.low, part->low / kRounding);
        all.high = std::min(all.high, part->high * kRounding);
      }
      EXPECT_LE(all.low, all.high) << route.key << " and " << recipe.key << " differ in their proportions";
      held += told > 0 ? 1 : 0;
      figures += told;
    }
  }
  // Fewer would mean that the copies are no longer found beside each other.
  EXPECT_GE(held, 85);
  EXPECT_GE(figures, 190);
}

}  // namespace
}  // namespace stillroom::almanac
