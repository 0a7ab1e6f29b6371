#include "planning/detail/dispatch.h"

#include <numeric>

namespace stillroom::planning::detail {
namespace {

constexpr int kMostBatchesOfLot = 16;
constexpr Time kCompanyWithin = kDayMinutes;  // lots of one crop that come in within a day go together
constexpr double kHoursLeast = 0.01;          // per kg
constexpr double kFadesLeast = 1.0 / 60;      // share a day: what keeps longer counts as keeping two months

}  // namespace

Dispatcher::Dispatcher(PlanSearch& search)
    : search_(search),
      schedule_(search.schedule()),
      project_(search.schedule().project()),
      appraiser_(search.appraiser()) {}

double Dispatcher::run(const Rule& rule, std::span<const double> number) {
  rule_ = rule;
  number_ = number;
  giving_ = false;
  schedule_.clear();
  work_done_.assign(project_.other.size(), 0);
  go_shopping();
  if (rule.hold_cold) hold_cold();
  if (rule.work_first) place_work(project_.now, project_.horizon);
  cost_ = search_.weigh();
  rule.day_by_day || rule.one_lot_a_day ? days() : whole_list();
  use_by_products();
  giving_ = true;
  whole_list();
  place_work(project_.now, project_.horizon);
  finish();
  return search_.weigh();
}

void Dispatcher::go_shopping() {
  for (Time week = 0; week < project_.horizon; week += 7 * kDayMinutes)
    schedule_.insert({.kind = JobKind::trip, .not_before = week});
}

/// Every lot to where it fades least, in order of coming in; what finds no room stays where it is.
void Dispatcher::hold_cold() {
  std::vector<int> lots(project_.lots.size());
  std::iota(lots.begin(), lots.end(), 0);
  std::stable_sort(lots.begin(), lots.end(), [&](int a, int b) { return lot_spec(a).from < lot_spec(b).from; });
  for (const int lot : lots) {
    const LotSpec& spec = lot_spec(lot);
    const Time later = std::min(project_.horizon, spec.from + 7 * kDayMinutes);
    double most = spec.fade.usable_at(later) + 0.02;
    Job job{.kind = JobKind::hold, .what = -1};
    for (const int place : spec.hold_places) {
      Fade moved = spec.fade;
      moved.moved = spec.from;
      moved.second_place = place;
      if (moved.usable_at(later) <= most) continue;
      most = moved.usable_at(later);
      job.what = place;
    }
    job.add(lot, 0);
    if (job.what >= 0) schedule_.insert(job);
  }
}

/// Work that can begin in [from, until), earliest deadline first.
void Dispatcher::place_work(Time from, Time until) {
  std::vector<int> work(project_.other.size());
  std::iota(work.begin(), work.end(), 0);
  const auto due = [&](int o) { return project_.other[static_cast<std::size_t>(o)].due; };
  std::stable_sort(work.begin(), work.end(), [&](int a, int b) { return due(a) < due(b); });
  for (const int o : work) {
    if (work_done_[static_cast<std::size_t>(o)] != 0 || project_.other[static_cast<std::size_t>(o)].from >= until)
      continue;
    const Schedule::Mark before = schedule_.mark();
    const int id = schedule_.insert({.kind = JobKind::other, .what = o, .not_before = from});
    if (id < 0) continue;
    if (schedule_.placed(id).start >= until) {
      schedule_.rollback(before);
    } else {
      work_done_[static_cast<std::size_t>(o)] = 1;
    }
  }
  cost_ = search_.weigh();
}

void Dispatcher::whole_list() {
  ranked_.clear();
  for (int lot = 0; lot < static_cast<int>(project_.lots.size()); ++lot)
    ranked_.push_back({turn_of(lot, lot_spec(lot).from), lot});
  std::stable_sort(ranked_.begin(), ranked_.end(), [](const Ranked& a, const Ranked& b) { return a.turn < b.turn; });
  for (const Ranked& next : ranked_) place_lot(next.lot, lot_spec(next.lot).from, kNever);
}

void Dispatcher::days() {
  for (int day = day_of(project_.now); day < project_.days; ++day) {
    const Time morning = std::max(project_.now, day * kDayMinutes), night = (day + 1) * kDayMinutes;
    ranked_.clear();
    for (int lot = 0; lot < static_cast<int>(project_.lots.size()); ++lot) {
      const LotSpec& spec = lot_spec(lot);
      if (spec.from >= night || left(lot) <= kLeastKg || (spec.standing && spec.pick_by <= morning)) continue;
      const double turn = turn_of(lot, std::max(morning, spec.from));
      if (!ways_.empty()) ranked_.push_back({turn, lot});
    }
    std::stable_sort(ranked_.begin(), ranked_.end(), [](const Ranked& a, const Ranked& b) { return a.turn < b.turn; });
    for (const Ranked& next : ranked_)
      if (today(next.lot, morning, night) && rule_.one_lot_a_day) break;
    if (!rule_.work_first) place_work(morning, night);
  }
}

/// What of a lot can begin today; one that is better kept waits.
bool Dispatcher::today(int lot, Time morning, Time night) {
  const Time t = std::max(morning, lot_spec(lot).from);
  refused_.clear();
  ways_at(lot, t);
  if (ways_.empty() || ways_.front().when >= night) return false;
  return place_lot(lot, t, night);
}

void Dispatcher::ways_at(int lot, Time t) {
  ways_.clear();
  const LotSpec& spec = lot_spec(lot);
  const Fade& fade = schedule_.fade(lot);
  for (const Option& option : spec.options) {
    const RouteSpec& route = route_of(option.route);
    if (option.source != Source::lot || route.source->is_hold || route.gives_away != giving_) continue;
    if (std::find(refused_.begin(), refused_.end(), option.route) != refused_.end()) continue;
    const Time when = appraiser_.best_time(lot, option, fade, t, search_.objective().put_by());
    const Appraisal a = appraiser_.at(lot, option, fade, when, search_.objective().put_by());
    const double net = a.net(project_.h.effort_per_hour + rule_.hour_price);
    const double hours = std::max(kHoursLeast, a.hours);
    if (net > 0) ways_.push_back({&option, net, hours, when});
  }
  std::stable_sort(ways_.begin(), ways_.end(), [](const Way& a, const Way& b) { return a.net > b.net; });
}

/// Smaller comes sooner. Leaves the ways of the lot in `ways_`.
double Dispatcher::turn_of(int lot, Time t) {
  refused_.clear();
  ways_at(lot, t);
  if (rule_.turn == Turn::by_number) return number_[static_cast<std::size_t>(lot)];
  if (rule_.turn == Turn::first_come) return lot_spec(lot).source->ready;
  if (ways_.empty()) return 0;
  const Way& way = ways_.front();
  const Fade& fade = schedule_.fade(lot);
  const auto last = [&] { return appraiser_.last_time(lot, *way.option, fade); };
  switch (rule_.turn) {
    case Turn::spoils_first:
      return last();
    case Turn::least_laxity:
      return last() - t - 60 * way.per_kg_hours * left(lot);
    case Turn::dearest_lot:
      return -way.net * left(lot);
    case Turn::dearest_kg:
      return -way.net;
    case Turn::worst_looking:
      if (lot_spec(lot).hazard_by != kNever) return -2 * almanac::kConditions;
      return fade.usable_at(lot_spec(lot).standing ? 0 : t) - fade.condition_at(lot_spec(lot).standing ? 0 : t);
    case Turn::paid_hour:
      return -way.net / way.per_kg_hours;
    default:
      break;
  }
  const Time tomorrow = std::max(t, way.when) + kDayMinutes;
  const double hour = project_.h.effort_per_hour + rule_.hour_price;
  const double later =
      tomorrow > last()
          ? 0
          : std::max(0.0, appraiser_.at(lot, *way.option, fade, tomorrow, search_.objective().put_by()).net(hour));
  const double lost = std::max(0.0, way.net - later);
  if (rule_.turn == Turn::lost_per_hour) return -lost / way.per_kg_hours;
  return -way.net / way.per_kg_hours / std::max(kFadesLeast, lost / way.net);
}

bool Dispatcher::place_lot(int lot, Time t, Time until) {
  refused_.clear();
  bool any = false;
  int only = -1;
  for (int batches = 0; batches < kMostBatchesOfLot && left(lot) > kLeastKg;) {
    ways_at(lot, t);
    if (ways_.empty()) break;
    const Way way = ways_.front();
    if (only >= 0 && way.option->route != only) break;
    if (way.when < until && try_way(lot, way, t, until)) {
      any = true;
      ++batches;
      if (rule_.one_lot_a_day && !giving_) only = way.option->route;
    } else {
      refused_.push_back(way.option->route);
    }
  }
  return any;
}

bool Dispatcher::try_way(int lot, const Way& way, Time t, Time until) {
  Job job;
  if (!make_job(lot, way, until, job)) return false;
  job.not_before = std::max(t, way.when);
  return take(job, until);
}

/// Puts a batch in if it begins in time and the plan is worth more with it.
bool Dispatcher::take(const Job& job, Time until) {
  const Schedule::Mark before = schedule_.mark();
  const int id = schedule_.insert(job);
  if (id < 0) return false;
  if (schedule_.placed(id).start < until) {
    const double cost = search_.weigh();
    if (cost < cost_) {
      cost_ = cost;
      schedule_.commit();
      return true;
    }
  }
  schedule_.rollback(before);
  return false;
}

bool Dispatcher::make_job(int lot, const Way& way, Time until, Job& job) const {
  const RouteSpec& route = route_of(way.option->route);
  const almanac::Route& source = *route.source;
  job = Job{.what = way.option->route};
  if (!route.seconds.empty()) return add_seconds(lot, route, job);
  const double own = left(lot);
  job.add(lot, batch_size(source, own));
  if (job.kg() < own - 1e-9) return true;
  const Time company = until == kNever ? lot_spec(lot).from + kCompanyWithin : until;
  const Option same{.route = job.what, .source = Source::lot};
  for (const int other : route.mains) {
    if (job.size == kMostParts) break;
    if (other == lot || lot_spec(other).from >= company || lot_spec(other).standing != lot_spec(lot).standing) continue;
    const double more = std::min(left(other), source.batch_max_kg - job.kg());
    if (more <= kLeastKg) continue;
    const Time then = std::max(way.when, lot_spec(other).from);
    if (appraiser_.at(other, same, schedule_.fade(other), then, search_.objective().put_by()).worth > 0)
      job.add(other, more);
  }
  return job.kg() >= source.batch_min_kg - 1e-9;
}

/// A recipe of several crops: of each the lot there is most of.
bool Dispatcher::add_seconds(int lot, const RouteSpec& route, Job& job) const {
  const almanac::Route& source = *route.source;
  double share = 1, main = left(lot);
  std::array<int, kMostParts> seconds{};
  if (route.seconds.size() >= seconds.size()) return false;
  for (std::size_t j = 0; j < route.seconds.size(); ++j) {
    int best = -1;
    for (const int other : route.seconds[j])
      if (best < 0 || left(other) > left(best)) best = other;
    if (best < 0 || left(best) <= kLeastKg) return false;
    seconds[j] = best;
    share += source.many_lot_kg[j];
    main = std::min(main, left(best) / source.many_lot_kg[j]);
  }
  main = batch_size(source, main * share) / share;
  job.add(lot, main);
  for (std::size_t j = 0; j < route.seconds.size(); ++j) job.add(seconds[j], main * source.many_lot_kg[j]);
  return main * share >= source.batch_min_kg;
}

void Dispatcher::use_by_products() {
  for (int lot = 0; lot < static_cast<int>(project_.lots.size()); ++lot)
    for (const Option& option : lot_spec(lot).options) {
      if (option.source != Source::by_product || schedule_.by_product_left(option.pool) <= kLeastKg) continue;
      Job job{.what = option.route};
      job.add(lot, std::min(schedule_.by_product_left(option.pool), route_of(option.route).source->batch_max_kg));
      take(job, kNever);
    }
}

/// Trips that brought nothing are not made.
void Dispatcher::finish() {
  schedule_.tidy();
  const std::vector<int> ids = schedule_.ids();
  for (const int id : ids)
    if (schedule_.placed(id).job.kind == JobKind::trip && !schedule_.is_needed(id)) schedule_.remove(id);
  schedule_.tidy();
}

double Dispatcher::left(int lot) const { return lot_spec(lot).source->kg - schedule_.taken(lot); }

}  // namespace stillroom::planning::detail
