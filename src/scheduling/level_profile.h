#pragma once

#include "scheduling/calendar.h"

namespace stillroom::scheduling {

/// Room that fills up: a freezer, a shelf, a cellar. Capacity may step over time (a calendar; space known to come
/// free); what is put in stays from a moment on, for ever or until a known moment. Unit fixed by the caller. Changes go
/// through an UndoLog (steps.h). Held by tests/scheduling/stock_level_test.cpp.
class LevelProfile {
 public:
  explicit LevelProfile(const Calendar& capacity);

  /// Earliest t in [from, latest] from which `amount` fits for ever; kNever if there is none.
  [[nodiscard]] Time earliest_keep(Time from, Amount amount, Time latest = kNever - 1) const {
    if (amount <= 0) return from <= latest ? from : kNever;
    return free_.earliest_from_on(from, amount, latest);
  }
  /// Earliest t in [from, latest] at which `amount` fits over [t, t + duration); kNever if there is none.
  [[nodiscard]] Time earliest_keep_during(Time from, Time duration, Amount amount, Time latest = kNever - 1) const {
    return free_.earliest_during(from, duration, amount, latest);
  }
  /// Fills `amount` over [from, to); to = kNever: for ever. Not checked again.
  void keep(Time from, Time to, Amount amount, UndoLog& log) { free_.add(from, to, -amount, log); }
  /// Gives back what keep filled, in any order.
  void release(Time from, Time to, Amount amount, UndoLog& log) { free_.add(from, to, amount, log); }

  [[nodiscard]] Amount free_at(Time t) const { return free_.at(t); }
  /// Least free room over [from, to); to = kNever: for ever.
  [[nodiscard]] Amount lowest_free(Time from, Time to) const { return free_.lowest(from, to); }

 private:
  StepFunction free_;
};

}  // namespace stillroom::scheduling
