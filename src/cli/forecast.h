#pragma once

#include "cli/verbs.h"

/// Verbs that look ahead without changing anything: a season rehearsed, what would come of a change.
namespace stillroom::cli {

void add_forecasts(CLI::App& cli_app, Action& chosen);

}  // namespace stillroom::cli
