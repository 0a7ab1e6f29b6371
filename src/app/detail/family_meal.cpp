#include "app/detail/family_meal.h"

#include <algorithm>

namespace stillroom::app::detail {
namespace {

constexpr std::string_view kMealAmount = "meal_kg";

}  // namespace

double meal_share(const ledger::State& state) {
  const Settings settings = settings_of(state);
  if (state.people.empty() && settings.eaters <= 0) return 1;
  return std::clamp(eaters_of(state, settings) / kTableMeal, 0.25, 3.0);
}

std::optional<double> meal_kg(const almanac::Route& route) {
  for (const almanac::Stage& stage : route.stages) {
    for (const almanac::NamedAmount& amount : stage.amounts) {
      if (amount.name == kMealAmount) return amount.amount.fixed;
    }
  }
  return std::nullopt;
}

almanac::Route for_family(almanac::Route route, double share) {
  if (!meal_kg(route)) return route;
  route.kg_in_per_pack *= share;
  for (almanac::Stage& stage : route.stages) {
    for (almanac::NamedAmount& amount : stage.amounts) {
      if (amount.name == kMealAmount) amount.amount.fixed *= share;
    }
    for (almanac::StockUse& use : stage.stock) {
      if (use.item.starts_with("freezer_bag")) use.amount.per_kg /= share;
    }
  }
  return route;
}

}  // namespace stillroom::app::detail
