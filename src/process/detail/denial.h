#pragma once

#include "almanac/process_table.h"
#include "process/detail/phrase.h"
#include "process/process.h"

namespace stillroom::process::detail {

/// The deny row that speaks against what was asked, by food, form, pack, jar or an odd canner; nullptr when none does.
[[nodiscard]] const almanac::DenyRow* denied(const almanac::ProcessTable& table, const Question& q,
                                             const Phrase& phrase);

/// True for the canner words a Question may hold.
[[nodiscard]] bool is_known_canner(std::string_view canner);

}  // namespace stillroom::process::detail
