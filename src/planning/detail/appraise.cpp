#include "planning/detail/appraise.h"

namespace stillroom::planning::detail {

Appraisal Appraiser::at(int lot, const Option& option, const Fade& fade, Time t,
                        const std::vector<double>& put_by) const {
  const RouteSpec& route = project_.routes[static_cast<std::size_t>(option.route)];
  const almanac::Route& source = *route.source;
  const LotSpec& spec = project_.lots[static_cast<std::size_t>(lot)];
  Appraisal out;
  out.cost = source.materials_cost_per_kg + source.energy_cost_per_kg;
  out.hours = route.hours_per_kg;
  if (spec.standing && option.source == Source::lot) out.hours += spec.source->pick_min_per_kg / 60;
  const Time then = spec.standing && option.source == Source::lot ? 0 : t;  // it stands until it is picked
  double usable = 1, quality = source.quality[static_cast<std::size_t>(almanac::Condition::firm)];
  if (option.source != Source::by_product) {
    usable = fade.usable_at(then);
    quality = source.quality[static_cast<std::size_t>(fade.condition_at(then))];
  }
  if (usable < route.floor || quality <= 0 || source.is_hold) return out;
  out.product = usable * quality * source.yield_kg_per_kg;
  if (route.worth < 0) {
    out.worth = usable * quality * source.worth_per_kg_in;
  } else {
    const auto w = static_cast<std::size_t>(route.worth);
    out.worth = out.product * project_.worth[w].per_kg * project_.worth[w].slope(put_by[w]);
  }
  return out;
}

Time Appraiser::best_time(int lot, const Option& option, const Fade& fade, Time from,
                          const std::vector<double>& put_by) const {
  const LotSpec& spec = project_.lots[static_cast<std::size_t>(lot)];
  if (spec.standing || option.source == Source::by_product) return from;
  Time best = from;
  double most = at(lot, option, fade, from, put_by).worth;
  for (const Time reached : fade.reached) {
    if (reached <= from || reached >= project_.horizon) continue;
    const double worth = at(lot, option, fade, reached, put_by).worth;
    if (worth <= most * 1.02) continue;  // waiting for next to nothing is not worth a day
    most = worth;
    best = reached;
  }
  return best;
}

Time Appraiser::last_time(int lot, const Option& option, const Fade& fade) const {
  const RouteSpec& route = project_.routes[static_cast<std::size_t>(option.route)];
  const LotSpec& spec = project_.lots[static_cast<std::size_t>(lot)];
  Time last = std::min(project_.horizon, spec.hazard_by);
  if (spec.standing) return std::min(last, spec.pick_by);
  if (option.source != Source::lot) return last;
  for (std::size_t c = 0; c < fade.reached.size(); ++c) {
    bool later_still = false;
    for (std::size_t k = c; k < fade.reached.size(); ++k) later_still = later_still || route.source->quality[k] > 0;
    if (!later_still) last = std::min(last, fade.reached[c]);
  }
  if (fade.usable_at(last) >= route.floor) return last;
  Time low = std::min(spec.from, last), high = last;
  while (high - low > 60) {
    const Time middle = low + (high - low) / 2;
    (fade.usable_at(middle) >= route.floor ? low : high) = middle;
  }
  return low;
}

}  // namespace stillroom::planning::detail
