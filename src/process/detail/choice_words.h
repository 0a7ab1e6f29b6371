#pragma once

#include <string>

#include "process/process.h"

/// The parts of a choice as a card says them.
namespace stillroom::process::detail {

/// 0.25 -> "1/4", 1.25 -> "1-1/4": headspaces as printed.
[[nodiscard]] std::string inches_in_words(double inches);
/// "Pear, halves (hot pack)".
[[nodiscard]] std::string title_in_words(const Choice& c);

}  // namespace stillroom::process::detail
