#pragma once

#include <string>

#include "almanac/detail/route_labour.h"
#include "almanac/routes.h"

namespace stillroom::almanac::detail {

/// What is wrong with a route by the rules of the trade, as one sentence; empty when it stands. Holds: durations above
/// zero, quality and shares within 0..1, lags in order, known stock, equipment, rooms and crops, no canned food past
/// its prime, age floors, nothing hot or pressed left alone, unattended work only on equipment made for it, every
/// placeholder known, a heat process only where `may_process` and then with its canner.
[[nodiscard]] std::string fault_in(const Route& route, const Crops& crops, const Supplies& supplies, bool may_process);

}  // namespace stillroom::almanac::detail
