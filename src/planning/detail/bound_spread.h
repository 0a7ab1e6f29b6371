#pragma once

#include "planning/detail/bound_flows.h"

namespace stillroom::planning::detail {

/// Work that must lie on given days, spread over them: uses that span up to three days are held to every stretch of up
/// to three days they lie in whole (for intervals of days that is the same as giving each its days); longer ones may be
/// done on any day from their first. `done(day, column)` is told the columns that stand for the work of each day of
/// [0, last_day].
template <class Done>
void spread_uses(LinearProgram& lp, const std::vector<DayUse>& uses, int last_day, double most, const Done& done) {
  constexpr int kShort = 3;
  const auto is_short = [&](const DayUse& u) { return u.last - u.first < kShort && u.last <= last_day; };
  bool any_short = false, any_long = false;
  double all = 1;
  for (const DayUse& u : uses) {
    all += u.rate * lp.most(u.column);
    (is_short(u) ? any_short : any_long) = true;
  }
  std::vector<int> quick, slow, waiting;
  for (int day = 0; day <= last_day; ++day) {
    if (any_short) quick.push_back(lp.column(most));
    if (any_short) done(day, quick.back());
    if (any_long) slow.push_back(lp.column(most));
    if (any_long) done(day, slow.back());
    if (any_long) waiting.push_back(lp.column(day < last_day ? all : 0));
  }
  for (int length = 1; any_short && length <= kShort; ++length)
    for (int from = 0; from + length - 1 <= last_day; ++from) {
      const int to = from + length - 1;
      const auto inside = [&](const DayUse& u) { return is_short(u) && u.first >= from && u.last <= to; };
      if (std::none_of(uses.begin(), uses.end(),
                       [&](const DayUse& u) { return inside(u) && (u.first == from) && (u.last == to); }))
        continue;
      const int row = lp.row(0, LinearProgram::kFree);
      for (int day = from; day <= to; ++day) lp.add(row, quick[static_cast<std::size_t>(day)], 1);
      for (const DayUse& u : uses)
        if (inside(u)) lp.add(row, u.column, -u.rate);
    }
  for (int day = 0; any_long && day <= last_day; ++day) {
    // What waits in the evening is at least what waited in the morning and what has come up, less what is done.
    const int row = lp.row(0, LinearProgram::kFree);
    lp.add(row, waiting[static_cast<std::size_t>(day)], 1);
    if (day > 0) lp.add(row, waiting[static_cast<std::size_t>(day - 1)], -1);
    lp.add(row, slow[static_cast<std::size_t>(day)], 1);
    for (const DayUse& u : uses)
      if (!is_short(u) && u.first == day) lp.add(row, u.column, -u.rate);
  }
}

}  // namespace stillroom::planning::detail
