#pragma once

#include "cli/verbs.h"

/// `stillroom recipe`: tested recipes, scaled.
namespace stillroom::cli {

void add_recipe(CLI::App& cli_app, Action& chosen);

}  // namespace stillroom::cli
