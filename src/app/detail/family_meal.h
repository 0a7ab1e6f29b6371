#pragma once

#include <optional>

#include "almanac/routes.h"
#include "app/app.h"
#include "app/detail/settings.h"

/// Meal-size packs follow the family.
namespace stillroom::app::detail {

/// Adult appetites that `meal_lb` of data/routes is a meal for: common practice, five eighths of a pound bone-in each.
inline constexpr double kTableMeal = 4;

/// How this family's meal compares with the tables', between a quarter and three times (what a gallon bag takes and a
/// freezer freezes through); 1 while nobody is entered.
[[nodiscard]] double meal_share(const ledger::State& state);
/// The route with packs of one meal for `share` of the tables' table; as it is when it packs no meals. More meals to
/// the pack are fewer bags; what is put by is the same.
[[nodiscard]] almanac::Route for_family(almanac::Route route, double share);
/// Kilograms of one meal as the route packs it; nothing for a route that packs no meals.
[[nodiscard]] std::optional<double> meal_kg(const almanac::Route& route);

}  // namespace stillroom::app::detail
