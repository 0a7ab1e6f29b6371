#include "planning/detail/search.h"

#include <cmath>
#include <limits>

namespace stillroom::planning::detail {
namespace {

constexpr int kTidyAfter = 24;  // accepted moves
// Between plans of equal worth the one with fewer and earlier jobs is better: cents, so that worth always decides.
constexpr double kPerJob = 0.002, kPerDay = 0.0005;  // USD
constexpr double kLeastHours = 0.01;                 // per kg
constexpr double kSeldomMore = 0.7;                  // share of its best that a way seldom exceeds
constexpr double kPerMove = 0.1;                     // USD: nobody carries a basket about for a few cents

}  // namespace

PlanSearch::PlanSearch(const Project& project)
    : project_(project), appraiser_(project), schedule_(project), objective_(project) {
  urgency_.resize(project.lots.size());
}

double PlanSearch::weigh() {
  ++schedules_;
  const double worth = objective_.weigh(schedule_).total();
  const Objective::Tally& tally = objective_.tally();
  return kPerMove * tally.moves + kPerJob * tally.jobs + kPerDay * tally.minutes / kDayMinutes - worth;
}

double PlanSearch::fill_with(const JobList& list) {
  schedule_.fill(list);
  return cost_ = weigh();
}

double PlanSearch::fill_with(const PinnedList& list) {
  schedule_.fill(list);
  return cost_ = weigh();
}

double PlanSearch::fill_up(measure::Random& rng) {
  lots_.clear();
  work_.clear();
  for (int lot = 0; lot < static_cast<int>(project_.lots.size()); ++lot) want(lot);
  for (int o = 0; o < static_cast<int>(project_.other.size()); ++o) {
    const auto is_it = [&](int id) {
      return schedule_.placed(id).job.kind == JobKind::other && schedule_.placed(id).job.what == o;
    };
    if (std::none_of(schedule_.ids().begin(), schedule_.ids().end(), is_it)) work_.push_back(o);
  }
  put_back(rng);
  schedule_.tidy();
  return cost_ = weigh();
}

scheduling::Evaluation PlanSearch::start(measure::Random&) {
  cost_ = weigh();
  return {cost_, 1};
}

int PlanSearch::propose(measure::Random& rng, double progress) {
  mark_ = schedule_.mark();
  // Shares of the moves at the beginning and at the end of a search: the nearer to the end, the more is gained by the
  // small ones for their time. Measured on generated households (docs/planning.md).
  static constexpr std::array<double, kMoves> kFirst = {14, 10, 9, 8, 14, 12, 7, 7, 6, 2, 12, 6};
  static constexpr std::array<double, kMoves> kLast = {14, 7, 9, 7, 30, 14, 7, 5, 6, 2, 16, 6};
  std::array<double, kMoves> share{};
  double total = 0;
  for (std::size_t m = 0; m < kMoves; ++m) total += share[m] = std::lerp(kFirst[m], kLast[m], progress);
  for (int tries = 0; tries < 20; ++tries) {
    lots_.clear();
    work_.clear();
    keep_order_ = false;
    double draw = rng.uniform() * total;
    int move = 0;
    while (move + 1 < kMoves && draw >= share[static_cast<std::size_t>(move)])
      draw -= share[static_cast<std::size_t>(move++)];
    if (!try_move(static_cast<Move>(move), rng)) continue;
    put_back(rng);
    return move;
  }
  now_ = cost_;
  return fill;  // nothing to change: the candidate is the incumbent
}

scheduling::Evaluation PlanSearch::evaluate(double) {
  if (!schedule_.board().rooms_hold()) now_ = std::numeric_limits<double>::infinity();
  return {now_, 1};
}

void PlanSearch::accept() {
  cost_ = now_;
  if (++accepted_ % kTidyAfter == 0) {
    schedule_.tidy();
  } else {
    schedule_.commit();
  }
}

void PlanSearch::reject() { schedule_.rollback(mark_); }

void PlanSearch::load(const Snapshot& in) {
  schedule_.load(in);
  cost_ = weigh();
}

double PlanSearch::left(int lot) const {
  const LotSpec& spec = project_.lots[static_cast<std::size_t>(lot)];
  return spec.source->kg - schedule_.taken(lot);
}

double PlanSearch::pool_left(const Option& option) const {
  if (option.source == Source::held) {
    const HeldPool& pool = schedule_.held(option.pool);
    return pool.active ? pool.mass - pool.taken : 0;
  }
  return schedule_.by_product_left(option.pool);
}

void PlanSearch::want(int lot) {
  if (std::find(lots_.begin(), lots_.end(), lot) == lots_.end()) lots_.push_back(lot);
}

/// Lots and work in a random order, the most urgent first, or what an hour does most for first.
void PlanSearch::order_lots(measure::Random& rng) {
  const std::size_t from = keep_order_ ? 1 : 0;
  for (std::size_t i = lots_.size(); i > from + 1; --i)
    std::swap(lots_[i - 1], lots_[from + rng.below(static_cast<std::uint32_t>(i - from))]);
  const std::uint32_t kind = rng.below(4);
  if (kind < 2) return;
  for (std::size_t i = from; i < lots_.size(); ++i) {
    const int lot = lots_[i];
    double best = 0, urgency = 0;
    for (const Option& option : project_.lots[static_cast<std::size_t>(lot)].options) {
      if (option.source != Source::lot) continue;
      const Fade& fade = schedule_.fade(lot);
      const Appraisal a =
          appraiser_.at(lot, option, fade, project_.lots[static_cast<std::size_t>(lot)].from, objective_.put_by());
      const double net = a.net(project_.h.effort_per_hour);
      if (net <= best) continue;
      best = net;
      urgency =
          kind == 2 ? -static_cast<double>(appraiser_.last_time(lot, option, fade)) : net / std::max(0.01, a.hours);
    }
    urgency_[static_cast<std::size_t>(lot)] = urgency;
  }
  std::sort(lots_.begin() + static_cast<std::ptrdiff_t>(from), lots_.end(), [&](int a, int b) {
    const double ua = urgency_[static_cast<std::size_t>(a)], ub = urgency_[static_cast<std::size_t>(b)];
    return ua != ub ? ua > ub : a < b;
  });
}

void PlanSearch::put_back(measure::Random& rng) {
  now_ = weigh();
  order_lots(rng);
  const bool work_first = rng.below(2) == 0;
  if (work_first)
    for (const int other : work_) place_work(other, rng);
  for (const int lot : lots_) place_lot(lot, rng);
  if (!work_first)
    for (const int other : work_) place_work(other, rng);
}

void PlanSearch::place_work(int other, measure::Random& rng) {
  Job job{.kind = JobKind::other, .what = other};
  const OtherSpec& spec = project_.other[static_cast<std::size_t>(other)];
  if (rng.below(3) == 0) {
    const int first = day_of(spec.from),
              days = std::max(1, day_of(std::min(spec.due, project_.horizon - 1)) - first + 1);
    job.not_before = (first + static_cast<int>(rng.below(static_cast<std::uint32_t>(days)))) * kDayMinutes;
  }
  if (schedule_.insert(job) >= 0) now_ = weigh();
}

void PlanSearch::place_lot(int lot, measure::Random& rng) {
  constexpr int kMostBatches = 4;
  for (int batches = 0; batches < kMostBatches; ++batches)
    if (!place_best(lot, rng)) return;
}

/// Tries a few ways to use what is left of a lot and keeps the one that does most; false when none helps.
bool PlanSearch::place_best(int lot, measure::Random& rng) {
  const int trials = sample_options(lot, rng, 1 + static_cast<int>(rng.below(3)));
  double best = now_ - 1e-9;
  bool found = false, standing = false;
  for (int t = 0; t < trials; ++t) {
    Job job;
    const Scored& way = options_[static_cast<std::size_t>(t)];
    if (!make_job(lot, *way.option, rng, job)) continue;
    // What it would bring at its best, hurried by nothing: not tried when that hardly beats what is found.
    if (found && kSeldomMore * way.net * job.kg() <= now_ - best) continue;
    const Schedule::Mark before = schedule_.mark();
    const int id = schedule_.insert(job);
    if (id < 0) continue;
    const double cost = weigh();
    standing = cost < best;
    if (standing) {
      best = cost;
      found = true;
      if (t + 1 == trials) break;  // stands already
      schedule_.remember(id, before, trial_);
    }
    schedule_.rollback(before);
    standing = false;
  }
  if (!found) return false;
  if (!standing) schedule_.insert_again(trial_);
  now_ = best;
  return true;
}

/// The options of a lot worth most for what is scarce, between a kilogram of food and an hour of hands, each seen a
/// little differently every time.
int PlanSearch::sample_options(int lot, measure::Random& rng, int most) {
  const LotSpec& spec = project_.lots[static_cast<std::size_t>(lot)];
  const double scarce = std::max(0.0, rng.uniform() * 1.4 - 0.4);  // 0: food, 1: hours
  const Fade& fade = schedule_.fade(lot);
  const double own = left(lot);
  options_.clear();
  for (const Option& option : spec.options) {
    if (option.source == Source::lot ? own <= kLeastKg : pool_left(option) <= kLeastKg) continue;
    double score = 0, net = std::numeric_limits<double>::infinity();
    if (project_.routes[static_cast<std::size_t>(option.route)].source->is_hold) {
      if (rng.below(8) != 0) continue;  // worth nothing in itself: only trying tells
      score = 1e6;
    } else {
      const Appraisal then = appraiser_.best(lot, option, fade, spec.from, objective_.put_by()).then;
      net = then.net(project_.h.effort_per_hour);
      score = net * (0.5 + rng.uniform());
      if (score > 0 && scarce > 0) score *= std::pow(std::max(kLeastHours, then.hours), -scarce);
    }
    if (score > 0) options_.push_back({&option, score, net});
  }
  const auto keep = std::min(options_.size(), static_cast<std::size_t>(most));
  std::partial_sort(
      options_.begin(), options_.begin() + static_cast<std::ptrdiff_t>(keep), options_.end(),
      [](const Scored& a, const Scored& b) { return a.score != b.score ? a.score > b.score : a.option < b.option; });
  return static_cast<int>(keep);
}

/// A batch of what is left of a lot by an option, with company when there is room.
bool PlanSearch::make_job(int lot, const Option& option, measure::Random& rng, Job& job) const {
  const RouteSpec& route = project_.routes[static_cast<std::size_t>(option.route)];
  const almanac::Route& source = *route.source;
  const double own = option.source == Source::lot ? left(lot) : pool_left(option);
  job = Job{.what = option.route};
  double share = 1, most = own;
  std::array<int, kMostParts> seconds{};
  for (std::size_t j = 0; j < route.seconds.size(); ++j) {
    const auto& lots = route.seconds[j];
    if (lots.empty()) return false;
    seconds[j] = lots[rng.below(static_cast<std::uint32_t>(lots.size()))];
    share += source.many_lot_kg[j];
    most = std::min(most, left(seconds[j]) / source.many_lot_kg[j]);
  }
  double size = batch_size(source, most * share);
  if (rng.below(5) == 0) size *= 0.4 + 0.6 * rng.uniform();
  job.add(lot, size / share);
  for (std::size_t j = 0; j < route.seconds.size(); ++j) job.add(seconds[j], size / share * source.many_lot_kg[j]);
  const bool company = route.seconds.empty() && !source.is_hold && option.source == Source::lot && size > own - 1e-9;
  if (company && rng.below(4) != 0)
    for (const int other : route.mains) {
      if (other == lot) continue;
      if (job.size == kMostParts) break;
      const double more = std::min(left(other), source.batch_max_kg - job.kg());
      if (more <= kLeastKg) continue;
      const Time from = project_.lots[static_cast<std::size_t>(other)].from;
      if (appraiser_.at(other, option, schedule_.fade(other), from, objective_.put_by()).worth > 0)
        job.add(other, more);
    }
  if (job.kg() < source.batch_min_kg - 1e-9) return false;
  job.not_before = random_moment(lot, option, rng);
  return true;
}

/// Mostly as soon as possible or as soon as it is at its best; now and then some later day.
Time PlanSearch::random_moment(int lot, const Option& option, measure::Random& rng) const {
  const LotSpec& spec = project_.lots[static_cast<std::size_t>(lot)];
  const std::uint32_t kind = rng.below(10);
  if (kind < 2) {
    const Time last =
        option.source == Source::lot ? appraiser_.last_time(lot, option, schedule_.fade(lot)) : project_.horizon;
    const int first_day = day_of(spec.from), days = std::max(1, day_of(last - 1) - first_day + 1);
    const int reach = kind == 0 ? days : std::min(days, 7);
    return (first_day + static_cast<int>(rng.below(static_cast<std::uint32_t>(reach)))) * kDayMinutes;
  }
  if (kind < 7 && option.source == Source::lot) {
    const Time best = appraiser_.best(lot, option, schedule_.fade(lot), spec.from, objective_.put_by()).when;
    if (best > spec.from) return best;
  }
  return 0;
}

}  // namespace stillroom::planning::detail
