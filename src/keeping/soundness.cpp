#include <algorithm>
#include <cmath>

#include "keeping/keeping.h"

namespace stillroom::keeping {

namespace {

/// S(1) = 0.9: the published life is the time to nine tenths sound.
const double kLossAtOne = -std::log(0.9);

double relative_rate_at(const KeepingModel& m, double t) {
  const auto& curve = m.relative_rate;
  if (curve.empty()) return 1;
  const auto next = std::ranges::lower_bound(curve, t, {}, &std::pair<double, double>::first);
  if (next == curve.begin()) return curve.front().second;
  if (next == curve.end()) return curve.back().second;
  const auto& [t0, r0] = *(next - 1);
  const auto& [t1, r1] = *next;
  return r0 * std::pow(r1 / r0, (t - t0) / (t1 - t0));
}

}  // namespace

double usable_share(const KeepingModel& m, double age) {
  return age <= 0 ? 1 : std::exp(-kLossAtOne * std::pow(age, m.beta));
}

double age_of_share(const KeepingModel& m, double share) { return std::pow(-std::log(share) / kLossAtOne, 1 / m.beta); }

double ageing_per_day(const KeepingModel& m, measure::Temperature temp) {
  return relative_rate_at(m, temp.in_celsius()) / m.life_days_best();
}

DaysLeft days_left(const KeepingModel& m, const Belief& b, measure::Temperature temp, double floor) {
  const double end = age_of_share(m, floor);
  const double rate = ageing_per_day(m, temp);
  const double middle = m.life_days_best();
  const auto days = [&](double age, double life) {
    return std::clamp((end - age) / (rate * middle / life), 0.0, kMostDays);
  };
  DaysLeft d{days(b.age_high, m.life_days_best_low), days(b.age, middle), days(b.age_low, m.life_days_best_high)};
  d.low = std::min(d.low, d.likely);
  d.high = std::max(d.high, d.likely);
  return d;
}

}  // namespace stillroom::keeping
