#include "keeping/rate_curve.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace stillroom::keeping {

namespace {

constexpr double kWarmest = 45;
// Anchors this little above the best range add nothing: the published best life speaks there.
constexpr double kNearBest = 1.0;
// General curve of fresh produce, UC Davis (Cantwell): Q10 3.0, 2.5, 2.0, 1.5 for each 10 degC from 0 degC.
constexpr double kQ10From20 = 2.0, kQ10From30 = 1.5;
// Where lives alone shape the curve: loss doubles for each 10 degC beyond the last published one.
constexpr double kQ10OfLives = 2.0;
// A chill-sensitive crop is never believed to gain from being colder than its limit.
constexpr double kLeastChilling = 0.25;

/// Integral of ln(Q10)/10 from 0 degC: log of the respiration rate relative to 0 degC.
double log_respiration(const RateInputs& in, double t) {
  const double upper = std::min(in.q10_10_20, kQ10From20);
  const double steps[4] = {in.q10_0_10, in.q10_10_20, upper, std::min(upper, kQ10From30)};
  double sum = std::min(t, 0.0) / 10 * std::log(in.q10_0_10);
  for (int i = 0; i < 4; ++i) {
    const double span = std::clamp(t - 10.0 * i, 0.0, i == 3 ? kWarmest : 10.0);
    sum += span / 10 * std::log(steps[i]);
  }
  return sum;
}

/// The curve without anchors, above the best range.
double log_shape(const RateInputs& in, double t) {
  if (in.respiration_counts) return log_respiration(in, t) - log_respiration(in, in.best_high_c);
  return (t - in.best_high_c) / 10 * std::log(kQ10OfLives);
}

struct Fixed {
  double t, y;  ///< log relative rate
};

/// Anchors above the best range as log rates, rising with temperature unless lives alone count.
std::vector<Fixed> fixed_above(const RateInputs& in) {
  std::vector<Fixed> out{{in.best_high_c, 0}};
  for (const auto& a : in.anchors) {
    if (a.temp_c <= in.best_high_c + kNearBest) continue;
    double y = std::max(0.0, std::log(in.life_days / a.life_days));
    if (in.respiration_counts) y = std::max(y, out.back().y);
    out.push_back({a.temp_c, y});
  }
  return out;
}

double log_rate_above(const RateInputs& in, const std::vector<Fixed>& fixed, double t) {
  const auto off = [&](const Fixed& f) { return f.y - log_shape(in, f.t); };
  const auto next = std::ranges::find_if(fixed, [t](const Fixed& f) { return f.t >= t; });
  if (next == fixed.begin()) return 0;
  const Fixed& before = *(next - 1);
  if (next == fixed.end()) return log_shape(in, t) + off(before);
  const double share = (t - before.t) / (next->t - before.t);
  // Lives alone: a straight line in the log from one published life to the next.
  if (!in.respiration_counts) return before.y + share * (next->y - before.y);
  return log_shape(in, t) + off(before) + share * (off(*next) - off(before));
}

double log_mealy(const RateInputs& in, double t) {
  if (!in.mealy_c || t <= in.mealy_c->low || t >= in.mealy_c->high) return 0;
  const double middle = (in.mealy_c->low + in.mealy_c->high) / 2;
  const double half = (in.mealy_c->high - in.mealy_c->low) / 2;
  return std::log(in.mealy_factor) * (1 - std::abs(t - middle) / half);
}

double log_chilling(const RateInputs& in, double t) {
  if (!in.chilling_below_c || t >= *in.chilling_below_c) return 0;
  return (*in.chilling_below_c - t) / 3 * std::log(in.chilling_factor_per_3c);
}

/// Lives published below the chilling limit as log rates, from the limit downwards, never gaining by cold.
std::vector<Fixed> fixed_below(const RateInputs& in) {
  if (!in.chilling_below_c) return {};
  std::vector<Fixed> out{{*in.chilling_below_c, 0}};
  for (auto a = in.anchors.rbegin(); a != in.anchors.rend(); ++a) {
    if (a->temp_c >= std::min(in.best_low_c, *in.chilling_below_c)) continue;
    const double least = std::max(out.back().y, kLeastChilling * log_chilling(in, a->temp_c));
    out.push_back({a->temp_c, std::max(least, std::log(in.life_days / a->life_days))});
  }
  return out;
}

/// Straight in the log between the lives published below the limit; beyond the coldest, the general slope in
/// proportion.
double log_rate_below(const RateInputs& in, const std::vector<Fixed>& fixed, double t) {
  if (fixed.empty() || t >= fixed.front().t) return 0;
  const auto colder = std::ranges::find_if(fixed, [t](const Fixed& f) { return f.t <= t; });
  if (colder != fixed.end()) {
    const Fixed& warmer = *(colder - 1);
    return warmer.y + (warmer.t - t) / (warmer.t - colder->t) * (colder->y - warmer.y);
  }
  const Fixed& last = fixed.back();
  const double general = log_chilling(in, last.t);
  const double stretch = general > 0 ? last.y / general : 1;
  return last.y + stretch * (log_chilling(in, t) - general);
}

double log_freezing(const RateInputs& in, double t) {
  if (!in.freezing_c || t >= *in.freezing_c) return 0;
  return std::min(1.0, *in.freezing_c - t) * std::log(in.freezing_factor);
}

}  // namespace

std::vector<std::pair<double, double>> rate_curve(const RateInputs& in) {
  const auto fixed = fixed_above(in);
  const auto below = fixed_below(in);
  std::set<double> at{in.best_low_c, in.best_high_c, kWarmest};
  for (const auto& f : fixed) at.insert(f.t);
  for (const auto& f : below) at.insert(f.t);
  for (double t = std::ceil(in.best_high_c / 2) * 2; t < kWarmest; t += 2) at.insert(t);
  if (in.mealy_c) at.insert({in.mealy_c->low, (in.mealy_c->low + in.mealy_c->high) / 2, in.mealy_c->high});
  if (in.chilling_below_c) at.insert({*in.chilling_below_c, *in.chilling_below_c - 3, std::min(0.0, in.best_low_c)});
  if (in.freezing_c) at.insert({*in.freezing_c, *in.freezing_c - 1});
  std::vector<std::pair<double, double>> curve;
  double highest = 0;
  for (const double t : at) {
    double y = log_rate_below(in, below, t) + log_freezing(in, t);
    if (t > in.best_high_c) {
      y += log_rate_above(in, fixed, t) + log_mealy(in, t);
      if (in.respiration_counts) y = highest = std::max(highest, y);
    }
    curve.emplace_back(t, std::exp(y));
  }
  return curve;
}

}  // namespace stillroom::keeping
