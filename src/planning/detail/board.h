#pragma once

#include <deque>
#include <vector>

#include "planning/detail/project.h"
#include "scheduling/level_profile.h"
#include "scheduling/profile.h"
#include "scheduling/stock_profile.h"

namespace stillroom::planning::detail {

/// What can be left out when asking why something does not fit.
struct Relaxed {
  bool people = false, equipment = false, stock = false, room = false;
};

/// The state of everything shared while a list is being placed: people, equipment, stock, room, length of days.
/// Every change can be undone in reverse order, so a list is placed again only from where it differs.
class Board {
 public:
  explicit Board(const Project& project);
  Board(const Board&) = delete;
  Board& operator=(const Board&) = delete;

  struct Mark {
    scheduling::UndoLog::Mark log;
    std::size_t cells;
  };
  [[nodiscard]] Mark mark() const { return {log_.mark(), cells_.size()}; }
  void rollback(Mark m);

  /// One stage to be put somewhere: what it needs at which size.
  struct Demand {
    const StageSpec* spec = nullptr;
    double kg = 0, minutes = 0;  ///< working minutes
    int loads = 1;
    bool counts_as_job = false;  ///< for the one-job day
    int job = -1;                ///< owner, for the one-job day
    bool batch_work = true;      ///< batch stages and trips pay effort by the hour, other work only by the day's length
    bool contiguous = false;     ///< one piece of work that is split: no breaks inside
  };
  struct Slot {
    Time start = kNever, end = kNever;
    const Team* team = nullptr;
    [[nodiscard]] bool fits() const { return start != kNever; }
  };
  /// Earliest finishing slot with start in [from, latest].
  [[nodiscard]] Slot earliest(const Demand& demand, Time from, Time latest = kNever - 1);
  /// The slot of these hands (Team::mask) that starts then, if it fits.
  [[nodiscard]] Slot at(const Demand& demand, Time start, std::uint32_t hands);
  /// Takes what a slot found by earliest() needs.
  void reserve(const Demand& demand, const Slot& slot) { apply(demand, slot, 1); }
  /// Gives it back, whatever was reserved since.
  void release(const Demand& demand, const Slot& slot) { apply(demand, slot, -1); }
  /// Whether stock at the horizon and cumulative room allow a stage beyond it.
  [[nodiscard]] bool fits_beyond(const Demand& demand) const;
  /// Takes (sign 1) or gives back (-1) that stock and room.
  void apply_beyond(const Demand& demand, int sign);

  /// Keeps everything as it is: no mark taken before may be rolled back to.
  void commit();
  /// Back to the state before anything was placed; profiles lose the breakpoints that releases leave behind.
  void reset();

  /// Earliest start in [from, latest] of an unbroken run of `length` by this team.
  [[nodiscard]] Time earliest_run(const Demand& demand, const Team& team, Time length, Time from, Time latest) {
    return prepare(demand, from) ? whole_fit(demand, team, length, soonest_, latest) : kNever;
  }
  /// How far [from, from + most) is free for all of a team within the day's length, on the grain.
  [[nodiscard]] Time free_run(const Demand& demand, const Team& team, Time from, Time most);

  /// Most kg of a stage demand that stock, room and daily limits could ever allow, given fixed loads.
  [[nodiscard]] double most_kg(const StageSpec& spec, int loads) const;

  [[nodiscard]] scheduling::StockProfile& stock(int item) { return now_.stocks[static_cast<std::size_t>(item)]; }
  [[nodiscard]] scheduling::LevelProfile& room(int room) { return now_.rooms[static_cast<std::size_t>(room)]; }
  /// No room is fuller than it may be. Placing sees to that; taking out does not: food that is not taken after all
  /// stays in the room it would have left.
  [[nodiscard]] bool rooms_hold() const {
    return std::all_of(now_.rooms.begin(), now_.rooms.end(),
                       [](const auto& room) { return room.lowest_free(0, kNever) >= 0; });
  }
  [[nodiscard]] scheduling::UndoLog& log() { return log_; }

  /// Weighted minutes in thousandths of a person on a day.
  [[nodiscard]] Amount worked(int person, int day) const { return now_.worked[cell(person, day)]; }
  [[nodiscard]] Amount batch_worked(int person, int day) const { return now_.batch_worked[cell(person, day)]; }

  Relaxed relaxed;

 private:
  [[nodiscard]] std::size_t cell(int person, int day) const {
    return static_cast<std::size_t>(person) * static_cast<std::size_t>(days_) + static_cast<std::size_t>(day);
  }
  void apply(const Demand& demand, const Slot& slot, int sign);
  void set(Amount& cell, Amount value) {
    cells_.push_back({&cell, cell});
    cell = value;
  }
  // Looking for a slot: prepare() once for a demand, then team by team.
  [[nodiscard]] bool prepare(const Demand& demand, Time from);
  Slot earliest_of(const Demand& demand, const Team& team, Time length, Time from, Time latest);
  Time whole_fit(const Demand& demand, const Team& team, Time length, Time from, Time latest);
  scheduling::Placement paused_fit(const Demand& demand, const Team& team, Time length, Time from, Time latest);
  [[nodiscard]] Time after_limits(const Demand& demand, const Team& team, Time start, Time end) const;
  [[nodiscard]] Time after_day_lengths(const Demand& demand, const Team& team, Time start, Time end) const;
  [[nodiscard]] Time after_rooms(const Demand& demand, Time start, Time end) const;
  template <class Each>
  void each_working_piece(const Demand& demand, const Team& team, Time start, Time end, Each&& each) const;

  /// Everything that placing changes.
  struct State {
    std::vector<scheduling::Profile> hands, equipment;
    std::vector<scheduling::StockProfile> stocks;
    std::vector<scheduling::LevelProfile> rooms;
    std::vector<Amount> day_rooms;             ///< room x day: taken
    std::vector<Amount> worked, batch_worked;  ///< hand x day
    Amount one_job = -1;                       ///< owner of the one-job day
  };

  const Project& project_;
  int days_;
  std::vector<scheduling::Profile> windows_;
  std::deque<scheduling::Calendar> always_;  ///< of the equipment
  std::vector<Amount> day_limit_;            ///< per room
  std::vector<Amount> day_most_;             ///< per hand
  State now_, empty_;
  scheduling::UndoLog log_;
  struct Cell {
    Amount* at;
    Amount before;
  };
  std::vector<Cell> cells_;
  // Scratch of prepare(): what everybody who could do it meets alike.
  Time soonest_ = 0;                     ///< start at which stock is there
  Time ends_from_ = 0;                   ///< end at which there is room
  std::vector<scheduling::Need> needs_;  ///< places for a team's own, then the window, then equipment
};

}  // namespace stillroom::planning::detail
