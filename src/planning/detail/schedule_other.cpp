#include "planning/detail/schedule.h"

namespace stillroom::planning::detail {
namespace {

constexpr int kMostPieces = 12;

}  // namespace

bool Schedule::place_hold(Placed& out) {
  const int lot = out.job.parts[0].lot;
  const LotSpec& spec = project_.lots[static_cast<std::size_t>(lot)];
  const LotState& state = lots_[static_cast<std::size_t>(lot)];
  if (!state.takes.empty() || state.hold >= 0) return false;  // batches were judged by where it lay
  if (std::find(spec.hold_places.begin(), spec.hold_places.end(), out.job.what) == spec.hold_places.end()) return false;
  Time from = std::max({spec.from, project_.now, grain_up(out.job.not_before)});
  const PlaceSpec& to = project_.places[static_cast<std::size_t>(out.job.what)];
  if (to.room >= 0 && !board_.relaxed.room) {
    from = board_.room(to.room).earliest_keep(from, units_needed(spec.source->kg * to.room_per_kg),
                                              project_.horizon - kGrain);
    if (from == kNever) return false;
    from = grain_up(from);
  }
  if (from >= project_.horizon || (!pins_.empty() && from != pins_.front().start)) return false;
  out.start = from;
  apply_hold(out, 1);
  return true;
}

Board::Demand Schedule::other_demand(int id, int other) const {
  Board::Demand demand;
  demand.spec = &project_.other[static_cast<std::size_t>(other)].stage;
  demand.minutes = demand.spec->duration.fixed;
  demand.counts_as_job = true;
  demand.job = id;
  demand.batch_work = false;
  demand.contiguous = true;
  return demand;
}

/// Other work in the pieces that are pinned, when these people are free then and together they are long enough.
bool Schedule::place_pieces_as_pinned(const Board::Demand& demand, Placed& out) {
  const OtherSpec& other = project_.other[static_cast<std::size_t>(out.job.what)];
  const auto team = std::find_if(other.stage.teams.begin(), other.stage.teams.end(),
                                 [&](const Team& t) { return t.mask == pins_.front().hands; });
  if (team == other.stage.teams.end() || pins_.size() > kMostPieces) return false;
  Time remaining = other.stage.length(demand.minutes, *team), at = other.from;
  out.stages = 0;
  for (const Pin& pin : pins_) {
    const Time length = pin.end - pin.start;
    if (pin.start < at || pin.end > project_.horizon || board_.free_run(demand, *team, pin.start, length) < length)
      return false;
    const Board::Slot piece{pin.start, pin.end, &*team};
    board_.reserve(demand, piece);
    out.slots[static_cast<std::size_t>(out.stages++)] = piece;
    remaining -= length;
    at = pin.end;
  }
  out.start = pins_.front().start;
  return remaining == 0;
}

bool Schedule::place_other(int id, Placed& out) {
  const OtherSpec& other = project_.other[static_cast<std::size_t>(out.job.what)];
  const Board::Demand demand = other_demand(id, out.job.what);
  if (!pins_.empty()) return place_pieces_as_pinned(demand, out);
  const Time from = std::max(other.from, grain_up(out.job.not_before));
  const Board::Mark start = board_.mark();
  Time best_end = kNever;
  const Team* best = nullptr;
  for (const Team& team : other.stage.teams) {
    const Time length = other.stage.length(demand.minutes, team);
    if (best_end != kNever && from + length >= best_end) continue;
    if (!split_by(demand, team, from, length, out)) {
      board_.rollback(start);
      continue;
    }
    board_.rollback(start);
    if (out.last().end >= best_end) continue;
    best_end = out.last().end;
    best = &team;
  }
  if (best == nullptr || !split_by(demand, *best, from, other.stage.length(demand.minutes, *best), out)) return false;
  out.start = out.slot(0).start;
  return true;
}

/// Reserves pieces of other work one after another, each as long as the team is free, none shorter than half an hour;
/// work that may not be split is one piece.
bool Schedule::split_by(const Board::Demand& demand, const Team& team, Time from, Time most, Placed& out) {
  Time at = from, remaining = most;
  out.stages = 0;
  while (remaining > 0) {
    if (out.stages == kMostPieces) return false;
    // Whatever is left must never be a scrap, so near the end the piece is taken whole.
    const bool whole = !demand.spec->can_pause || remaining < 2 * kSplitLeast;
    at = board_.earliest_run(demand, team, whole ? remaining : kSplitLeast, at, project_.horizon - kGrain);
    if (at == kNever) return false;
    Time run = whole ? remaining : board_.free_run(demand, team, at, remaining);
    if (run < remaining && remaining - run < kSplitLeast) run = remaining - kSplitLeast;
    const Board::Slot piece{at, at + run, &team};
    board_.reserve(demand, piece);
    out.slots[static_cast<std::size_t>(out.stages++)] = piece;
    remaining -= run;
    at = piece.end;
  }
  return true;
}

Board::Demand Schedule::trip_demand(int id) const {
  Board::Demand demand;
  demand.spec = &project_.trip;
  demand.minutes = project_.trip.duration.fixed;
  demand.job = id;
  return demand;
}

bool Schedule::place_trip(int id, Placed& out) {
  if (project_.trip.teams.empty()) return false;
  const Board::Demand demand = trip_demand(id);
  const Board::Slot slot =
      slot_for(demand, 0, std::max(project_.now, grain_up(out.job.not_before)), project_.horizon - kGrain);
  if (!slot.fits()) return false;
  board_.reserve(demand, slot);
  out.slots[0] = slot;
  out.stages = 1;
  out.start = slot.start;
  return true;
}

}  // namespace stillroom::planning::detail
