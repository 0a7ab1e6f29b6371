#pragma once

#include "almanac/crops.h"
#include "almanac/process_table.h"
#include "almanac/recipes.h"
#include "almanac/routes.h"
#include "almanac/tables.h"
#include "measure/result.h"

namespace stillroom::almanac {

/// Everything published, loaded and validated once. Immutable afterwards.
struct Almanac {
  Crops crops;
  ProcessTable processes;
  Tables tables;
  RouteBook routes;
  RecipeBook recipes = {};
};

/// Loads the compiled-in data. A fault in a table is a Refusal that names file, row and column.
[[nodiscard]] measure::Result<Almanac> load_almanac();

}  // namespace stillroom::almanac
