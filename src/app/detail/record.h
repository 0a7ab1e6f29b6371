#pragma once

#include <string>

#include "app/app.h"

/// Making and appending entries.
namespace stillroom::app::detail {

[[nodiscard]] ledger::Entry entry_now(House& h, Instant now, ledger::Payload what);
/// Appends one live entry unless it is barred (app/detail/barred.h); the answer is `made` (the id a caller goes on
/// with).
[[nodiscard]] Result<std::string> record(House& h, Instant now, ledger::Payload what, std::string made);

}  // namespace stillroom::app::detail
