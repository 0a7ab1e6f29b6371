#pragma once

#include <vector>

#include "app/views.h"
#include "ledger/state.h"
#include "measure/time.h"

namespace stillroom::app::detail {

/// Every timer that was set and not stopped, the one due first in front; those that are over stay until they are
/// stopped.
[[nodiscard]] std::vector<TimerView> timers_of(const ledger::State& state, measure::Instant now);

}  // namespace stillroom::app::detail
