#pragma once

#include <optional>
#include <string>

#include "app/app.h"

/// Making and appending entries.
namespace stillroom::app::detail {

[[nodiscard]] ledger::Entry entry_now(House& h, Instant now, ledger::Payload what);
/// Why a live entry is not taken up: what it brings in, has standing, needs or put by before is a food that the almanac
/// does not have (code "unknown_food"). The book itself knows foods by their keys only, and keeps facts whatever they
/// name.
[[nodiscard]] std::optional<measure::Refusal> unknown_food(const almanac::Almanac& almanac,
                                                           const ledger::Payload& what);
/// Appends one live entry; the answer is `made` (the id a caller goes on with).
[[nodiscard]] Result<std::string> record(House& h, Instant now, ledger::Payload what, std::string made);

}  // namespace stillroom::app::detail
