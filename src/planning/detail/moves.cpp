#include "planning/detail/search.h"

/// The moves of the search. Each changes candidate_ and says whether there was anything to change.
namespace stillroom::planning::detail {
namespace {

constexpr double kLeastKg = 0.05;

std::uint32_t size_of(const JobList& list) { return static_cast<std::uint32_t>(list.size()); }

}  // namespace

bool PlanSearch::try_move(Move move, measure::Random& rng, double progress) {
  switch (move) {
    case shift:
      return move_shift(rng);
    case swap:
      return move_swap(rng);
    case reroute:
      return move_reroute(rng);
    case resize:
      return move_resize(rng);
    case split:
      return move_split(rng);
    case merge:
      return move_merge(rng);
    case drop:
      return move_drop(rng);
    case add:
      return move_add(rng);
    case when:
      return move_when(rng);
    case hold:
      return move_hold(rng);
    case rebuild:
      return move_rebuild(rng, progress);
    case trip:
      return move_trip(rng);
    case kMoves:
      break;
  }
  return false;
}

int PlanSearch::random_batch(measure::Random& rng) const {
  if (candidate_.empty()) return -1;
  for (int tries = 0; tries < 8; ++tries) {
    const std::uint32_t i = rng.below(size_of(candidate_));
    if (candidate_[i].kind == JobKind::batch) return static_cast<int>(i);
  }
  return -1;
}

int PlanSearch::random_lot_with_left(measure::Random& rng) {
  scratch_.clear();
  for (std::size_t l = 0; l < left_.size(); ++l)
    if (left_[l] > kLeastKg && !project_.lots[l].options.empty()) scratch_.push_back(static_cast<int>(l));
  if (scratch_.empty()) return -1;
  return scratch_[rng.below(static_cast<std::uint32_t>(scratch_.size()))];
}

bool PlanSearch::pool_is_fed(const PoolSpec& pool) const {
  for (const Job& job : candidate_) {
    if (job.kind != JobKind::batch || !job.has(pool.lot)) continue;
    const almanac::Route& route = *project_.routes[static_cast<std::size_t>(job.what)].source;
    if (pool.source == Source::held && route.is_hold && route.product_form == pool.form) return true;
    if (pool.source != Source::by_product) continue;
    for (const almanac::ByProduct& by : route.also_yields)
      if (by.food == pool.crop && by.form == pool.form) return true;
  }
  return false;
}

/// An option of the lot: the one worth most at a random price of an hour, or (not sharp) any that is worth something.
const Option* PlanSearch::random_option(int lot, measure::Random& rng, bool sharp) const {
  const LotSpec& spec = project_.lots[static_cast<std::size_t>(lot)];
  const double hour = project_.h.effort_per_hour + 20 * rng.uniform() * rng.uniform();
  const Fade& fade = decoder_.fade(lot);
  const Option* best = nullptr;
  double most = sharp ? 0 : -1e9;
  for (const Option& option : spec.options) {
    if (option.source != Source::lot && !pool_is_fed(project_.pools[static_cast<std::size_t>(option.pool)])) continue;
    if (project_.routes[static_cast<std::size_t>(option.route)].source->is_hold) {
      if (!sharp && rng.below(6) == 0) return &option;  // worth nothing in itself: only trying tells
      continue;
    }
    double score = rng.uniform();
    if (sharp) {
      const Time best_at = appraiser_.best_time(lot, option, fade, spec.from, put_by_);
      score = appraiser_.at(lot, option, fade, best_at, put_by_).net(hour) * (0.75 + 0.5 * rng.uniform());
    }
    if (score <= most) continue;
    most = score;
    best = &option;
  }
  return best;
}

/// A batch of what is left of a lot by an option, with company when there is room.
bool PlanSearch::make_job(int lot, const Option& option, measure::Random& rng, Job& job) const {
  const RouteSpec& route = project_.routes[static_cast<std::size_t>(option.route)];
  const almanac::Route& source = *route.source;
  const double own = option.source == Source::lot ? left_[static_cast<std::size_t>(lot)] : source.batch_max_kg;
  job = Job{.what = option.route};
  double share = 1, most = own;
  std::array<int, kMostParts> seconds{};
  for (std::size_t j = 0; j < route.seconds.size(); ++j) {
    const auto& lots = route.seconds[j];
    if (lots.empty()) return false;
    seconds[j] = lots[rng.below(static_cast<std::uint32_t>(lots.size()))];
    share += source.many_lot_kg[j];
    most = std::min(most, left_[static_cast<std::size_t>(seconds[j])] / source.many_lot_kg[j]);
  }
  double size = batch_size(source, most * share);
  if (rng.below(5) == 0) size *= 0.5 + 0.5 * rng.uniform();
  job.add(lot, size / share);
  for (std::size_t j = 0; j < route.seconds.size(); ++j) job.add(seconds[j], size / share * source.many_lot_kg[j]);
  if (route.seconds.empty() && !source.is_hold && option.source == Source::lot && size > own - 1e-9)
    for (int other = 0; other < static_cast<int>(left_.size()) && job.size < kMostParts; ++other) {
      const double more = std::min(left_[static_cast<std::size_t>(other)], source.batch_max_kg - job.kg());
      if (other == lot || more <= kLeastKg) continue;
      const Option* same = project_.option(other, option.route);
      if (same == nullptr || same->source != Source::lot) continue;
      const Fade& fade = decoder_.fade(other);
      const Time from = project_.lots[static_cast<std::size_t>(other)].from;
      if (appraiser_.at(other, *same, fade, from, put_by_).worth > 0 && rng.below(4) != 0) job.add(other, more);
    }
  if (option.source == Source::lot) {
    const LotSpec& spec = project_.lots[static_cast<std::size_t>(lot)];
    const Time best = appraiser_.best_time(lot, option, decoder_.fade(lot), spec.from, put_by_);
    if (best > spec.from) job.not_before = best;
  }
  return job.kg() >= source.batch_min_kg - 1e-9;
}

void PlanSearch::charge(const Job& job) {
  for (int i = 0; i < job.size; ++i) {
    const Part& part = job.parts[static_cast<std::size_t>(i)];
    const Option* option = project_.option(part.lot, job.what);
    if (option == nullptr || option->source == Source::lot)
      left_[static_cast<std::size_t>(part.lot)] = std::max(0.0, left_[static_cast<std::size_t>(part.lot)] - part.kg);
  }
}

void PlanSearch::take_out(std::size_t position) {
  const Job& job = candidate_[position];
  if (job.kind == JobKind::batch)
    for (int i = 0; i < job.size; ++i) {
      const Part& part = job.parts[static_cast<std::size_t>(i)];
      const Option* option = project_.option(part.lot, job.what);
      if (option != nullptr && option->source != Source::lot) continue;
      double& left = left_[static_cast<std::size_t>(part.lot)];
      left = std::min(left + part.kg, project_.lots[static_cast<std::size_t>(part.lot)].source->kg);
    }
  erase_at(position);
}

Time PlanSearch::random_moment(int lot, Time start, measure::Random& rng) const {
  const Time base = start == kNever ? project_.now : start;
  switch (rng.below(4)) {
    case 0:
      return 0;
    case 1: {  // when it has ripened
      const Fade& fade = decoder_.fade(lot);
      const Time reached = fade.reached[rng.below(almanac::kConditions)];
      if (reached > project_.now && reached < project_.horizon) return reached;
      return 0;
    }
    default: {
      const int day = day_of(base) + static_cast<int>(rng.below(7)) - 3;
      return std::clamp(day, 0, project_.days - 1) * kDayMinutes;
    }
  }
}

bool PlanSearch::move_shift(measure::Random& rng) {
  const std::uint32_t n = size_of(candidate_);
  if (n < 2) return false;
  const std::uint32_t from = rng.below(n);
  std::uint32_t to = rng.below(n);
  if (rng.below(3) != 0) {  // mostly near
    const std::uint32_t reach = std::max(2U, n / 5);
    const std::uint32_t low = from > reach ? from - reach : 0;
    to = low + rng.below(std::min(n, from + reach + 1) - low);
  }
  if (from == to) return false;
  const Job job = candidate_[from];
  erase_at(from);
  insert_at(to, job);
  return true;
}

bool PlanSearch::move_swap(measure::Random& rng) {
  const std::uint32_t n = size_of(candidate_);
  if (n < 2) return false;
  const std::uint32_t a = rng.below(n), b = rng.below(n);
  if (a == b) return false;
  std::swap(candidate_[a], candidate_[b]);
  return true;
}

bool PlanSearch::move_reroute(measure::Random& rng) {
  const int at = random_batch(rng);
  if (at < 0) return false;
  const Job old = candidate_[static_cast<std::size_t>(at)];
  const int lot = old.parts[0].lot;
  const Option* option = random_option(lot, rng, rng.below(2) == 0);
  if (option == nullptr || option->route == old.what) return false;
  take_out(static_cast<std::size_t>(at));
  std::size_t position = static_cast<std::size_t>(at);
  for (int batches = 0; batches < 3; ++batches) {
    Job job;
    if (left_[static_cast<std::size_t>(lot)] <= kLeastKg || !make_job(lot, *option, rng, job)) break;
    insert_at(position++, job);
    charge(job);
  }
  return position > static_cast<std::size_t>(at);
}

bool PlanSearch::move_resize(measure::Random& rng) {
  const int at = random_batch(rng);
  if (at < 0) return false;
  Job& job = candidate_[static_cast<std::size_t>(at)];
  const almanac::Route& route = *project_.routes[static_cast<std::size_t>(job.what)].source;
  if (!route.many_lot_with.empty()) {
    const double share = 0.5 + rng.uniform();
    for (int i = 0; i < job.size; ++i) job.parts[static_cast<std::size_t>(i)].kg *= share;
    return true;
  }
  Part& part = job.parts[rng.below(static_cast<std::uint32_t>(job.size))];
  const double others = job.kg() - part.kg;
  const double most = std::min(part.kg + left_[static_cast<std::size_t>(part.lot)], route.batch_max_kg - others);
  double kg = part.kg;
  switch (rng.below(3)) {
    case 0:
      kg = most;
      break;
    case 1: {  // to whole loads
      if (route.load_kg <= 0) return false;
      const double loads = std::floor((others + part.kg) / route.load_kg + 0.01) + static_cast<double>(rng.below(2));
      kg = loads * route.load_kg - others;
      break;
    }
    default:
      kg = part.kg * (0.4 + 0.6 * rng.uniform());
  }
  kg = std::min(kg, most);
  if (kg < kLeastKg || others + kg < route.batch_min_kg || std::abs(kg - part.kg) < 1e-3) return false;
  part.kg = kg;
  return true;
}

bool PlanSearch::move_split(measure::Random& rng) {
  const int at = random_batch(rng);
  if (at < 0) return false;
  Job& job = candidate_[static_cast<std::size_t>(at)];
  const almanac::Route& route = *project_.routes[static_cast<std::size_t>(job.what)].source;
  const double kg = job.kg();
  if (kg < 2 * route.batch_min_kg || route.is_hold) return false;
  double share = 0.3 + 0.4 * rng.uniform();
  if (route.load_kg > 0 && kg > route.load_kg)
    share = route.load_kg * std::max(1.0, std::floor(share * kg / route.load_kg)) / kg;
  if (share * kg < route.batch_min_kg || (1 - share) * kg < route.batch_min_kg) return false;
  Job rest = job;
  for (int i = 0; i < job.size; ++i) {
    const auto k = static_cast<std::size_t>(i);
    rest.parts[k].kg = job.parts[k].kg * (1 - share);
    job.parts[k].kg *= share;
  }
  const std::size_t to = rng.below(2) == 0 ? static_cast<std::size_t>(at) + 1 : rng.below(size_of(candidate_) + 1);
  insert_at(to, rest);
  return true;
}

bool PlanSearch::move_merge(measure::Random& rng) {
  const int at = random_batch(rng);
  if (at < 0) return false;
  const Job first = candidate_[static_cast<std::size_t>(at)];
  const almanac::Route& route = *project_.routes[static_cast<std::size_t>(first.what)].source;
  if (route.is_hold) return false;
  const std::uint32_t n = size_of(candidate_), offset = rng.below(n);
  for (std::uint32_t k = 0; k < n; ++k) {
    const std::size_t other = (offset + k) % n;
    const Job& job = candidate_[other];
    if (other == static_cast<std::size_t>(at) || job.kind != JobKind::batch || job.what != first.what) continue;
    Job both = first;
    bool fits = true;
    for (int i = 0; i < job.size && fits; ++i) {
      const Part& part = job.parts[static_cast<std::size_t>(i)];
      bool known = false;
      for (int m = 0; m < both.size; ++m)
        if (both.parts[static_cast<std::size_t>(m)].lot == part.lot) {
          both.parts[static_cast<std::size_t>(m)].kg += part.kg;
          known = true;
        }
      if (known) continue;
      fits = both.size < kMostParts;
      if (fits) both.add(part.lot, part.kg);
    }
    if (!fits || both.kg() > route.batch_max_kg + 1e-6) continue;
    both.not_before = std::max(first.not_before, job.not_before);
    candidate_[static_cast<std::size_t>(at)] = both;
    erase_at(other);
    return true;
  }
  return false;
}

bool PlanSearch::move_drop(measure::Random& rng) {
  const int at = random_batch(rng);
  if (at < 0) return false;
  take_out(static_cast<std::size_t>(at));
  if (rng.below(2) == 0) return true;
  const int lot = random_lot_with_left(rng);  // what it made way for
  Job job;
  const Option* option = lot < 0 ? nullptr : random_option(lot, rng, true);
  if (option != nullptr && make_job(lot, *option, rng, job)) insert_at(rng.below(size_of(candidate_) + 1), job);
  return true;
}

bool PlanSearch::move_add(measure::Random& rng) {
  const int lot = random_lot_with_left(rng);
  if (lot < 0) return false;
  const Option* option = random_option(lot, rng, rng.below(3) != 0);
  Job job;
  if (option == nullptr || !make_job(lot, *option, rng, job)) return false;
  if (rng.below(4) == 0) job.not_before = random_moment(lot, kNever, rng);
  insert_at(rng.below(size_of(candidate_) + 1), job);
  return true;
}

bool PlanSearch::move_when(measure::Random& rng) {
  if (candidate_.empty()) return false;
  const std::uint32_t at = rng.below(size_of(candidate_));
  Job& job = candidate_[at];
  const Time start = at < seen_.size() ? seen_[at].start : kNever;
  const Time moment = random_moment(job.size > 0 ? job.parts[0].lot : 0, start, rng);
  if (job.kind != JobKind::batch && job.size == 0 && moment != 0 && moment % kDayMinutes != 0) return false;
  if (moment == job.not_before) return false;
  job.not_before = moment;
  return true;
}

bool PlanSearch::move_hold(measure::Random& rng) {
  scratch_.clear();
  for (std::size_t l = 0; l < project_.lots.size(); ++l)
    if (!project_.lots[l].hold_places.empty()) scratch_.push_back(static_cast<int>(l));
  if (scratch_.empty()) return false;
  const int lot = scratch_[rng.below(static_cast<std::uint32_t>(scratch_.size()))];
  const auto& places = project_.lots[static_cast<std::size_t>(lot)].hold_places;
  Job job{.kind = JobKind::hold, .what = places[rng.below(static_cast<std::uint32_t>(places.size()))]};
  job.add(lot, 0);
  if (rng.below(3) == 0) job.not_before = random_moment(lot, kNever, rng);
  for (std::size_t i = 0; i < candidate_.size(); ++i) {
    if (candidate_[i].kind != JobKind::hold || candidate_[i].parts[0].lot != lot) continue;
    erase_at(i);
    if (rng.below(2) == 0) return true;
    break;
  }
  // Before every batch of the lot, or the decoder would have to leave it out.
  std::size_t first = 0;
  while (first < candidate_.size() && !(candidate_[first].kind == JobKind::batch && candidate_[first].has(lot)))
    ++first;
  insert_at(rng.below(static_cast<std::uint32_t>(first) + 1), job);
  return true;
}

/// Takes out every batch of a lot, of a day, or of one route, and puts the food back in the best of a few places.
bool PlanSearch::move_rebuild(measure::Random& rng, double progress) {
  const int seed = random_batch(rng);
  if (seed < 0) return false;
  const Job pivot = candidate_[static_cast<std::size_t>(seed)];
  const Time start =
      static_cast<std::size_t>(seed) < seen_.size() ? seen_[static_cast<std::size_t>(seed)].start : kNever;
  const std::uint32_t kind = rng.below(3);
  const int most = progress < 0.3 ? 4 : 3;
  int taken = 0;
  scratch_.clear();
  for (std::size_t i = candidate_.size(); i-- > 0 && taken < most;) {
    const Job& job = candidate_[i];
    if (job.kind != JobKind::batch) continue;
    bool out = static_cast<int>(i) == seed;
    if (kind == 0) out = out || job.has(pivot.parts[0].lot);
    if (kind == 1)
      out = out || (i < seen_.size() && start != kNever && std::abs(seen_[i].start - start) < kDayMinutes / 2 &&
                    rng.below(2) == 0);
    if (kind == 2) out = out || (job.what == pivot.what && rng.below(2) == 0);
    if (!out) continue;
    for (int p = 0; p < job.size; ++p) scratch_.push_back(job.parts[static_cast<std::size_t>(p)].lot);
    take_out(i);
    ++taken;
  }
  for (std::size_t i = scratch_.size(); i > 1; --i)
    std::swap(scratch_[i - 1], scratch_[rng.below(static_cast<std::uint32_t>(i))]);
  for (const int lot : scratch_)
    for (int batches = 0; batches < 3 && pending_.size() < 5; ++batches) {
      Job job;
      if (left_[static_cast<std::size_t>(lot)] <= kLeastKg) break;
      const Option* option = random_option(lot, rng, true);
      if (option == nullptr || !make_job(lot, *option, rng, job)) break;
      pending_.push_back(job);
      charge(job);
    }
  trials_ = rng.next();
  return taken > 0;
}

bool PlanSearch::move_trip(measure::Random& rng) {
  if (project_.trip.teams.empty()) return false;
  for (std::size_t i = 0; i < candidate_.size(); ++i) {
    if (candidate_[i].kind != JobKind::trip || rng.below(2) != 0) continue;
    if (rng.below(2) == 0) {
      erase_at(i);
    } else {
      candidate_[i].not_before = static_cast<Time>(rng.below(static_cast<std::uint32_t>(project_.days))) * kDayMinutes;
    }
    return true;
  }
  insert_at(0, {.kind = JobKind::trip,
                .not_before = static_cast<Time>(rng.below(static_cast<std::uint32_t>(project_.days))) * kDayMinutes});
  return true;
}

}  // namespace stillroom::planning::detail
