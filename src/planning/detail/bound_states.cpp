#include "planning/detail/bound_states.h"

namespace stillroom::planning::detail {
namespace {

constexpr double kCell = 1.0 / 8;  // of ripeness: the rate is constant inside one (FadeModel)
constexpr double kMostRipe = 4;
constexpr double kShareSlack = 1e-5;  // the tables of FadeModel are within 2e-6
constexpr double kMomentSlack = 30;   // minutes: a checker may accept either condition that near a change

/// Ripeness after `minutes` when every stretch is spent where it ripens fastest (or slowest).
double ripened(const FadeModel& model, double ripeness, double minutes, const std::vector<int>& places, bool fastest) {
  double r = std::max(0.0, ripeness);
  while (r < kMostRipe - 1e-12 && minutes > 0) {
    const double end = std::min(kMostRipe, (std::floor(r / kCell + 1e-9) + 1) * kCell);
    double needed = fastest ? std::numeric_limits<double>::infinity() : 0;
    for (const int place : places) {
      const double m = model.minutes_to(r, end, place);
      needed = fastest ? std::min(needed, m) : std::max(needed, m);
    }
    if (needed > minutes) return std::isfinite(needed) ? r + (end - r) * minutes / needed : r;
    minutes -= needed;
    r = end;
  }
  return r;
}

int condition_from(const FadeModel& model, double ripeness, double age) {
  const double r = std::max(ripeness, model.ripeness_of(age));
  int c = almanac::kConditions - 1;
  while (c > 0 && condition_starts()[static_cast<std::size_t>(c)] > r + 1e-9) --c;
  return c;
}

int condition_before(const FadeModel& model, double ripeness, double age) {
  return condition_from(model, std::max(0.0, ripeness - 1e-6), age - 1e-6);
}

int condition_of_ripeness(double ripeness) {
  int c = almanac::kConditions - 1;
  while (c > 0 && condition_starts()[static_cast<std::size_t>(c)] > ripeness) --c;
  return c;
}

/// Least life units used, beyond those of waiting where it ages slowest, to come from ripeness `from` to `level` within
/// `minutes`. For any price `mu` of a minute, time spent ripening costs at least its ageing and that price, and at most
/// `minutes` of it are refunded: a bound for each mu, the best of a few taken.
double ageing_to_ripen(const FadeModel& model, double from, double level, double minutes,
                       const std::vector<int>& places) {
  double slow = std::numeric_limits<double>::infinity(), fast = 0;
  for (const int place : places) {
    slow = std::min(slow, model.ageing(place));
    fast = std::max(fast, model.ageing(place));
  }
  double best = 0;
  for (const double part : {0.02, 0.05, 0.1, 0.2, 0.3, 0.45, 0.6, 0.8, 1.0, 1.5, 2.0, 3.0, 5.0}) {
    const double mu = part * (fast - slow);
    double sum = -mu * minutes;
    for (double r = std::max(0.0, from); r < level - 1e-9;) {
      const double end = std::min(level, (std::floor(r / kCell + 1e-9) + 1) * kCell);
      double least = std::numeric_limits<double>::infinity();
      for (const int place : places) {
        const double m = model.minutes_to(r, end, place);
        if (std::isfinite(m)) least = std::min(least, (model.ageing(place) - slow + mu) * m);
      }
      sum += least;
      r = end;
    }
    best = std::max(best, sum);
  }
  return best;
}

/// After between `least` and `most` minutes at any of the places.
BestState after(const Fade& fade, const std::vector<int>& places, double least, double most) {
  BestState out;
  if (fade.model == nullptr) {
    out.first = out.last = condition_of_ripeness(fade.ripeness);
    return out;
  }
  const FadeModel& model = *fade.model;
  double slow = std::numeric_limits<double>::infinity(), fast = 0;
  for (const int place : places) {
    slow = std::min(slow, model.ageing(place));
    fast = std::max(fast, model.ageing(place));
  }
  least = std::max(0.0, least);
  most = std::max(least, most) + kMomentSlack;
  const double early = std::max(0.0, least - kMomentSlack);
  out.first = condition_before(model, ripened(model, fade.ripeness, early, places, false), fade.age + slow * early);
  out.last = condition_from(model, ripened(model, fade.ripeness, most, places, true), fade.age + fast * most);
  const double age = fade.age + slow * least;
  for (int c = out.first; c <= out.last; ++c) {
    // It came to this condition by ripening, or by age alone.
    const double level = condition_starts()[static_cast<std::size_t>(c)] - 1e-6;
    const double ripe = fade.ripeness >= level ? age : age + ageing_to_ripen(model, fade.ripeness, level, most, places);
    // Age alone passes over a condition that begins no earlier than the next.
    const bool stops = c + 1 == almanac::kConditions || model.age_of(c + 1) > model.age_of(c) + 1e-6;
    const double aged = stops ? std::max(age, model.age_of(c) - 1e-6) : std::numeric_limits<double>::infinity();
    const double youngest = std::min(ripe, aged);
    out.shares[static_cast<std::size_t>(c)] =
        std::isfinite(youngest) ? std::min(1.0, model.usable(youngest) + kShareSlack) : 0;
  }
  return out;
}

std::vector<int> places_of(const LotSpec& lot) {
  std::vector<int> places = lot.hold_places;
  places.push_back(lot.place);
  return places;
}

}  // namespace

double BestState::share() const { return *std::max_element(shares.begin() + first, shares.begin() + last + 1); }

double BestState::quality(const almanac::Route& route) const {
  return *std::max_element(route.quality.begin() + first, route.quality.begin() + last + 1);
}

double BestState::good(const almanac::Route& route, double floor) const {
  double best = 0;
  for (auto c = static_cast<std::size_t>(first); c <= static_cast<std::size_t>(last); ++c)
    if (shares[c] >= floor) best = std::max(best, route.quality[c] * shares[c]);
  return best;
}

BestState best_state(const Project&, const LotSpec& lot, Time from, Time to) {
  if (!lot.standing) return after(lot.fade, places_of(lot), from - lot.fade.from, to - lot.fade.from);
  // Picked at the latest by `pick_by`, at the earliest when it may be.
  return after(lot.fade, {lot.place}, from - lot.source->pick_by, to - lot.from);
}

BestState as_it_stands(const LotSpec& lot) { return after(lot.fade, {lot.place}, 0, 0); }

BestState best_of_pool(const Project& project, const LotSpec& lot, int place, Time from, Time by, Time to) {
  const BestState start = best_state(project, lot, from, by);
  if (lot.fade.model == nullptr) return {.first = start.first, .last = start.last};
  std::vector<int> places = lot.standing ? std::vector<int>{lot.place} : places_of(lot);
  places.push_back(place);
  const Time since = lot.standing ? lot.from : lot.fade.from;
  BestState end = after(lot.fade, places, 0, to - since);
  return {.first = start.first, .last = end.last};
}

}  // namespace stillroom::planning::detail
