#pragma once

#include <vector>

#include "planning/detail/board.h"

/// A schedule that never breaks a rule: jobs are put in at the earliest place that is left for them, or not at all, and
/// can be taken out again in any order. What was done since a mark can be undone exactly.
namespace stillroom::planning::detail {

struct Part {
  int lot = -1;
  double kg = 0;
  bool operator==(const Part&) const = default;
};

enum class JobKind : std::uint8_t { batch, hold, other, trip };

/// One wish. Sizes are upper wishes: a batch shrinks to what is left of lots, stock and room.
struct Job {
  JobKind kind = JobKind::batch;
  int what = 0;  ///< batch: route; hold: place; other: index
  int size = 0;
  std::array<Part, kMostParts> parts{};  ///< hold: parts[0].lot
  Time not_before = 0;                   ///< of the first own stage (picking may come before), hold, work, trip
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

/// Where a slot was in another plan, and who it was.
struct Pin {
  Time start = 0, end = 0;
  std::uint32_t hands = 0;  ///< Team::mask
};
/// A job to be put back as it was: pins of its pickings, then of its stages or pieces. No pins: wherever it fits.
struct PinnedJob {
  Job job;
  std::vector<Pin> pins;
};
using PinnedList = std::vector<PinnedJob>;

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

/// A job in its place.
struct Placed {
  double kg = 0;
  double amount = 0;    ///< quality-weighted product, kg
  Time start = kNever;  ///< of the first own stage, hold, work or trip
  int loads = 1;
  int picks = 0, stages = 0;  ///< slots: pickings, then own stages (or pieces of other work)
  int size = 0;               ///< of parts
  Job job;
  std::array<PlacedPart, kMostParts> parts{};
  std::array<Board::Slot, kMostSlots> slots{};
  [[nodiscard]] const Board::Slot& slot(int i) const { return slots[static_cast<std::size_t>(i)]; }
  [[nodiscard]] const Board::Slot& last() const { return slot(picks + stages - 1); }
  /// A batch with a part of the lot, or of what was made of it.
  [[nodiscard]] bool takes_of(int lot) const {
    for (int i = 0; i < size; ++i)
      if (parts[static_cast<std::size_t>(i)].lot == lot) return true;
    return false;
  }
  /// A batch with a part from the lot itself.
  [[nodiscard]] bool draws_on(int lot) const {
    for (int i = 0; i < size; ++i)
      if (parts[static_cast<std::size_t>(i)].lot == lot && parts[static_cast<std::size_t>(i)].source == Source::lot)
        return true;
    return false;
  }
};

struct Purchase {
  int trip = 0;  ///< id of the trip
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

/// What becomes of a lot that waits until the horizon; of a standing crop, what it is when it is picked.
struct AtHorizon {
  int condition = 0;
  double usable = 1;
};

class Schedule {
 public:
  explicit Schedule(const Project& project);
  Schedule(const Schedule&) = delete;
  Schedule& operator=(const Schedule&) = delete;

  struct Mark {
    Board::Mark board;
    std::size_t operations, purchases;
  };
  /// Puts a job in at its earliest place; its id, or -1 when it fits nowhere.
  int insert(const Job& job);
  /// Puts a job in with exactly these slots, or not at all; `whole`: not a kilogram less either.
  int insert_pinned(const PinnedJob& pinned, bool whole);
  /// What an insertion did, to do it again without looking for the place again.
  struct Trial {
    Placed placed;
    std::vector<Purchase> bought;
  };
  /// The job `id`, put in last, right after `before`.
  void remember(int id, const Mark& before, Trial& out) const;
  /// Puts it in where it was. The schedule must stand as it did before the insertion.
  int insert_again(const Trial& trial);
  /// Takes a job out. What depends on it must be out already.
  void remove(int id);
  /// Jobs that must go before `id` can: batches of a lot whose hold it is, takers of what it makes.
  void dependents(int id, std::vector<int>& out) const;

  /// A trip that something was bought on stays.
  [[nodiscard]] bool is_needed(int id) const {
    return std::any_of(purchases_.begin(), purchases_.end(), [&](const Purchase& p) { return p.trip == id; });
  }

  [[nodiscard]] Mark mark() const { return {board_.mark(), operations_.size(), purchases_.size()}; }
  void rollback(const Mark& mark);
  /// Keeps what was done; earlier marks are void.
  void commit();
  /// Clears the traces of removals out of the profiles and unneeded amounts out of the purchases. Commits.
  void tidy();

  /// The whole schedule, to copy it elsewhere.
  struct Snapshot {
    std::vector<Placed> placed;
    std::vector<Purchase> purchases;  ///< trip = position in `placed`
  };
  void save(Snapshot& out) const;
  void load(const Snapshot& in);
  void clear();
  /// Clears, then puts the list in, in order; what does not fit is left out.
  void fill(const JobList& list);
  /// The same, everything first where it is pinned; then what no longer fits there wherever it does, in order.
  void fill(const PinnedList& list);

