#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kitchen/recipe.h"

/// The answers of `stillroom recipe` and of the recipe pages: one recipe scaled, or what is on file for a crop, or the
/// list of all.
namespace stillroom::kitchen {

/// The words as typed; empty = not given.
struct RecipeWords {
  std::string name;    ///< a recipe's key or name, or a crop
  std::string amount;  ///< "12 cups", "20 lb", "1 bushel"; a bare number counts in the recipe's own unit
  std::string change;  ///< a change asked about: "less vinegar"
  bool one_pot = false;
};

/// What the household brings to the question.
struct RecipePlace {
  std::optional<measure::Altitude> altitude;
  measure::Units units = measure::Units::us;
};

struct RecipeAnswer {
  std::vector<std::string> lines;  ///< for the terminal, indented by their depth, not yet wrapped
  std::string json;                ///< one object; docs/api/openapi.yaml: Recipe, RecipeCrop, RecipeList, Brine
};

/// One recipe with its amounts, order of work, what may be changed, and the answer of process/ for this altitude; for a
/// crop's name the crop's recipes, acid, drying, blanching and freezing. Refuses ("unknown_recipe", and what
/// scale_recipe and allowed_change refuse).
[[nodiscard]] measure::Result<RecipeAnswer> recipe_answer(const almanac::Almanac& almanac, const RecipeWords& words,
                                                          const RecipePlace& place);

/// Every recipe by kind, the syrups and the strengths of brines.
[[nodiscard]] RecipeAnswer recipe_list(const almanac::Almanac& almanac, measure::Units units);

/// Salt for a brine by weight: `water` as typed ("2 qt", "1 kg"), percent of the brine.
[[nodiscard]] measure::Result<RecipeAnswer> brine_answer(const almanac::Almanac& almanac, std::string_view water,
                                                         double percent, measure::Units units);

}  // namespace stillroom::kitchen
