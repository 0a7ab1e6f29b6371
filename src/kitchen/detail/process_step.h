#pragma once

#include <functional>

#include "kitchen/batch.h"

/// What the published process adds to a card. Inside kitchen/ only.
namespace stillroom::kitchen::detail {

/// Puts the row's time, pressure, headspace, acid and requirements into the steps of `card` (whose `process` is set):
/// everything but the canner's own into the step before the canner. The step at the canner becomes three (heat,
/// process, lift), and each canner load goes its own way through them, from filling to rest, under keys of its own
/// ("process:2"). `fill_for(load)` makes the filling step of a load, from 0, with that load's amounts and packs.
void add_process(BatchCard& card, const almanac::ProcessTable& table, const std::function<Step(int)>& fill_for);

}  // namespace stillroom::kitchen::detail
