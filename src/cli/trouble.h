#pragma once

#include "cli/verbs.h"

namespace stillroom::cli {

/// The verb `trouble`: what can have gone wrong, what to do now, and writing it down.
void add_trouble(CLI::App& cli_app, Action& chosen);

}  // namespace stillroom::cli
