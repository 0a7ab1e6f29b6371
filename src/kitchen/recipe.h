#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "almanac/almanac.h"
#include "measure/amount.h"

/// Tested recipes made larger or smaller, and nothing else about them changed. Data: data/recipes. No heat process is
/// made here: a canned recipe names the process that process/ chooses.
namespace stillroom::kitchen {

/// One ingredient of one pot.
struct RecipeLine {
  const almanac::Ingredient* ingredient = nullptr;
  almanac::Span exact;     ///< what the proportion gives, in the ingredient's unit
  almanac::Span measured;  ///< to what spoons, cups and scales measure, on the safe side; the base as it is
  std::string said;        ///< "2¼ cups", "¾ to 1 cup"
};

struct ScaledRecipe {
  const almanac::Recipe* recipe = nullptr;
  std::string base_said;          ///< all of the base: "12 cups of juice"
  double base = 0;                ///< the same in the base's unit
  std::string how;                ///< how it was found where it was not said in that unit, with the source; else empty
  int pots = 1;                   ///< cooked one after the other, all alike
  std::vector<RecipeLine> lines;  ///< of one pot
  std::string left_over;          ///< what no whole batch takes, and what becomes of it; else empty
  std::optional<almanac::Span> yield;  ///< of all pots
};

struct ScaleWish {
  std::optional<measure::Amount> amount;  ///< of the base, or of the crop it is made from; empty = as printed
  std::string crop;                       ///< what a bushel is weighed as; empty = the recipe's first crop
  bool one_pot = false;                   ///< all of it in one pot
  measure::Units units = measure::Units::us;
};

/// Keeps every proportion of the recipe. Rounding never weakens it: acid, pectin, and the salt of a ferment go up to
/// the next measure, sugar of what gels goes up, water, oil and low-acid food go down, the rest to the nearest. More
/// than a pot may hold is split into like pots; a recipe of whole batches takes whole batches. Refuses: "not_doubled"
/// (one pot asked for more than it may hold), "less_than_a_batch", "too_little" (below an eighth of the printed batch),
/// "wrong_unit" (cups of a recipe by weight, or the other way round, where nothing published joins them).
[[nodiscard]] measure::Result<ScaledRecipe> scale_recipe(const almanac::Almanac& almanac, const almanac::Recipe& recipe,
                                                         const ScaleWish& wish);

/// The row that allows the change asked for in a person's words. Refuses "change_not_allowed" with the row's own way
/// on, and "change_not_tested" for whatever is not on the list: a tested recipe is changed only as published.
[[nodiscard]] measure::Result<const almanac::RecipeChange*> allowed_change(const almanac::Almanac& almanac,
                                                                           const almanac::Recipe& recipe,
                                                                           std::string_view words);

/// Where a gel without added pectin is done: a test by thermometer, not a heat process.
struct GelTest {
  std::string said;  ///< "214 °F, the published row for 3,000 ft; ..."
  std::optional<double> gel_f, row_ft;
  std::string source;
};
/// The nearer published row (of two equally near the lower, which is the hotter). Without an altitude, below the sea or
/// more than 500 ft above the table: no figure, and how to find it: 8 degF above where water boils in that kitchen
/// (USDA AIB-539 Guide 7).
[[nodiscard]] GelTest gel_test(const almanac::RecipeBook& book, std::optional<measure::Altitude> altitude,
                               measure::Units units);

/// Salt for that much water so that salt is `percent` of the brine by weight (0 to 26, definition).
[[nodiscard]] measure::Result<measure::Mass> salt_for_brine(measure::Mass water, double percent);

}  // namespace stillroom::kitchen
