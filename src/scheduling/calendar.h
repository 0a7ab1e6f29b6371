#pragma once

#include <span>
#include <vector>

#include "measure/result.h"
#include "scheduling/steps.h"

namespace stillroom::scheduling {

/// When a resource may be used and by how much: capacity as steps of time, and working time across breaks.
/// Immutable once made. Capacity is 0 before the first step; the last step holds for ever, so that a calendar over a
/// horizon ends with a step of capacity 0. Held by tests/scheduling/calendar_test.cpp.
class Calendar {
 public:
  struct Step {
    Time from;
    Amount capacity;
    bool operator==(const Step&) const = default;
  };
  struct Window {
    Time from, to;
    bool operator==(const Window&) const = default;
  };

  /// Refuses (code "bad_calendar") steps that are not strictly ascending, negative capacity, moments beyond +-5*10^8.
  [[nodiscard]] static measure::Result<Calendar> from_steps(std::span<const Step> steps);
  /// `capacity` inside the windows, 0 outside. Windows may touch or overlap (they are joined, not summed) and come in
  /// any order. Refuses (code "bad_calendar") a window that ends before it begins, or a negative capacity.
  [[nodiscard]] static measure::Result<Calendar> from_windows(std::span<const Window> windows, Amount capacity);
  /// The same capacity at all times. Range: capacity >= 0.
  [[nodiscard]] static Calendar always(Amount capacity);

  [[nodiscard]] Amount capacity_at(Time t) const;
  /// Earliest moment >= t with capacity >= amount; kNever if there is none.
  [[nodiscard]] Time next_open(Time t, Amount amount) const;
  /// Minutes of [from, to) in which capacity >= amount. Range: from <= to < kNever, amount > 0. O(log steps).
  [[nodiscard]] Time working_time(Time from, Time to, Amount amount) const;
  /// Moment at which `work` minutes of working time (capacity >= amount) have passed since `start`: never inside a
  /// break; equal to `start` for work 0. kNever if the calendar does not hold that much. O(log steps + steps
  /// worked through).
  [[nodiscard]] Time finish_of(Time start, Time work, Amount amount) const;

  /// The earliest moment >= t with capacity >= amount, and the moment at which `work` minutes of working time have
  /// passed since: next_open and finish_of at once. `to` is kNever if the calendar does not hold that much, both if it
  /// is never open again. Range: work > 0, amount > 0. O(log steps + steps worked through).
  [[nodiscard]] Window working_window(Time t, Time work, Amount amount) const;

  [[nodiscard]] const std::vector<Step>& steps() const { return steps_; }
  /// Index of the step that holds at `t`.
  [[nodiscard]] std::size_t index(Time t) const { return last_not_after(steps_, t); }

 private:
  /// Working time up to each step for one capacity level; open(i) = steps_[i].capacity >= level.
  struct Level {
    Amount capacity;
    std::vector<Time> worked;
  };
  explicit Calendar(std::vector<Step> steps);
  [[nodiscard]] const Level* level_for(Amount amount) const;
  [[nodiscard]] Time worked_until(const Level& level, Time t) const;

  std::vector<Step> steps_;
  std::vector<Level> levels_;  ///< ascending, one per distinct positive capacity
};

}  // namespace stillroom::scheduling
