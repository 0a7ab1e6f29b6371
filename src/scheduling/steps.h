#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <vector>

namespace stillroom::scheduling {

/// A moment or a length of time in minutes (in periods for the public project instances). Any sign; the caller fixes
/// the origin. Moments stay within +-5*10^8, so that sums never overflow.
using Time = std::int32_t;
/// An amount of a resource in whole units that the caller fixes (burners, hundredths of a litre, cents, ...).
using Amount = std::int32_t;

/// "Not possible" as the answer of a fit, and "for ever" as the end of a reservation.
inline constexpr Time kNever = std::numeric_limits<Time>::max();
/// Before every moment a caller may use.
inline constexpr Time kEarliest = -2'000'000'000;

class StepFunction;

/// Index of the last step with `from` <= t. Range: the first step begins at or before t. Halves without branching:
/// the searches ask this more than anything else, and a processor cannot guess the answers.
template <class Step>
[[nodiscard]] std::size_t last_not_after(const std::vector<Step>& steps, Time t) {
  const Step* at = steps.data();
  for (std::size_t n = steps.size(); n > 1;) {
    const std::size_t half = n / 2;
    at += static_cast<std::size_t>(at[half].from <= t) * half;
    n -= half;
  }
  return static_cast<std::size_t>(at - steps.data());
}

/// Journal of every change made to the step functions of one builder, in order. Rolling back to a mark restores all of
/// them exactly, breakpoints included, at a cost that depends on the undone changes only: a builder keeps a mark per
/// position of its list and re-decodes from the first changed position.
/// Holds addresses: the profiles must not move while the log has entries. Copying a builder copies plain values; give
/// the copy a log of its own.
class UndoLog {
 public:
  using Mark = std::size_t;
  [[nodiscard]] Mark mark() const { return entries_.size(); }
  /// Undoes every change made since `mark`, last first. Range: mark <= mark(); asserts otherwise.
  void rollback(Mark mark);
  /// Forgets the entries without undoing: what was reserved stays.
  void commit() { entries_.clear(); }

 private:
  friend class StepFunction;
  struct Entry {
    StepFunction* steps;
    Time from, to;
    Amount delta, only_if_base;
    bool inserted_from, inserted_to;
  };
  std::vector<Entry> entries_;
};

/// Integer step function of time held as breakpoints: cost depends on what happens, not on the length of the horizon.
/// Each step also remembers the `base` value it began with (the calendar), so that breaks can be told from full use.
/// No allocation once the vectors have grown to their working size. Held by tests/scheduling/profile_test.cpp.
class StepFunction {
 public:
  struct Step {
    Time from;
    Amount value;
    Amount base;
    bool operator==(const Step&) const = default;
  };

  /// `value` at all times.
  explicit StepFunction(Amount value);
  /// Appends a step; `from` must lie after every step so far. For building only, never after add().
  void append(Time from, Amount value);

  /// Adds `delta` over [from, to), on steps whose base is at least `only_if_base`; to = kNever means for ever.
  void add(Time from, Time to, Amount delta, Amount only_if_base, UndoLog& log);
  /// As above on every step.
  void add(Time from, Time to, Amount delta, UndoLog& log) {
    add(from, to, delta, std::numeric_limits<Amount>::min(), log);
  }

  [[nodiscard]] Amount at(Time t) const { return steps_[index(t)].value; }
  /// Least value over [from, to); to = kNever means for ever. Range: from < to.
  [[nodiscard]] Amount lowest(Time from, Time to) const;
  /// Earliest t in [from, latest] with value >= amount all over [t, t + duration); kNever if there is none.
  /// A duration of 0 needs nothing and fits at `from`.
  [[nodiscard]] Time earliest_during(Time from, Time duration, Amount amount, Time latest) const;
  /// Earliest t in [from, latest] with value >= amount from t on for ever; kNever if there is none.
  [[nodiscard]] Time earliest_from_on(Time from, Amount amount, Time latest) const;

  [[nodiscard]] const std::vector<Step>& steps() const { return steps_; }
  /// Index of the step that holds at `t`.
  [[nodiscard]] std::size_t index(Time t) const { return last_not_after(steps_, t); }

 private:
  friend class UndoLog;
  void undo(const UndoLog::Entry& entry);
  std::vector<Step> steps_;
};

}  // namespace stillroom::scheduling
