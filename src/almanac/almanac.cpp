#include "almanac/almanac.h"

namespace stillroom::almanac {

measure::Result<Almanac> load_almanac() {
  auto crops = load_crops();
  if (!crops) return tl::unexpected(crops.error());
  auto processes = load_process_table(*crops);
  if (!processes) return tl::unexpected(processes.error());
  auto tables = load_tables(*crops);
  if (!tables) return tl::unexpected(tables.error());
  auto routes = load_routes(*crops);
  if (!routes) return tl::unexpected(routes.error());
  auto recipes = load_recipes(*crops, *processes);
  if (!recipes) return tl::unexpected(recipes.error());
  return Almanac{std::move(*crops), std::move(*processes), std::move(*tables), std::move(*routes), std::move(*recipes)};
}

}  // namespace stillroom::almanac
