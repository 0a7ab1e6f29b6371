#pragma once

#include "cli/verbs.h"

namespace stillroom::cli {

/// The verb `butcher`: what a butchering day comes to, and bringing the birds in.
void add_butcher(CLI::App& cli_app, Action& chosen);

}  // namespace stillroom::cli
