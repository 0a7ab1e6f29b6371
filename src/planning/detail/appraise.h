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
  /// Moment in [from, horizon) at which an unhurried batch would be worth most, and what it is worth then: now, or when
  /// it has ripened. A standing crop ripens on once it is picked.
  struct Best {
    Time when = 0;
    Appraisal then;
  };
  [[nodiscard]] Best best(int lot, const Option& option, const Fade& fade, Time from,
                          const std::vector<double>& put_by) const;
  [[nodiscard]] Time best_time(int lot, const Option& option, const Fade& fade, Time from,
                               const std::vector<double>& put_by) const {
    return best(lot, option, fade, from, put_by).when;
  }
  /// Last moment the route still takes the lot: past use, hard clock, picking.
  [[nodiscard]] Time last_time(int lot, const Option& option, const Fade& fade) const;

 private:
  /// With the lot as it is at `then` on its own clock: since picking for a standing crop.
  [[nodiscard]] Appraisal with(int lot, const Option& option, const Fade& fade, Time then,
                               const std::vector<double>& put_by) const;
  const Project& project_;
};

/// Size of the next batch of a route for `kg` waiting: whole loads when there is more than one.
[[nodiscard]] double batch_size(const almanac::Route& route, double kg);

}  // namespace stillroom::planning::detail
