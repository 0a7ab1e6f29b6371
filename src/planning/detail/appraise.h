#pragma once

#include <vector>

#include "planning/detail/schedule.h"

namespace stillroom::planning::detail {

/// What one kg of a lot (or of a pool) is worth by one route at one time.
struct Appraisal {
  double product = 0;  ///< quality-weighted kg of product per kg in
  double worth = 0;    ///< USD per kg in, at the margin of what is already put by
  double cost = 0;     ///< materials and energy, USD per kg in
  double hours = 0;    ///< hand-hours per kg in
  /// Worth the doing when an hour costs `per_hour`.
  [[nodiscard]] double net(double per_hour) const { return worth - cost - per_hour * hours; }
};

/// Quality, fading and need put together outside the schedule: for choosing routes, sizes and orders.
class Appraiser {
 public:
  explicit Appraiser(const Project& project) : project_(project) {}
  /// By this option at `t`, the lot waiting as `fade` says, with `put_by` kg of each worth row already there.
  /// worth 0 where the route does not accept it.
  [[nodiscard]] Appraisal at(int lot, const Option& option, const Fade& fade, Time t,
                             const std::vector<double>& put_by) const;
  /// Moment in [from, horizon) at which an unhurried batch would be worth most: now, or when it has ripened.
  [[nodiscard]] Time best_time(int lot, const Option& option, const Fade& fade, Time from,
                               const std::vector<double>& put_by) const;
  /// Last moment the route still takes the lot: past use, hard clock, picking.
  [[nodiscard]] Time last_time(int lot, const Option& option, const Fade& fade) const;

 private:
  const Project& project_;
};

}  // namespace stillroom::planning::detail
