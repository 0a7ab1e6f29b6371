#pragma once

#include "cli/verbs.h"

namespace stillroom::cli {

/// The verb `batch`: one batch from its lots to packs, the open ones, and the card to print.
void add_batch(CLI::App& cli_app, Action& chosen);
/// The verbs `timers` and `timer`: those that run or are over, one of your own, and stopping one.
void add_timers(CLI::App& cli_app, Action& chosen);

}  // namespace stillroom::cli
