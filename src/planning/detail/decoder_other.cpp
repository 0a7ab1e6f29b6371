#include "planning/detail/decoder.h"

namespace stillroom::planning::detail {
namespace {

constexpr int kMostPieces = 12;

}  // namespace

bool Decoder::place_hold(const Job& job, PlacedJob& out) {
  const int lot = job.parts[0].lot;
  const LotSpec& spec = project_.lots[static_cast<std::size_t>(lot)];
  LotState& state = lots_[static_cast<std::size_t>(lot)];
  if (!state.takes.empty() || state.fade.moved != kNever) return false;  // batches were judged by where it lay
  if (std::find(spec.hold_places.begin(), spec.hold_places.end(), job.what) == spec.hold_places.end()) return false;
  Time from = std::max({spec.from, project_.now, grain_up(job.not_before)});
  const PlaceSpec& to = project_.places[static_cast<std::size_t>(job.what)];
  const Amount need = units_needed(spec.source->kg * to.room_per_kg);
  if (to.room >= 0 && !board_.relaxed.room) {
    from = board_.room(to.room).earliest_keep(from, need, project_.horizon - kGrain);
    if (from == kNever) return false;
    from = grain_up(from);
  }
  if (from >= project_.horizon) return false;
  const PlaceSpec& old = project_.places[static_cast<std::size_t>(state.fade.place)];
  if (old.room >= 0 && spec.source->ready <= project_.h.now)
    board_.room(old.room).release(from, kNever, units_there(spec.source->kg * old.room_per_kg), board_.log());
  if (to.room >= 0) board_.room(to.room).keep(from, kNever, need, board_.log());
  state.fade.moved = from;
  state.fade.second_place = job.what;
  state.fade.settle();
  out.start = from;
  return true;
}

bool Decoder::place_other(const Job& job, PlacedJob& out) {
  const OtherSpec& other = project_.other[static_cast<std::size_t>(job.what)];
  Board::Demand demand;
  demand.spec = &other.stage;
  demand.minutes = other.stage.duration.fixed;
  demand.counts_as_job = true;
  demand.job = static_cast<int>(jobs_.size()) - 1;
  demand.batch_work = false;
  demand.contiguous = true;
  const Time from = std::max(other.from, grain_up(job.not_before));
  const Board::Mark start = board_.mark();
  best_.clear();
  for (const Team& team : other.stage.teams) {
    const Time length = other.stage.length(demand.minutes, team);
    if (!best_.empty() && from + length >= best_.back().end) continue;
    pieces_.clear();
    bool done = false;
    if (other.stage.can_pause) {
      done = split_by(demand, team, from, length, pieces_);
      board_.rollback(start);
    } else {
      const Time at = board_.earliest_run(demand, team, length, from, project_.horizon - length);
      done = at != kNever;
      if (done) pieces_.push_back({at, at + length, &team});
    }
    if (done && (best_.empty() || pieces_.back().end < best_.back().end)) best_.swap(pieces_);
  }
  if (best_.empty()) return false;
  for (const Board::Slot& piece : best_) {
    board_.reserve(demand, piece);
    slots_.push_back(piece);
  }
  out.stages = static_cast<int>(best_.size());
  out.start = best_.front().start;
  return true;
}

/// Pieces of other work one after another, each as long as the team is free, none shorter than half an hour.
bool Decoder::split_by(const Board::Demand& demand, const Team& team, Time from, Time most,
                       std::vector<Board::Slot>& out) {
  Time at = from, remaining = most;
  while (remaining > 0) {
    if (out.size() == kMostPieces) return false;
    // Whatever is left must never be a scrap, so near the end the piece is taken whole.
    const Time least = remaining < 2 * kSplitLeast ? remaining : kSplitLeast;
    at = board_.earliest_run(demand, team, least, at, project_.horizon - kGrain);
    if (at == kNever) return false;
    Time run = board_.free_run(demand, team, at, remaining);
    if (run < remaining && remaining - run < kSplitLeast) run = remaining - kSplitLeast;
    const Board::Slot piece{at, at + run, &team};
    board_.reserve(demand, piece);
    out.push_back(piece);
    remaining -= run;
    at = piece.end;
  }
  return true;
}

bool Decoder::place_trip(const Job& job, PlacedJob& out) {
  if (project_.trip.teams.empty()) return false;
  Board::Demand demand;
  demand.spec = &project_.trip;
  demand.minutes = project_.trip.duration.fixed;
  demand.job = static_cast<int>(jobs_.size()) - 1;
  const Board::Slot slot =
      board_.earliest(demand, std::max(project_.now, grain_up(job.not_before)), project_.horizon - kGrain);
  if (!slot.fits()) return false;
  board_.reserve(demand, slot);
  slots_.push_back(slot);
  out.stages = 1;
  out.start = slot.start;
  return true;
}

}  // namespace stillroom::planning::detail
