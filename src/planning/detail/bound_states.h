#pragma once

#include "planning/detail/project.h"

/// What a lot can be like at best while it waits, over every way of moving it about.
namespace stillroom::planning::detail {

/// Over a span of moments: the best usable share, and the conditions it may be in.
struct BestState {
  double share = 1;
  int first = 0, last = almanac::kConditions - 1;  ///< conditions from..to
  /// Best quality of a route in these conditions; 0 when it takes none of them.
  [[nodiscard]] double quality(const almanac::Route& route) const {
    double best = 0;
    for (int c = first; c <= last; ++c) best = std::max(best, route.quality[static_cast<std::size_t>(c)]);
    return best;
  }
};

/// Of the lot itself at some moment of [from, to]. A standing crop has been picked by then.
[[nodiscard]] BestState best_state(const Project& project, const LotSpec& lot, Time from, Time to);
/// Of a standing crop as it stands.
[[nodiscard]] BestState as_it_stands(const LotSpec& lot);
/// Of a pool of that lot, held at `place` from some moment of [from, by] on, at some moment up to `to`; `share` counts
/// relative to the start of the hold.
[[nodiscard]] BestState best_of_pool(const Project& project, const LotSpec& lot, int place, Time from, Time by,
                                     Time to);

}  // namespace stillroom::planning::detail
