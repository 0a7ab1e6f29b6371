#include "planning/detail/search.h"

/// The moves of the search: each takes something out and says what is to be put back.
namespace stillroom::planning::detail {

bool PlanSearch::try_move(Move move, measure::Random& rng) {
  switch (move) {
    case lot_anew:
      return move_lot(rng);
    case window_anew:
      return move_window(rng);
    case crop_anew:
      return move_crop(rng);
    case few_anew:
      return move_few(rng);
    case retime:
      return move_retime(rng);
    case hold_anew:
      return move_hold(rng);
    case fill:
      return move_fill(rng);
    case make_way:
      return move_make_way(rng);
    case work_anew:
      return move_work(rng);
    case trip_anew:
      return move_trip(rng);
    case resize:
      return move_resize(rng);
    case all_anew:
      return move_all();
    case kMoves:
      break;
  }
  return false;
}

/// Takes a job out with everything that depends on it, and notes what is to be put back.
void PlanSearch::take_out(int id) {
  closure_.clear();
  closure_.push_back(id);
  for (std::size_t i = 0; i < closure_.size(); ++i) schedule_.dependents(closure_[i], closure_);
  for (std::size_t i = closure_.size(); i-- > 0;) {
    const Placed& p = schedule_.placed(closure_[i]);
    if (p.job.kind == JobKind::other) work_.push_back(p.job.what);
    if (p.job.kind == JobKind::batch)
      for (int k = 0; k < p.size; ++k) want(p.parts[static_cast<std::size_t>(k)].lot);
    schedule_.remove(closure_[i]);
  }
}

int PlanSearch::random_id(JobKind kind, measure::Random& rng) const {
  const auto n = static_cast<std::uint32_t>(schedule_.ids().size());
  for (int tries = 0; n > 0 && tries < 8; ++tries) {
    const int id = schedule_.ids()[rng.below(n)];
    if (schedule_.placed(id).job.kind == kind) return id;
  }
  return -1;
}

int PlanSearch::random_lot_left(measure::Random& rng) {
  scratch_.clear();
  for (int l = 0; l < static_cast<int>(project_.lots.size()); ++l)
    if (!project_.lots[static_cast<std::size_t>(l)].options.empty() && left(l) > kLeastKg) scratch_.push_back(l);
  if (scratch_.empty()) return -1;
  return scratch_[rng.below(static_cast<std::uint32_t>(scratch_.size()))];
}

/// Takes out up to `most` batches and pieces of other work that start within `reach` of a moment.
void PlanSearch::take_near(Time start, Time reach, int most, measure::Random& rng) {
  scratch_.clear();
  for (const int id : schedule_.ids()) {
    const Placed& p = schedule_.placed(id);
    if (p.job.kind != JobKind::batch && p.job.kind != JobKind::other) continue;
    if (std::abs(p.start - start) <= reach) scratch_.push_back(id);
  }
  for (int taken = 0; taken < most && !scratch_.empty(); ++taken) {
    const std::size_t at = rng.below(static_cast<std::uint32_t>(scratch_.size()));
    const int id = scratch_[at];
    scratch_.erase(scratch_.begin() + static_cast<std::ptrdiff_t>(at));
    if (std::find(schedule_.ids().begin(), schedule_.ids().end(), id) != schedule_.ids().end()) take_out(id);
  }
}

bool PlanSearch::move_lot(measure::Random& rng) {
  const int id = random_id(JobKind::batch, rng);
  if (id < 0) return false;
  const Placed& p = schedule_.placed(id);
  const int lot = p.parts[rng.below(static_cast<std::uint32_t>(p.size))].lot;
  for (std::size_t i = schedule_.ids().size(); i-- > 0;) {
    if (i >= schedule_.ids().size()) continue;  // others went with it
    const int other = schedule_.ids()[i];
    if (schedule_.placed(other).job.kind == JobKind::batch && schedule_.placed(other).draws_on(lot)) take_out(other);
  }
  want(lot);
  return true;
}

bool PlanSearch::move_window(measure::Random& rng) {
  const int id = random_id(JobKind::batch, rng);
  if (id < 0) return false;
  const Time start = schedule_.placed(id).start;
  const Time reach = 120 + static_cast<Time>(rng.below(kDayMinutes));
  take_out(id);
  take_near(start, reach, static_cast<int>(rng.below(4)), rng);
  if (rng.below(2) == 0) {
    const int more = random_lot_left(rng);
    if (more >= 0) want(more);
  }
  return true;
}

bool PlanSearch::move_crop(measure::Random& rng) {
  const int id = random_id(JobKind::batch, rng);
  if (id < 0) return false;
  const std::string& food =
      project_.routes[static_cast<std::size_t>(schedule_.placed(id).job.what)].source->product_food;
  const int most = 2 + static_cast<int>(rng.below(3));
  int taken = 0;
  for (std::size_t i = schedule_.ids().size(); i-- > 0 && taken < most;) {
    if (i >= schedule_.ids().size()) continue;
    const int other = schedule_.ids()[i];
    const Placed& p = schedule_.placed(other);
    if (p.job.kind != JobKind::batch) continue;
    if (project_.routes[static_cast<std::size_t>(p.job.what)].source->product_food != food) continue;
    if (other != id && rng.below(3) == 0) continue;
    take_out(other);
    ++taken;
  }
  return taken > 0;
}

bool PlanSearch::move_few(measure::Random& rng) {
  const int most = 1 + static_cast<int>(rng.below(3));
  for (int k = 0; k < most; ++k) {
    const int id = random_id(rng.below(6) == 0 ? JobKind::other : JobKind::batch, rng);
    if (id >= 0) take_out(id);
  }
  const int more = random_lot_left(rng);
  if (more >= 0) want(more);
  return !lots_.empty() || !work_.empty();
}

/// The same job again, as early as it now fits or from some other day on.
bool PlanSearch::move_retime(measure::Random& rng) {
  const int id = random_id(rng.below(5) == 0 ? JobKind::other : JobKind::batch, rng);
  if (id < 0) return false;
  Job job = schedule_.placed(id).job;
  if (job.kind == JobKind::batch) {
    scratch_.clear();
    schedule_.dependents(id, scratch_);
    if (!scratch_.empty()) return false;
    const Option* option = project_.option(job.parts[0].lot, job.what);
    job.not_before = option == nullptr || rng.below(3) == 0 ? 0 : random_moment(job.parts[0].lot, *option, rng);
    if (rng.below(2) == 0) {
      const int day = day_of(schedule_.placed(id).start) + static_cast<int>(rng.below(5)) - 2;
      job.not_before = std::max(0, day) * kDayMinutes;
    }
  } else {
    const int day = day_of(schedule_.placed(id).start) + static_cast<int>(rng.below(7)) - 3;
    job.not_before = rng.below(3) == 0 ? 0 : std::max(0, day) * kDayMinutes;
  }
  take_out(id);
  if (schedule_.insert(job) >= 0) work_.clear();  // the only work it can be is in again
  return true;
}

bool PlanSearch::move_hold(measure::Random& rng) {
  scratch_.clear();
  for (std::size_t l = 0; l < project_.lots.size(); ++l)
    if (!project_.lots[l].hold_places.empty()) scratch_.push_back(static_cast<int>(l));
  if (scratch_.empty()) return false;
  const int lot = scratch_[rng.below(static_cast<std::uint32_t>(scratch_.size()))];
  const LotSpec& spec = project_.lots[static_cast<std::size_t>(lot)];
  const int had = schedule_.hold_of(lot);
  if (had >= 0) {
    take_out(had);
  } else {
    for (std::size_t i = schedule_.ids().size(); i-- > 0;) {
      if (i >= schedule_.ids().size()) continue;
      const int other = schedule_.ids()[i];
      if (schedule_.placed(other).job.kind == JobKind::batch && schedule_.placed(other).draws_on(lot)) take_out(other);
    }
  }
  want(lot);
  if (had >= 0 && rng.below(3) == 0) return true;
  Job job{.kind = JobKind::hold,
          .what = spec.hold_places[rng.below(static_cast<std::uint32_t>(spec.hold_places.size()))]};
  if (rng.below(2) == 0) {  // where it keeps longest
    double slowest = 1e9;
    for (const int place : spec.hold_places) {
      const double rate = spec.fade.model->ageing(place);
      if (rate >= slowest) continue;
      slowest = rate;
      job.what = place;
    }
  }
  if (rng.below(4) == 0) {
    const Time ripe = spec.fade.reached[rng.below(almanac::kConditions)];
    if (ripe > spec.from && ripe < project_.horizon) job.not_before = ripe;
  }
  job.add(lot, 0);
  schedule_.insert(job);
  return true;
}

bool PlanSearch::move_fill(measure::Random& rng) {
  const int lot = random_lot_left(rng);
  if (lot < 0) return false;
  want(lot);
  const int more = random_lot_left(rng);
  if (more >= 0) want(more);
  return true;
}

/// A lot that is not all used goes first; what lies where it would like to be makes way.
bool PlanSearch::move_make_way(measure::Random& rng) {
  const int lot = random_lot_left(rng);
  if (lot < 0) return false;
  const LotSpec& spec = project_.lots[static_cast<std::size_t>(lot)];
  want(lot);
  keep_order_ = true;
  const Time reach = kDayMinutes / 2 + static_cast<Time>(rng.below(kDayMinutes));
  take_near(spec.from + reach / 2, reach, 1 + static_cast<int>(rng.below(4)), rng);
  return true;
}

bool PlanSearch::move_work(measure::Random& rng) {
  if (project_.other.empty()) return false;
  const int other = static_cast<int>(rng.below(static_cast<std::uint32_t>(project_.other.size())));
  int id = -1;
  for (const int candidate : schedule_.ids())
    if (schedule_.placed(candidate).job.kind == JobKind::other && schedule_.placed(candidate).job.what == other)
      id = candidate;
  Time start = project_.other[static_cast<std::size_t>(other)].from;
  if (id >= 0) {
    start = schedule_.placed(id).start;
    take_out(id);
  } else {
    work_.push_back(other);
  }
  take_near(start, kDayMinutes / 2, static_cast<int>(rng.below(4)), rng);
  return true;
}

bool PlanSearch::move_trip(measure::Random& rng) {
  if (project_.trip.teams.empty()) return false;
  const int id = random_id(JobKind::trip, rng);
  if (id >= 0 && !schedule_.is_needed(id) && rng.below(2) == 0) {
    take_out(id);
    return true;
  }
  schedule_.insert(
      {.kind = JobKind::trip,
       .not_before = static_cast<Time>(rng.below(static_cast<std::uint32_t>(project_.days))) * kDayMinutes});
  for (int k = 0; k < 4; ++k) {
    const int more = random_lot_left(rng);
    if (more >= 0) want(more);
  }
  return true;
}

/// Fewer or more loads, full ones; any smaller size; or all that could go in.
double PlanSearch::another_size(const Placed& batch, measure::Random& rng) const {
  const almanac::Route& route = *project_.routes[static_cast<std::size_t>(batch.job.what)].source;
  const std::uint32_t kind = rng.below(6);
  if (route.load_kg > 0 && kind < 3) {
    const double loads = batch.kg / route.load_kg;
    return route.load_kg * (kind == 0 ? std::ceil(loads) - 1 : kind == 1 ? std::ceil(loads) : std::ceil(loads) + 1);
  }
  return kind < 5 ? batch.kg * (0.2 + 0.8 * rng.uniform()) : route.batch_max_kg;
}

/// Gives a batch what is left of a lot, and if that is not enough what another batch had of it, up to `most` kg in all.
void PlanSearch::merge_into(Job& job, int lot, double most, measure::Random& rng) {
  if (job.kg() + left(lot) < most && rng.below(2) == 0) {
    scratch_.clear();
    for (const int id : schedule_.ids())
      if (schedule_.placed(id).job.kind == JobKind::batch && schedule_.placed(id).draws_on(lot)) scratch_.push_back(id);
    if (!scratch_.empty()) take_out(scratch_[rng.below(static_cast<std::uint32_t>(scratch_.size()))]);
  }
  for (int i = 0; i < job.size; ++i) {
    Part& part = job.parts[static_cast<std::size_t>(i)];
    if (part.lot == lot) part.kg += std::clamp(most - job.kg(), 0.0, std::max(0.0, left(lot) - part.kg));
  }
}

/// One batch again in another size, so that batches can trade food, jars and loads; then whoever is left.
bool PlanSearch::move_resize(measure::Random& rng) {
  const int id = random_id(JobKind::batch, rng);
  if (id < 0) return false;
  scratch_.clear();
  schedule_.dependents(id, scratch_);
  if (!scratch_.empty()) return false;
  const Placed was = schedule_.placed(id);
  const RouteSpec& route = project_.routes[static_cast<std::size_t>(was.job.what)];
  const double kg = std::clamp(another_size(was, rng), route.source->batch_min_kg, route.source->batch_max_kg);
  Job job{.what = was.job.what, .not_before = rng.below(2) == 0 ? was.start : was.job.not_before};
  const double share = std::min(1.0, kg / was.kg);
  for (int i = 0; i < was.size; ++i)
    job.add(was.parts[static_cast<std::size_t>(i)].lot, was.parts[static_cast<std::size_t>(i)].kg * share);
  take_out(id);
  if (kg > was.kg && route.seconds.empty() && was.parts[0].source == Source::lot)
    merge_into(job, was.parts[rng.below(static_cast<std::uint32_t>(was.size))].lot, kg, rng);
  schedule_.insert(job);
  if (rng.below(2) == 0) lots_.clear();  // others first
  for (int k = 0; k < 2; ++k)
    if (const int more = random_lot_left(rng); more >= 0) want(more);
  return true;
}

/// A small plan as a whole: what nothing near is better than may still be far from the best.
bool PlanSearch::move_all() {
  constexpr std::size_t kSmall = 12;
  if (schedule_.ids().empty() || schedule_.ids().size() > kSmall) return false;
  for (std::size_t i = schedule_.ids().size(); i-- > 0;) {
    if (i >= schedule_.ids().size()) continue;  // others went with it
    const int id = schedule_.ids()[i];
    if (schedule_.placed(id).job.kind != JobKind::trip) take_out(id);  // what was bought stays bought
  }
  for (int lot = 0; lot < static_cast<int>(project_.lots.size()); ++lot) want(lot);
  return true;
}

}  // namespace stillroom::planning::detail
