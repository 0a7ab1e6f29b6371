#pragma once

#include <span>

#include "scheduling/calendar.h"

namespace stillroom::scheduling {

/// Start and finish of one placed activity; start = kNever when it fits nowhere.
struct Placement {
  Time start = kNever, finish = kNever;
  [[nodiscard]] bool fits() const { return start != kNever; }
  bool operator==(const Placement&) const = default;
};

/// Capacity of one renewable resource (a person, burners, a canner) left over time: its calendar less what is
/// reserved. Event-based: cost grows with reservations and calendar steps, not with minutes.
/// An amount is in the resource's own unit and covers the whole of an activity's time [start, start + duration).
/// A *pausable* activity counts its duration in working time: it stops over breaks (calendar capacity below its amount)
/// and goes on after them; during working time nothing else may take its share.
/// Holds the address of the calendar, which must outlive it. Changes go through an UndoLog (steps.h).
/// Page docs/science/scheduling.md; held by tests/scheduling/profile_test.cpp.
class Profile {
 public:
  explicit Profile(const Calendar& calendar);

  /// Earliest start in [from, latest] at which `amount` is free throughout [start, start + duration), calendar
  /// included; kNever if there is none. Duration 0 fits at `from`.
  [[nodiscard]] Time earliest_fit(Time from, Time duration, Amount amount, Time latest = kNever - 1) const {
    return free_.earliest_during(from, duration, amount, latest);
  }
  /// Earliest placement of a pausable activity of `work` working minutes with start in [from, latest]; it starts in
  /// working time. finish - start may exceed `work` by the breaks between. Range: work > 0, amount > 0.
  [[nodiscard]] Placement earliest_pausable_fit(Time from, Time work, Amount amount, Time latest = kNever - 1) const;

  /// Takes `amount` over [start, start + duration). The caller has asked earliest_fit first: not checked again here.
  void reserve(Time start, Time duration, Amount amount, UndoLog& log) {
    free_.add(start, start + duration, -amount, log);
  }
  /// Takes `amount` over the working time of [start, finish), leaving breaks alone.
  void reserve_pausable(Placement p, Amount amount, UndoLog& log) {
    free_.add(p.start, p.finish, -amount, amount, log);
  }
  /// Gives back what reserve took, in any order (rolling the log back is cheaper when it was the last).
  void release(Time start, Time duration, Amount amount, UndoLog& log) {
    free_.add(start, start + duration, amount, log);
  }
  void release_pausable(Placement p, Amount amount, UndoLog& log) { free_.add(p.start, p.finish, amount, amount, log); }

  [[nodiscard]] Amount free_at(Time t) const { return free_.at(t); }
  /// Least free amount over [from, to). Range: from < to.
  [[nodiscard]] Amount lowest_free(Time from, Time to) const { return free_.lowest(from, to); }
  [[nodiscard]] const Calendar& calendar() const { return *calendar_; }

 private:
  const Calendar* calendar_;
  StepFunction free_;
};

/// One resource that an activity, or a block of activities with fixed offsets, needs: `amount` over
/// [start + offset, start + offset + duration). Range: offset >= 0, duration >= 0.
struct Need {
  const Profile* profile = nullptr;
  Amount amount = 0;
  Time offset = 0;
  Time duration = 0;
};

/// Earliest start in [from, latest] at which every need fits at once; kNever if there is none. Stages that must follow
/// each other without slack (blanch, chill, into the freezer) are placed as one block through their offsets.
[[nodiscard]] Time earliest_joint_fit(std::span<const Need> needs, Time from, Time latest = kNever - 1);

/// Earliest placement of a pausable activity led by `lead` (its breaks decide when work stops), while every one of
/// `throughout` is held from start to finish, breaks included (their offset and duration are ignored).
[[nodiscard]] Placement earliest_joint_pausable_fit(const Profile& lead, Amount amount, Time work,
                                                    std::span<const Need> throughout, Time from,
                                                    Time latest = kNever - 1);

}  // namespace stillroom::scheduling
