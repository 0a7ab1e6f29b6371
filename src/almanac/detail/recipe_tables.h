#pragma once

#include <optional>

#include "almanac/recipes.h"

namespace stillroom::almanac::detail {

/// The small tables beside the recipes, each into its place in the book; the recipes are there already. Refuses with
/// "bad_table" naming file, row and column.
[[nodiscard]] std::optional<measure::Refusal> read_beside_recipes(RecipeBook& book, const Crops& crops,
                                                                  const ProcessTable& processes,
                                                                  const RecipeFile& file);

}  // namespace stillroom::almanac::detail
