#pragma once

#include <optional>
#include <string>

#include "cli/verbs.h"

namespace stillroom::cli {

/// The verb `learned`: own figures beside the published ones.
void add_learned(CLI::App& cli_app, Action& chosen);

/// What the household's own batches say of a crop, when there is a household's file to look into.
[[nodiscard]] std::optional<app::LearnedView> learned_of(Context& c, const std::string& crop);
/// The lines for a terminal; empty when there are none.
[[nodiscard]] std::string to_text(const app::LearnedView& v);

}  // namespace stillroom::cli