  [[nodiscard]] const Project& project() const { return project_; }
  /// Ids of what is in, in no particular order.
  [[nodiscard]] const std::vector<int>& ids() const { return ids_; }
  [[nodiscard]] const Placed& placed(int id) const { return placed_[static_cast<std::size_t>(id)]; }
  [[nodiscard]] const std::vector<Purchase>& purchases() const { return purchases_; }
  [[nodiscard]] const Board& board() const { return board_; }
  [[nodiscard]] const Fade& fade(int lot) const { return lots_[static_cast<std::size_t>(lot)].fade; }
  [[nodiscard]] const AtHorizon& at_horizon(int lot) const { return lots_[static_cast<std::size_t>(lot)].at_horizon; }
  [[nodiscard]] const HeldPool& held(int pool) const { return held_[static_cast<std::size_t>(pool)]; }
  /// kg of a by-product pool that could still be taken at the horizon.
  [[nodiscard]] double by_product_left(int pool) const {
    return static_cast<double>(by_products_[static_cast<std::size_t>(pool)].available_from(project_.horizon)) / kWhole;
  }
  /// Id of the stage-less hold of a lot, or -1.
  [[nodiscard]] int hold_of(int lot) const { return lots_[static_cast<std::size_t>(lot)].hold; }
  /// Gross kg of the lot itself taken by batches.
  [[nodiscard]] double taken(int lot) const { return lots_[static_cast<std::size_t>(lot)].taken; }
  /// Where a job would start if what `relaxed` names did not count; kNever for nowhere. Leaves the schedule as it is.
  [[nodiscard]] Time probe(const Job& job, const Relaxed& relaxed);

 private:
  struct Take {
    Time at;
    double kg;
    int id;
  };
  struct LotState {
    Fade fade;
    AtHorizon at_horizon;
    std::vector<Take> takes;
    double taken = 0;  ///< kg of all takes
    int hold = -1;
    void sum_up() {
      taken = 0;
      for (const Take& take : takes) taken += take.kg;
    }
  };
  /// One stage of the batch being placed.
  struct Link {
    Board::Demand demand;
    Board::Slot slot;
    Time lower = 0;  ///< never before
    Board::Mark mark{};
  };
  struct Operation {
    int id;
    bool inserted;
  };

  // schedule.cpp: what is in, and undoing
  void set_fade(int lot, const Fade& fade);
  void note(int id);
  void forget(int id);
  void apply(int id, int sign);
  void apply_batch(int id, const Placed& batch, int sign);
  void apply_food(const Placed& batch, int sign);
  void apply_hold(const Placed& hold, int sign);
  void leave_room(const PlacedPart& part, int sign);
  void hold_pool(const Placed& batch, bool active);
  int free_id();
  void insert_pinned(std::vector<const PinnedJob*>& waiting, bool whole);
  void trim_purchases();

  // schedule_parts.cpp: what goes into a batch
  bool gather_parts(const Job& job, const RouteSpec& route, Placed& out) const;
  bool fit_size(const RouteSpec& route, Placed& out) const;
  void buy_for(const RouteSpec& route, const Placed& out);
  [[nodiscard]] double spent_in_week_of(Time t) const;
  void settle_parts(const RouteSpec& route, Placed& out) const;
  /// Cuts the batch down to what is left of every part at its time; true when nothing had to give.
  [[nodiscard]] bool enough_left(const RouteSpec& route, Placed& out) const;
  [[nodiscard]] double available(const PlacedPart& part, Time at) const;
  [[nodiscard]] double usable(const PlacedPart& part, Time t) const;
  [[nodiscard]] int condition(const PlacedPart& part, Time t) const;

  // schedule_chain.cpp: where a batch goes
  bool place_batch(int id, Placed& out);
  bool place_chain(int id, const RouteSpec& route, Placed& out, Time pick_from);
  bool place_picks(int id, Placed& out, Time pick_from, Time& picked);
  bool place_stages(int id, const RouteSpec& route, Placed& out, Time lower);
  /// The earliest slot, or the one that is pinned for the `index`th slot of the job being placed.
  [[nodiscard]] Board::Slot slot_for(const Board::Demand& demand, std::size_t index, Time from, Time latest);
  [[nodiscard]] Time accepted_from(const RouteSpec& route, const Placed& out, Time start) const;
  [[nodiscard]] Time hazard_limit(const Placed& out) const;
  [[nodiscard]] Board::Demand stage_demand(int id, const StageSpec& spec, const Placed& out) const;
  [[nodiscard]] Board::Demand pick_demand(int id, const PlacedPart& part) const;

  // schedule_other.cpp: holds, other work, trips
  bool place_hold(Placed& out);
  bool place_other(int id, Placed& out);
  bool place_pieces_as_pinned(const Board::Demand& demand, Placed& out);
  bool place_trip(int id, Placed& out);
  bool split_by(const Board::Demand& demand, const Team& team, Time from, Time most, Placed& out);
  [[nodiscard]] Board::Demand other_demand(int id, int other) const;
  [[nodiscard]] Board::Demand trip_demand(int id) const;

  const Project& project_;
  Board board_;
  std::vector<LotState> lots_;
  std::vector<HeldPool> held_;
  std::vector<scheduling::StockProfile> by_products_, no_by_products_;
  std::vector<Placed> placed_;
  std::vector<int> ids_, free_, leaving_;  ///< leaving_: removed, but a rollback may bring it back
  std::vector<Purchase> purchases_;
  std::vector<Operation> operations_;
  std::vector<Link> links_;    ///< scratch
  std::span<const Pin> pins_;  ///< of the job being placed
};

}  // namespace stillroom::planning::detail
