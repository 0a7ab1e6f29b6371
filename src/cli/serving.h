#pragma once

#include "cli/verbs.h"

namespace stillroom::cli {

/// `serve`: the pages, on this machine and with --share on its home network.
void add_serving(CLI::App& cli_app, Action& chosen);
/// `devices`: those that are paired; withdraw one; a new passphrase.
void add_devices(CLI::App& cli_app, Action& chosen);

}  // namespace stillroom::cli
