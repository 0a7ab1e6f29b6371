#pragma once

#include "app/app.h"

namespace stillroom::service::detail {

/// A batch that is not begun yet, as its page will show it: every step "later" but the first, no id, no timers running.
/// Refuses when the frozen card cannot be read.
[[nodiscard]] measure::Result<app::BatchView> draft_card(const app::House& house, measure::Instant now,
                                                         const ledger::BatchStarted& draft);

}  // namespace stillroom::service::detail
