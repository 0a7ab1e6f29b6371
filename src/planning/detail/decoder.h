#pragma once

#include <vector>

#include "planning/detail/board.h"

/// Turns an ordered list of jobs into a schedule that breaks nothing: each job in turn goes to the earliest place that
/// is left for it, or nowhere. Placing again reuses everything before the first job that differs.
namespace stillroom::planning::detail {

struct Part {
  int lot = -1;
  double kg = 0;
  bool operator==(const Part&) const = default;
};

enum class JobKind : std::uint8_t { batch, hold, other, trip };

/// One wish of a list. Sizes are upper wishes: a batch shrinks to what is left of lots, stock and room.
struct Job {
  JobKind kind = JobKind::batch;
  int what = 0;  ///< batch: route; hold: place; other: index
  int size = 0;
  std::array<Part, kMostParts> parts{};  ///< hold: parts[0].lot
  Time not_before = 0;                   ///< of the first own stage (picking may come before), hold, work, trip
  bool operator==(const Job& o) const {
    return kind == o.kind && what == o.what && size == o.size && not_before == o.not_before &&
           std::equal(parts.begin(), parts.begin() + size, o.parts.begin());
  }
  void add(int lot, double kg) { parts[static_cast<std::size_t>(size++)] = {lot, kg}; }
  [[nodiscard]] double kg() const {
    double sum = 0;
    for (int i = 0; i < size; ++i) sum += parts[static_cast<std::size_t>(i)].kg;
    return sum;
  }
  [[nodiscard]] bool has(int lot) const {
    for (int i = 0; i < size; ++i)
      if (parts[static_cast<std::size_t>(i)].lot == lot) return true;
    return false;
  }
};
using JobList = std::vector<Job>;

/// What became of a part: its share and quality when the batch starts.
struct PlacedPart {
  int lot = 0;
  double kg = 0, usable = 1, quality = 1;
  Source source = Source::lot;
  int pool = -1;
  bool main = true;
  Time taken = 0;   ///< when it leaves its lot or pool
  Time picked = 0;  ///< end of its picking; 0 for what is in hand
};

struct PlacedJob {
  bool placed = false;
  double kg = 0;
  int loads = 1;
  int size = 0;
  std::array<PlacedPart, kMostParts> parts{};
  int first_slot = 0, picks = 0, stages = 0;  ///< slots in Decoder::slots(): pickings, then own stages
  double amount = 0;                          ///< quality-weighted product, kg
  Time start = kNever;                        ///< of the first own stage, hold, work or trip
};

struct Purchase {
  int trip = 0;  ///< position in the list
  int item = 0;
  Amount amount = 0;
  double cost = 0;
};

/// A held pool as it stands.
struct HeldPool {
  bool active = false;
  Time ready = 0;
  double mass = 0, taken = 0, usable_at_start = 1, quality = 1;
  Fade fade;
};

class Decoder {
 public:
  explicit Decoder(const Project& project);
  Decoder(const Decoder&) = delete;
  Decoder& operator=(const Decoder&) = delete;

  /// Places the list; afterwards placed(i) tells what became of list[i].
  void decode(const JobList& list);
  /// Places one job more at the end and reports it; undo_last() takes it away again.
  const PlacedJob& append(const Job& job);
  void undo_last();

  [[nodiscard]] const Project& project() const { return project_; }
  [[nodiscard]] const JobList& list() const { return jobs_; }
  [[nodiscard]] const PlacedJob& placed(std::size_t i) const { return placed_[i]; }
  [[nodiscard]] const std::vector<Board::Slot>& slots() const { return slots_; }
  [[nodiscard]] const std::vector<Purchase>& purchases() const { return purchases_; }
  [[nodiscard]] const Board& board() const { return board_; }
  [[nodiscard]] const Fade& fade(int lot) const { return lots_[static_cast<std::size_t>(lot)].fade; }
  [[nodiscard]] const HeldPool& held(int pool) const { return held_[static_cast<std::size_t>(pool)]; }
  /// Gross kg of the lot itself taken by batches so far.
  [[nodiscard]] double taken(int lot) const;
  [[nodiscard]] long schedules() const { return schedules_; }
  /// For diagnosis only; clears what was placed.
  void relax(const Relaxed& relaxed);

 private:
  struct Take {
    Time at;
    double kg;
  };
  struct LotState {
    Fade fade;
    std::vector<Take> takes;
  };
  /// One stage of the batch being placed.
  struct Link {
    Board::Demand demand;
    Board::Slot slot;
    Time lower = 0;  ///< never before
    Board::Mark mark{};
  };

  void place(const Job& job);
  void undo(std::size_t position);
  bool place_batch(const Job& job, PlacedJob& out);
  bool place_hold(const Job& job, PlacedJob& out);
  bool place_other(const Job& job, PlacedJob& out);
  bool place_trip(const Job& job, PlacedJob& out);
  bool split_by(const Board::Demand& demand, const Team& team, Time from, Time most, std::vector<Board::Slot>& out);

  bool gather_parts(const Job& job, const RouteSpec& route, PlacedJob& out) const;
  bool fit_size(const RouteSpec& route, PlacedJob& out);
  void buy_for(const RouteSpec& route, const PlacedJob& out);
  bool place_chain(const Job& job, const RouteSpec& route, PlacedJob& out, Time pick_from);
  bool place_picks(PlacedJob& out, Time pick_from, Time& picked);
  bool place_stages(const RouteSpec& route, PlacedJob& out, Time lower);
  bool place_beyond(const RouteSpec& route, const PlacedJob& out, std::size_t from_stage);
  [[nodiscard]] Time accepted_from(const RouteSpec& route, const PlacedJob& out, Time start) const;
  [[nodiscard]] Time hazard_limit(const PlacedJob& out) const;
  void settle_parts(const RouteSpec& route, PlacedJob& out) const;
  /// Scales the batch down to what is left of every part at its time; true when nothing had to give.
  [[nodiscard]] bool enough_left(const RouteSpec& route, PlacedJob& out) const;
  void take_parts(const Job& job, const RouteSpec& route, PlacedJob& out);
  void leave_room(int lot, Time at, double kg);
  [[nodiscard]] double available(const PlacedPart& part, Time at) const;
  [[nodiscard]] double usable(const PlacedPart& part, Time t) const;
  [[nodiscard]] int condition(const PlacedPart& part, Time t) const;
  [[nodiscard]] Board::Demand stage_demand(const StageSpec& spec, const PlacedJob& out) const;

  const Project& project_;
  Board board_;
  std::vector<LotState> lots_;
  std::vector<HeldPool> held_;
  std::vector<scheduling::StockProfile> by_products_;
  std::vector<double> money_;  ///< spent per week
  JobList jobs_;
  std::vector<PlacedJob> placed_;
  struct Before {
    Board::Mark mark;
    std::size_t slots, purchases;
  };
  std::vector<Before> before_;
  std::vector<Board::Slot> slots_;
  std::vector<Purchase> purchases_;
  std::vector<Link> links_;                 ///< scratch
  std::vector<Board::Slot> pieces_, best_;  ///< scratch
  long schedules_ = 0;
};

}  // namespace stillroom::planning::detail
