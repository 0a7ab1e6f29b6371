#include "planning/detail/bound_time.h"

namespace stillroom::planning::detail {
namespace {

constexpr int kMostLoads = 400;  // more than any batch has; beyond it nothing is claimed
constexpr double kSizeSlack = 1e-6;

/// First moment >= t inside; kNever if there is none.
Time next_inside(const Windows& windows, Time t) {
  for (const auto& w : windows)
    if (w.to > t) return std::max(w.from, t);
  return kNever;
}

/// Last moment <= t at which a stage may start; -1 if there is none.
Time last_start_inside(const Windows& windows, Time t) {
  Time last = -1;
  for (const auto& w : windows) {
    if (w.from > t) break;
    last = std::min(t, w.to - kGrain);
  }
  return last;
}

/// Last moment <= t at which a stage may end; -1 if there is none.
Time last_end_inside(const Windows& windows, Time t) {
  Time last = -1;
  for (const auto& w : windows) {
    if (w.from >= t) break;
    last = std::min(t, w.to);
  }
  return last;
}

Time window_end(const Windows& windows, Time t) {
  for (const auto& w : windows)
    if (w.from <= t && t < w.to) return w.to;
  return t;
}

int loads_for_kg(double kg, double load_kg) {
  return load_kg > 0 ? std::max(1, static_cast<int>(std::ceil(kg / load_kg - 1e-9))) : 1;
}

/// Least a(k) b(k) / k for k in [low, high] at a fixed number of loads: the sum of a hyperbola, a constant and a line.
double least_in(const almanac::Scaled& a, const almanac::Scaled& b, int loads, double low, double high) {
  const double a0 = a.fixed + a.per_load * loads, b0 = b.fixed + b.per_load * loads;
  const auto at = [&](double k) { return std::max(0.0, a0 + a.per_kg * k) * std::max(0.0, b0 + b.per_kg * k) / k; };
  double least = std::min(at(low), at(high));
  const double bend = a.per_kg * b.per_kg;
  if (a0 * b0 > 0 && bend > 0) {
    const double k = std::sqrt(a0 * b0 / bend);
    if (k > low && k < high) least = std::min(least, at(k));
  }
  return least;
}

}  // namespace

double overlap(const Windows& windows, Time from, Time to) {
  double sum = 0;
  for (const auto& w : windows) sum += std::max(0, std::min(w.to, to) - std::max(w.from, from));
  return sum;
}

FreeTimes::FreeTimes(const Project& project) : project_(project) {}

std::uint32_t FreeTimes::of_age(int least_age) const {
  std::uint32_t mask = 0;
  for (std::size_t p = 0; p < project_.h.hands.size(); ++p)
    if (project_.h.hands[p].age >= least_age) mask |= 1U << p;
  return mask;
}

std::uint32_t FreeTimes::eligible(const StageSpec& stage) const {
  if (stage.source == nullptr) return of_age(kPickLeastAge);
  std::uint32_t mask = of_age(stage.source->least_age);
  if (stage.hands != 1 || stage.source->skill.empty()) return mask;
  for (std::size_t p = 0; p < project_.h.hands.size(); ++p) {
    const auto& skills = project_.h.hands[p].skills;
    if (std::find(skills.begin(), skills.end(), stage.source->skill) == skills.end()) mask &= ~(1U << p);
  }
  return mask;
}

Windows FreeTimes::weather(int window) const {
  Windows out;
  if (window < 0) return {{0, kNever}};
  const auto& steps = project_.windows[static_cast<std::size_t>(window)]->steps();
  for (std::size_t i = 0; i < steps.size(); ++i)
    if (steps[i].capacity > 0) out.push_back({steps[i].from, i + 1 < steps.size() ? steps[i + 1].from : kNever});
  return out;
}

const Windows& FreeTimes::any_of(std::uint32_t mask, int window) const {
  for (const Known& k : known_)
    if (k.mask == mask && k.window == window) return k.windows;
  Windows each, all;
  for (std::size_t p = 0; p < project_.hand_free.size(); ++p)
    if ((mask >> p & 1U) != 0) each.insert(each.end(), project_.hand_free[p].begin(), project_.hand_free[p].end());
  std::sort(each.begin(), each.end(), [](const auto& a, const auto& b) { return a.from < b.from; });
  for (const auto& w : each) {
    if (!all.empty() && w.from <= all.back().to) {
      all.back().to = std::max(all.back().to, w.to);
    } else {
      all.push_back(w);
    }
  }
  known_.push_back({mask, window, intersection(all, weather(window))});
  return known_.back().windows;
}

double FreeTimes::minutes(int person, int window, int day) const {
  return overlap(any_of(1U << person, window), day * kDayMinutes, (day + 1) * kDayMinutes);
}

double FreeTimes::any_minutes(std::uint32_t mask, int day) const {
  return overlap(any_of(mask, -1), day * kDayMinutes, (day + 1) * kDayMinutes);
}

double FreeTimes::longest(std::uint32_t mask, int window) const {
  double most = 0;
  for (std::size_t p = 0; p < project_.hand_free.size(); ++p) {
    if ((mask >> p & 1U) == 0) continue;
    for (const auto& w : any_of(1U << p, window)) most = std::max(most, static_cast<double>(w.to - w.from));
  }
  return most;
}

double FreeTimes::most_usable(std::uint32_t mask) const {
  double most = 0.01;
  for (std::size_t p = 0; p < project_.h.hands.size(); ++p)
    if ((mask >> p & 1U) != 0) most = std::max(most, project_.h.hands[p].usable_share);
  return most;
}

double FreeTimes::least_usable(std::uint32_t mask) const {
  double least = 1;
  for (std::size_t p = 0; p < project_.h.hands.size(); ++p)
    if ((mask >> p & 1U) != 0) least = std::min(least, project_.h.hands[p].usable_share);
  return std::max(least, 0.01);
}

std::optional<std::vector<StageLimits>> limits_of(const Project& project, const FreeTimes& free, const RouteSpec& route,
                                                  Time from, Time to) {
  std::vector<StageLimits> out;
  const almanac::Route& r = *route.source;
  Time earliest = from, latest = to - kGrain;
  bool open_end = false, must = true;  // open_end: `latest` is no limit; must: the stage is placed for certain
  for (std::size_t i = 0; i < route.stages.size(); ++i) {
    const StageSpec& stage = route.stages[i];
    StageLimits s;
    if (i > 0) {
      const StageLimits& before = out.back();
      s.surely_left_out = before.surely_left_out || before.first_end + stage.lag_min >= project.horizon;
      s.may_be_left_out = s.surely_left_out || before.may_be_left_out || before.last_end == kNever ||
                          before.last_end + stage.lag_min >= project.horizon;
      must = !s.may_be_left_out;
      earliest = std::min(before.first_end + stage.lag_min, kNever - 1);
      open_end = before.last_end == kNever || stage.lag_max == kNever;
      latest = open_end ? kNever : before.last_end + stage.lag_max;
    }
    const bool attended = stage.attended();
    const std::uint32_t people = attended ? free.eligible(stage) : 0;
    const double d_low =
        std::max(0.0, std::min(stage.duration.at(r.batch_min_kg, 1),
                               stage.duration.at(r.batch_max_kg, loads_for_kg(r.batch_max_kg, r.load_kg))));
    const double d_high = std::max({0.0, stage.duration.at(r.batch_min_kg, 1),
                                    stage.duration.at(r.batch_max_kg, loads_for_kg(r.batch_max_kg, r.load_kg))});
    const bool by_hand = stage.attention == almanac::Attention::hands_on;
    const Time shortest = grain_length(by_hand ? d_low / free.most_usable(people) : d_low);
    const Time longest = grain_length(by_hand ? d_high / free.least_usable(people) : d_high);
    s.first_start = earliest;
    s.last_start = latest;
    if (attended) {
      const Windows& inside = free.any_of(people, stage.window);
      s.first_start = next_inside(inside, earliest);
      s.last_start = last_start_inside(inside, std::min(latest, project.horizon));
      s.first_end = std::min(s.first_start, kNever / 2) + shortest;
      const Time stretch = longest + (stage.can_pause ? kLongestPause : 0);
      s.last_end = last_end_inside(inside, std::min(project.horizon, s.last_start + stretch));
      if (!stage.can_pause) s.last_end = std::min(s.last_end, window_end(inside, s.last_start));
      const bool never = s.first_start == kNever || s.last_start < s.first_start || s.first_end > project.horizon;
      if (never && must) return std::nullopt;
      if (never) s.surely_left_out = true;
    } else {
      s.first_end = s.first_start + shortest;
      s.last_end = s.last_start == kNever ? kNever : s.last_start + longest;
    }
    out.push_back(s);
  }
  if (out.empty()) return std::nullopt;
  return out;
}

namespace {

/// Most minutes one of `mask` is free in a row, where breaks of up to `lag` do not count as breaks.
double longest_with_breaks(const Windows& windows, Time lag) {
  double most = 0, sum = 0;
  for (std::size_t i = 0; i < windows.size(); ++i) {
    if (i > 0 && windows[i].from - windows[i - 1].to > lag) sum = 0;
    sum += windows[i].to - windows[i].from;
    most = std::max(most, sum);
  }
  return most;
}

bool grows(const almanac::Scaled& s) { return s.per_kg >= 0 && s.per_load >= 0; }

/// Stages in a row that keep somebody busy, may not be put down and wait for each other only so long: all of them fit
/// one stretch of somebody's time.
bool rows_fit(const FreeTimes& free, const RouteSpec& route, const std::vector<StageLimits>& limits, double k,
              int loads) {
  for (std::size_t first = 0; first < route.stages.size(); ++first) {
    double need = 0;
    Time lag = 0;
    std::uint32_t people = 0;
    for (std::size_t i = first; i < route.stages.size(); ++i) {
      const StageSpec& stage = route.stages[i];
      if (limits[i].may_be_left_out || !stage.attended() || stage.can_pause || !grows(stage.duration)) break;
      if (i > first) {
        if (stage.lag_max == kNever) break;
        lag = std::max(lag, stage.lag_max);
      }
      const std::uint32_t mine = free.eligible(stage);
      people |= mine;
      need += std::max(0.0, stage.duration.at(k, loads)) /
              (stage.attention == almanac::Attention::hands_on ? free.most_usable(mine) : 1.0);
      const double there =
          i == first ? free.longest(mine, stage.window) : longest_with_breaks(free.any_of(people, -1), lag);
      if (need > there + kSizeSlack) return false;
    }
  }
  return true;
}

}  // namespace

Sizes sizes_of(const Project& project, const FreeTimes& free, const RouteSpec& route,
               const std::vector<StageLimits>& limits, double kg) {
  const almanac::Route& r = *route.source;
  Sizes sizes{.least = r.batch_min_kg, .most = std::min(r.batch_max_kg, kg) + kSizeSlack, .load_kg = r.load_kg};
  const auto fits = [&](double k) {
    const int loads = loads_for_kg(k, r.load_kg);
    for (std::size_t i = 0; i < route.stages.size(); ++i) {
      if (limits[i].may_be_left_out) continue;
      const StageSpec& stage = route.stages[i];
      for (const Use& use : stage.equipment)
        if (grows(use.amount) &&
            use.amount.at(k, loads) > project.h.equipment[static_cast<std::size_t>(use.index)].count + 2 * kSizeSlack)
          return false;
    }
    return rows_fit(free, route, limits, k, loads);
  };
  if (sizes.most < sizes.least || fits(sizes.most)) return sizes;
  double low = sizes.least, high = sizes.most;
  if (!fits(low)) return {sizes.least, sizes.least - 1, r.load_kg};
  for (int i = 0; i < 40; ++i) {
    const double middle = (low + high) / 2;
    (fits(middle) ? low : high) = middle;
  }
  sizes.most = high;
  return sizes;
}

double least_product_per_kg(const almanac::Scaled& a, const almanac::Scaled& b, const Sizes& sizes) {
  const double from = std::max(sizes.least - kSizeSlack, 1e-6), to = std::max(sizes.most, from);
  if (sizes.load_kg <= 0) return least_in(a, b, 1, from, to);
  const int last = loads_for_kg(to, sizes.load_kg);
  if (last > kMostLoads) return 0;
  double least = std::numeric_limits<double>::infinity();
  for (int loads = loads_for_kg(from, sizes.load_kg); loads <= last; ++loads) {
    const double low = std::max(from, (loads - 1) * sizes.load_kg), high = std::min(to, loads * sizes.load_kg);
    if (low <= high) least = std::min(least, least_in(a, b, loads, std::max(low, 1e-6), std::max(high, 1e-6)));
  }
  return std::isfinite(least) ? least : 0;
}

double least_per_kg(const almanac::Scaled& what, const Sizes& sizes) {
  return least_product_per_kg(what, {.fixed = 1, .per_kg = 0, .per_load = 0}, sizes);
}

}  // namespace stillroom::planning::detail
