#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>

#include "kitchen/detail/amounts.h"
#include "kitchen_almanac.h"

// However much goes in: what is said of acid, salt and water keeps the published proportion to what is said of the
// food.
namespace stillroom::kitchen {
namespace {

constexpr double kFloat = 1e-6;

bool is_acid(std::string_view item) { return item == "vinegar_l" || item == "lemon_juice_l"; }

/// Routes whose safety hangs on proportions: acid in the recipe, or several crops in one recipe.
const std::vector<const almanac::Route*>& measured_routes() {
  static const std::vector<const almanac::Route*> kAll = [] {
    std::vector<const almanac::Route*> all;
    for (const almanac::Route& r : the_almanac().routes.all()) {
      const bool acid = std::ranges::any_of(r.stages, [](const almanac::Stage& s) {
        return std::ranges::any_of(s.stock, [](const auto& use) { return is_acid(use.item); });
      });
      if (acid || !r.many_lot_with.empty()) all.push_back(&r);
    }
    return all;
  }();
  return kAll;
}

/// kg, litres: what a sentence such as "2¼ cups" or "1½ tbsp (27 g)" asks to be measured out.
double measured_out(std::string said) {
  said = said.substr(0, said.find(" ("));
  const auto amount = measure::parse_amount(said);
  RC_ASSERT(amount.has_value());
  return amount->kind == measure::AmountKind::volume ? measure::in_litres(amount->volume())
                                                     : measure::in_kilograms(amount->mass());
}

/// The food as a stage says it.
double food_said(double kg, const detail::Scale& scale) {
  almanac::Stage only;
  only.instruction = "{amount}";
  RC_ASSERT(scale.kg == kg);
  return measured_out(detail::filled_instruction(only, scale));
}

detail::Scale scaled(const almanac::Route& r, double kg, measure::Units units) {
  return {.kg = kg,
          .loads = almanac::loads_for(r, kg),
          .packs = kg / r.kg_in_per_pack,
          .pack = r.pack,
          .load_kg = r.load_kg > 0 ? r.load_kg : kg,
          .units = units};
}

void holds_its_proportions(const almanac::Route& r, double kg, measure::Units units) {
  const detail::Scale scale = scaled(r, kg, units);
  const double food = food_said(kg, scale);
  RC_ASSERT(std::abs(food - kg) <= 0.05 * kg + 0.01);
  const double base = r.load_kg > 0 ? r.load_kg : r.kg_in_per_pack;
  for (const almanac::Stage& stage : r.stages) {
    for (const auto& use : stage.stock) {
      if (!is_acid(use.item)) continue;
      const double printed = use.amount.at(base, 1) / base;
      RC_ASSERT(use.amount.at(kg, scale.loads) / kg >= printed * (1 - kFloat));
      almanac::Stage only;
      only.stock = {use};
      only.instruction = "{" + use.item.substr(0, use.item.size() - 2) + "}";
      const double said = measured_out(detail::filled_instruction(only, scale));
      RC_ASSERT(said >= printed * std::max(food, kg) * (1 - kFloat));
      const std::string line = detail::to_gather(only, scale).at(0);  // "2¼ cups of 5 % vinegar"
      RC_ASSERT(measured_out(line.substr(0, line.find(" of "))) == said);
    }
  }
  for (std::size_t i = 0; i < r.many_lot_with.size(); ++i) {
    const double beside = measured_out(detail::say_beside(kg * r.many_lot_kg[i], units));
    RC_ASSERT(beside <= kg * r.many_lot_kg[i] * (1 + kFloat));
    RC_ASSERT(beside >= kg * r.many_lot_kg[i] * 0.9 - 0.03);
  }
}

RC_GTEST_PROP(ScaledRoute, NeverHoldsLessAcidToItsFoodThanPublished, ()) {
  const auto& all = measured_routes();
  const almanac::Route& r = *all[*rc::gen::inRange<std::size_t>(0, all.size())];
  const double span = *rc::gen::inRange(0, 10'000) / 10'000.0;
  const auto units = *rc::gen::element(measure::Units::us, measure::Units::metric);
  holds_its_proportions(r, r.batch_min_kg + span * (r.batch_max_kg - r.batch_min_kg), units);
}

TEST(ScaledRoute, KeepsItsProportionsAtItsEnds) {
  EXPECT_GE(measured_routes().size(), 100U);
  for (const almanac::Route* r : measured_routes()) {
    SCOPED_TRACE(r->key);
    for (const auto units : {measure::Units::us, measure::Units::metric})
      for (const double kg : {r->batch_min_kg, r->load_kg > 0 ? 1.013 * r->load_kg : 1.3, r->batch_max_kg})
        EXPECT_NO_THROW(holds_its_proportions(*r, kg, units));
  }
}

/// The salt of a ferment is what keeps it: never less than published for the food as said.
RC_GTEST_PROP(ScaledFerment, NeverHoldsLessSaltThanPublished, ()) {
  std::vector<const almanac::Route*> all;
  for (const almanac::Route& r : the_almanac().routes.all())
    if (std::ranges::find(r.stages, "ferment", &almanac::Stage::key) != r.stages.end()) all.push_back(&r);
  RC_ASSERT(!all.empty());
  const almanac::Route& r = *all[*rc::gen::inRange<std::size_t>(0, all.size())];
  const double kg = r.batch_min_kg + *rc::gen::inRange(0, 1000) / 1000.0 * (r.batch_max_kg - r.batch_min_kg);
  const auto units = *rc::gen::element(measure::Units::us, measure::Units::metric);
  for (const almanac::Stage& stage : r.stages) {
    for (const auto& use : stage.stock) {
      if (use.item != "salt_kg") continue;
      almanac::Stage only;
      only.stock = {use};
      only.instruction = "{salt_g}";
      const auto scale = scaled(r, kg, units);
      std::string digits = detail::filled_instruction(only, scale);
      std::erase(digits, ',');
      const double grams = std::stod(digits);
      RC_ASSERT(grams + 0.05 >= 1000 * use.amount.at(std::max(kg, food_said(kg, scale)), scale.loads) *
                                    (1 - kFloat));  // a twentieth of a gram is dust
      only.instruction = "{salt}";
      const double spoons = measured_out(detail::filled_instruction(only, scale));
      const double litres = use.amount.at(kg, scale.loads) / 0.018 * measure::in_litres(measure::us_tablespoons(1));
      if (units == measure::Units::us) RC_ASSERT(spoons >= litres * (1 - kFloat) && spoons <= litres * 1.13 + 0.0075);
    }
  }
}

}  // namespace
}  // namespace stillroom::kitchen
