#pragma once

#include <optional>

#include "process/detail/phrase.h"
#include "process/process.h"

namespace stillroom::process::detail {

/// A denied food or practice that was misspelt: the deny row, and the words as they were probably meant.
struct NearDenial {
  const almanac::DenyRow* row = nullptr;
  std::string meant;
};

/// Reads each word the tables do not know as the nearest that they do (at most a third of its letters off, words of
/// four letters and more), and asks the deny list again. Where several words are equally near, a denied one counts.
/// Nothing when every word is known, or nothing denied is near. Only ever refuses: an unknown word is never offered a
/// row.
[[nodiscard]] std::optional<NearDenial> near_denial(const almanac::Almanac& almanac, const Question& q,
                                                    const Phrase& phrase);

}  // namespace stillroom::process::detail
