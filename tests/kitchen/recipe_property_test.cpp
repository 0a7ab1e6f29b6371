#include <rapidcheck/gtest.h>

#include <algorithm>

#include "kitchen/detail/recipe_measures.h"
#include "kitchen/recipe.h"
#include "kitchen_almanac.h"

// Whatever the amount: nothing is weaker than printed, and nothing is further off than one mark of a spoon or a cup.
namespace stillroom::kitchen {
namespace {

constexpr double kTiny = 1e-9;

/// The widest step between two marks at that amount, in the ingredient's unit.
double widest_mark(double amount, const almanac::Ingredient& i, measure::Units units) {
  if (i.unit == "each") return 1;
  if (const auto tsp = detail::teaspoons_in(i.unit)) {
    const double t = amount * *tsp;
    if (units == measure::Units::metric) return 10 / 4.92 / *tsp;
    return (t >= 96 ? 12 : t >= 24 ? 3 : t >= 3 ? 1.5 : 0.25) / *tsp;
  }
  const double pound = i.unit == "oz" ? 16 : 1;
  return (units == measure::Units::metric ? 0.0221 : 0.25) * pound;
}

const ScaledRecipe* scaled_at_random(std::optional<ScaledRecipe>& into, measure::Units& units) {
  const auto& all = the_almanac().recipes.recipes;
  const auto& r = all[*rc::gen::inRange<std::size_t>(0, all.size())];
  units = *rc::gen::element(measure::Units::us, measure::Units::metric);
  ScaleWish wish;
  wish.units = units;
  measure::Amount amount;
  amount.value = r.base().amount.low * *rc::gen::inRange(10, 900) / 77.0;
  wish.amount = amount;
  auto s = scale_recipe(the_almanac(), r, wish);
  if (!s) {
    RC_ASSERT(s.error().code == "too_little" || s.error().code == "less_than_a_batch");
    return nullptr;
  }
  into = std::move(*s);
  return &*into;
}

/// Measured against the base, beside the printed range: {least, most} of ingredient per base.
almanac::Span printed_ratio(const almanac::Recipe& r, const almanac::Ingredient& i) {
  const auto& base = r.base().amount;
  return {i.amount.low / base.high, i.amount.high / base.low};
}

RC_GTEST_PROP(ScaledRecipe, IsNeverWeakerThanPrinted, ()) {
  std::optional<ScaledRecipe> kept;
  measure::Units units{};
  const auto* s = scaled_at_random(kept, units);
  if (s == nullptr) return;
  const auto& r = *s->recipe;
  const double base = s->lines.front().measured.low;
  for (const auto& line : s->lines) {
    const auto& i = *line.ingredient;
    if (i.base) continue;
    const auto ratio = printed_ratio(r, i);
    const bool gels = r.kind == "jelly" || r.kind == "jam" || r.kind == "syrup" || r.kind == "butter";
    const bool salted = r.kind == "ferment" || r.kind == "brine";
    if (i.role == "acid" || i.role == "pectin" || (i.role == "sugar" && gels) || (i.role == "salt" && salted))
      RC_ASSERT(line.measured.low >= base * ratio.low * (1 - kTiny));
    if (i.role == "water" || i.role == "low_acid" || i.role == "oil" || i.role == "food")
      RC_ASSERT(line.measured.high <= base * ratio.high * (1 + kTiny));
  }
}

/// The acid per pound of low-acid food, and per cup of water, is never less than printed.
RC_GTEST_PROP(ScaledRecipe, HoldsAtLeastThePrintedAcidToEverythingThatThinsIt, ()) {
  std::optional<ScaledRecipe> kept;
  measure::Units units{};
  const auto* s = scaled_at_random(kept, units);
  if (s == nullptr) return;
  for (const auto& acid : s->lines) {
    if (acid.ingredient->role != "acid") continue;
    for (const auto& thin : s->lines) {
      const auto& role = thin.ingredient->role;
      if (role != "water" && role != "low_acid" && role != "food" && role != "oil") continue;
      if (thin.ingredient->amount.low <= 0 || thin.measured.high <= 0) continue;
      const double printed = acid.ingredient->amount.low / thin.ingredient->amount.high;
      RC_ASSERT(acid.measured.low / thin.measured.high >= printed * (1 - kTiny));
    }
  }
}

RC_GTEST_PROP(ScaledRecipe, IsWithinOneMarkOfTheProportion, ()) {
  std::optional<ScaledRecipe> kept;
  measure::Units units{};
  const auto* s = scaled_at_random(kept, units);
  if (s == nullptr) return;
  for (const auto& line : s->lines) {
    const double mark = widest_mark(line.exact.high, *line.ingredient, units);
    RC_ASSERT(std::abs(line.measured.low - line.exact.low) <= mark + kTiny);
    RC_ASSERT(std::abs(line.measured.high - line.exact.high) <= mark + kTiny);
    RC_ASSERT(!line.said.empty());
  }
}

RC_GTEST_PROP(ScaledRecipe, HoldsAllOfTheBaseAndNoPotMoreThanItMay, ()) {
  std::optional<ScaledRecipe> kept;
  measure::Units units{};
  const auto* s = scaled_at_random(kept, units);
  if (s == nullptr) return;
  const auto& r = *s->recipe;
  const double pot = s->lines.front().measured.low;
  if (r.most) RC_ASSERT(pot <= *r.most * (1 + 1e-6));
  RC_ASSERT(pot * s->pots <= s->base * (1 + 1e-6));
  if (r.scale != almanac::Scaling::whole) {
    RC_ASSERT(pot * s->pots >= s->base * (1 - 1e-6));
  } else {
    RC_ASSERT(s->base - pot * s->pots < r.base().amount.low);
  }
}

}  // namespace
}  // namespace stillroom::kitchen
