#pragma once

#include <array>

#include "planning/detail/project.h"

/// What a lot can be like at best while it waits, over every way of moving it about.
namespace stillroom::planning::detail {

/// Over a span of moments: the conditions it may be in, and in each the best usable share.
struct BestState {
  int first = 0, last = almanac::kConditions - 1;  ///< conditions from..to
  std::array<double, almanac::kConditions> shares{1, 1, 1, 1, 1};
  [[nodiscard]] double share() const;
  /// Best quality of a route in these conditions; 0 when it takes none of them.
  [[nodiscard]] double quality(const almanac::Route& route) const;
  /// Best quality x share over the conditions whose share is at least `floor`; 0 for none.
  [[nodiscard]] double good(const almanac::Route& route, double floor) const;
};

/// Of the lot itself at some moment of [from, to]. A standing crop has been picked by then.
[[nodiscard]] BestState best_state(const Project& project, const LotSpec& lot, Time from, Time to);
/// Of a standing crop as it stands.
[[nodiscard]] BestState as_it_stands(const LotSpec& lot);
/// Of a pool of that lot, held at `place` from some moment of [from, by] on, at some moment up to `to`; shares count
/// relative to the start of the hold.
[[nodiscard]] BestState best_of_pool(const Project& project, const LotSpec& lot, int place, Time from, Time by,
                                     Time to);

}  // namespace stillroom::planning::detail
