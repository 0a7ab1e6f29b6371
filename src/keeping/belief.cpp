#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "keeping/keeping.h"

namespace stillroom::keeping {

namespace {

using almanac::Condition;

constexpr double kLastRipeness = 4;
// Ages at which goods are soft, and going over (by the share then usable): common practice.
constexpr double kSoftAge = 1.0;
constexpr double kGoingOverShare = 0.7;
// Softness believed without a look begins this much later, so that a look at firm goods is not undone next day.
constexpr double kUnseenDelay = 1.25;
// Half band of an age at bring-in: how long since picking, and what people call ripe, are not known better.
constexpr double kFreshBand = 0.15, kUsedBand = 0.2;
// A look can overturn a belief: the chance and spread of what nobody recorded. Common practice.
constexpr double kUnknownChance = 0.1, kUnknownSpread = 0.6;
constexpr double kCannotBeSquared = 2.5;  // lives between belief and sight: the record is wrong, not the estimate
constexpr double kLookedAtAgain = 2;      // lives past "going over" at which a belief stops counting
constexpr double kTenthQuantile = 1.2815515655446004;  // of the standard normal

/// Age at which each condition begins; -infinity where age does not tell it from the one before.
std::array<double, almanac::kConditions> age_of_condition(const KeepingModel& m) {
  constexpr double kNone = -HUGE_VAL;
  std::array<double, almanac::kConditions> at{kNone, kNone, kNone, kSoftAge,
                                              std::max(kSoftAge * 1.2, age_of_share(m, kGoingOverShare))};
  if (!m.ripens()) return at;
  const double per_day = ageing_per_day(m, measure::Temperature::celsius(20));
  const auto from = static_cast<std::size_t>(m.life_counts_from);
  at.at(from) = 0;
  for (std::size_t k = from; k < 2; ++k) at.at(k + 1) = at.at(k) + m.ripening_days_at_20c[k] * per_day;
  for (std::size_t k = from; k > 0; --k) at.at(k - 1) = at.at(k) - m.ripening_days_at_20c[k - 1] * per_day;
  at.at(2) = std::min(at.at(2), kSoftAge - 0.05);
  at.at(1) = std::min(at.at(1), at.at(2));
  return at;
}

double ripening_factor(const KeepingModel& m, measure::Temperature temp) {
  double t = temp.in_celsius();
  if (m.ripening_stops_below_c && t < *m.ripening_stops_below_c) return 0;
  if (m.ripening_no_faster_above_c) t = std::min(t, *m.ripening_no_faster_above_c);
  return std::pow(m.ripening_q10, (t - 20) / 10);
}

/// Ripeness after `days_at_20c` more days' worth of ripening.
double ripen(const KeepingModel& m, double ripeness, double days_at_20c) {
  while (days_at_20c > 0 && ripeness < kLastRipeness) {
    const auto stage = static_cast<std::size_t>(ripeness);
    const double dwell = m.ripening_days_at_20c[stage];
    if (dwell <= 0) break;
    const double to_next = (static_cast<double>(stage) + 1 - ripeness) * dwell;
    if (days_at_20c < to_next) return ripeness + days_at_20c / dwell;
    days_at_20c -= to_next;
    ripeness = static_cast<double>(stage) + 1;
  }
  return ripeness;
}

/// Softness that age alone brings, for crops that do not ripen and for the cold.
double ripeness_of_age(const KeepingModel& m, double age) {
  if (age < kSoftAge * kUnseenDelay) return 0;
  return age < age_of_condition(m)[4] * kUnseenDelay ? static_cast<double>(Condition::soft)
                                                     : static_cast<double>(Condition::going_over);
}

double normal_below(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

/// Probability that goods of this age are called `seen`.
double chance_of_seeing(const std::array<double, almanac::kConditions>& begins, Condition seen, double age) {
  auto k = static_cast<std::size_t>(seen);
  auto next = k + 1;
  // Conditions that age cannot tell apart are one class.
  while (next < begins.size() && std::isinf(begins.at(next))) ++next;
  while (k > 0 && std::isinf(begins.at(k))) --k;
  const double reached = k == 0 ? 1 : normal_below((age - begins.at(k)) / kLookSpread);
  const double passed = next >= begins.size() ? 0 : normal_below((age - begins.at(next)) / kLookSpread);
  return std::max(0.0, reached - passed);
}

/// A belief before the look: a normal curve with its own width on each side of the likely age, and one chance in ten
/// that something unknown befell the goods (a warm afternoon, a bruise), which is far wider.
double prior_weight(const Belief& b, double age) {
  const double side = age < b.age ? b.age - b.age_low : b.age_high - b.age;
  const double sigma = std::max(0.03, side / kTenthQuantile);
  const double z = (age - b.age) / sigma;
  const double wide = (age - b.age) / kUnknownSpread;
  return (1 - kUnknownChance) * std::exp(-0.5 * z * z) / sigma +
         kUnknownChance * std::exp(-0.5 * wide * wide) / kUnknownSpread;
}

/// Weights on an even grid of ages.
struct AgeGrid {
  double low = 0, step = 0;
  std::vector<double> weight;

  [[nodiscard]] double at(std::size_t i) const { return low + static_cast<double>(i) * step; }
  [[nodiscard]] double total() const { return std::accumulate(weight.begin(), weight.end(), 0.0); }
  /// Age below which `share` of the weight lies, between grid points.
  [[nodiscard]] double quantile(double share) const {
    const double want = share * total();
    double sum = 0;
    for (std::size_t i = 0; i < weight.size(); ++i) {
      if (sum + weight[i] >= want) return at(i) + step * ((want - sum) / weight[i] - 0.5);
      sum += weight[i];
    }
    return at(weight.size() - 1);
  }
};

AgeGrid grid_around(const Belief& b, const Belief& fresh, double least) {
  constexpr std::size_t kSteps = 400;
  const double low = std::max(least, std::min(b.age_low, fresh.age_low) - 1.0);
  const double high = std::max(b.age_high, fresh.age_high) + 1.0;
  AgeGrid g{.low = low, .step = (high - low) / static_cast<double>(kSteps), .weight = {}};
  for (std::size_t i = 0; i <= kSteps; ++i) g.weight.push_back(prior_weight(b, g.at(i)));
  return g;
}

/// Age by Bayes. Each point of the band moves as its quantile moves, so that a look that confirms changes little.
Belief age_after_look(const KeepingModel& m, Belief b, Condition seen) {
  const auto begins = age_of_condition(m);
  const double least = std::isinf(begins[0]) ? 0 : begins[0];
  const Belief fresh = at_bring_in(m, seen);
  // Past this all is lost and one age is like another.
  const double most = begins[4] + kLookedAtAgain;
  b.age = std::min(b.age, most);
  b.age_low = std::min(b.age_low, most);
  b.age_high = std::min(b.age_high, most);
  const AgeGrid before = grid_around(b, fresh, least);
  AgeGrid after = before;
  for (std::size_t i = 0; i < after.weight.size(); ++i) after.weight[i] *= chance_of_seeing(begins, seen, after.at(i));
  if (std::abs(b.age - fresh.age) > kCannotBeSquared ||
      after.total() < 1e-9 * before.total()) {  // cannot be squared with the belief: the eye is right
    return Belief{b.ripeness, fresh.age, fresh.age_low, fresh.age_high};
  }
  const auto moved = [&](double age, double share) {
    return std::max(least, age + after.quantile(share) - before.quantile(share));
  };
  b.age_low = moved(b.age_low, 0.1);
  b.age_high = std::max(b.age_low, moved(b.age_high, 0.9));
  b.age = std::clamp(moved(b.age, 0.5), b.age_low, b.age_high);
  return b;
}

}  // namespace

Belief at_bring_in(const KeepingModel& m, Condition seen) {
  double age = age_of_condition(m).at(static_cast<std::size_t>(seen));
  if (std::isinf(age)) age = 0;
  const bool fresh = age <= 0;
  return Belief{.ripeness = static_cast<double>(seen),
                .age = age,
                .age_low = fresh ? age : std::max(0.0, age - kUsedBand),
                .age_high = age + (fresh ? kFreshBand : kUsedBand)};
}

Belief advance(const KeepingModel& m, Belief b, measure::Duration dt, measure::Temperature temp) {
  const double days = std::max(0.0, measure::in_days(dt));
  const double used = days * ageing_per_day(m, temp);
  const double middle = m.life_days_best();
  b.age += used;
  b.age_low += used * middle / m.life_days_best_high;
  b.age_high += used * middle / m.life_days_best_low;
  b.ripeness = ripen(m, b.ripeness, days * ripening_factor(m, temp));
  b.ripeness = std::clamp(std::max(b.ripeness, ripeness_of_age(m, b.age)), 0.0, kLastRipeness);
  return b;
}

Belief advance(const KeepingModel& m, Belief b, const std::vector<Stay>& stays, measure::Instant begin,
               measure::Instant end) {
  for (std::size_t i = 0; i < stays.size(); ++i) {
    const auto from = i == 0 ? begin : std::max(begin, stays[i].from);
    const auto to = i + 1 < stays.size() ? std::min(end, stays[i + 1].from) : end;
    if (to > from) b = advance(m, b, measure::seconds(static_cast<double>((to - from).count())), stays[i].temp);
  }
  return b;
}

Belief observe(const KeepingModel& m, Belief b, Condition seen) {
  const auto believed = condition_of(b);
  b = age_after_look(m, b, seen);
  const auto step = static_cast<double>(seen);
  if (seen > believed) b.ripeness = step;
  if (seen < believed) b.ripeness = step + 0.75;  // it was thought to be past this: late in it, then
  return b;
}

double ripening_per_day(const KeepingModel& m, double ripeness, measure::Temperature temp) {
  if (!m.ripens() || ripeness >= kLastRipeness) return 0;
  const double dwell = m.ripening_days_at_20c[static_cast<std::size_t>(std::max(0.0, ripeness))];
  return dwell > 0 ? ripening_factor(m, temp) / dwell : 0;
}

Condition condition_of(const Belief& b) {
  return static_cast<Condition>(static_cast<int>(std::clamp(b.ripeness, 0.0, kLastRipeness)));
}

}  // namespace stillroom::keeping
