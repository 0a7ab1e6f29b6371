#pragma once

#include "kitchen/batch.h"

/// What the published process adds to a card. Inside kitchen/ only.
namespace stillroom::kitchen::detail {

/// Puts the row's time, pressure, headspace, acid and requirements into the steps of `card` (whose `process` is set):
/// the canner's own into the step at the canner, everything else into the step before it.
void add_process(BatchCard& card, const almanac::ProcessTable& table);

}  // namespace stillroom::kitchen::detail
