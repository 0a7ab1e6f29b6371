#pragma once

#include <span>
#include <vector>

#include "scheduling/steps.h"

namespace stillroom::scheduling {

/// A store that is drawn down: jars, lids, sugar, money. Amount on hand over time = opening stock + arrivals + what is
/// put in - what is taken out, and never below 0.
/// A withdrawal placed later in the list but earlier in time must leave enough for every withdrawal already promised:
/// an amount can be taken at t only if the level stays at or above it from t on for ever.
/// Unit fixed by the caller. Changes go through an UndoLog (steps.h). Held by tests/scheduling/stock_level_test.cpp.
class StockProfile {
 public:
  struct Arrival {
    Time at;
    Amount amount;
  };
  /// Range: opening >= 0, arrival amounts >= 0; any order.
  StockProfile(Amount opening, std::span<const Arrival> arrivals);

  /// Earliest t in [from, latest] at which `amount` can be taken without starving a promised withdrawal; kNever if
  /// none.
  [[nodiscard]] Time earliest_take(Time from, Amount amount, Time latest = kNever - 1) const {
    if (amount <= 0) return from <= latest ? from : kNever;
    return level_.earliest_from_on(from, amount, latest);
  }
  /// Takes `amount` at t. Not checked again: ask earliest_take first.
  void take(Time t, Amount amount, UndoLog& log) { level_.add(t, kNever, -amount, log); }
  /// Puts `amount` in at t (a shopping trip, a product); also gives back an earlier take.
  void put(Time t, Amount amount, UndoLog& log) { level_.add(t, kNever, amount, log); }

  [[nodiscard]] Amount level_at(Time t) const { return level_.at(t); }
  /// What could be taken at t without starving a promised withdrawal.
  [[nodiscard]] Amount available_from(Time t) const { return level_.lowest(t, kNever); }

 private:
  StepFunction level_;
};

}  // namespace stillroom::scheduling
