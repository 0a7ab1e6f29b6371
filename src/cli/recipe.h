#pragma once

#include <string>

#include "cli/open.h"
#include "cli/verbs.h"
#include "kitchen/recipe_sheet.h"

/// `stillroom recipe`: tested recipes, scaled.
namespace stillroom::cli {

/// The altitude given, else the household's where there is one; its units. Loads the almanac.
[[nodiscard]] measure::Result<kitchen::RecipePlace> place_of(Context& c, const std::string& altitude);

void add_recipe(CLI::App& cli_app, Action& chosen);

}  // namespace stillroom::cli
