#pragma once

#include "planning/impossible.h"

namespace stillroom::planning::detail {

/// Other work that fits nowhere before its deadline whatever else is left undone.
void find_work_clashes(const Household& h, std::vector<Clash>& out);
/// Works with deadlines that ask for more hours together than there are before one of them; those in `out` are left
/// out.
void find_hour_clashes(const Household& h, std::vector<Clash>& out);

}  // namespace stillroom::planning::detail
