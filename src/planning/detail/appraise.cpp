#include "planning/detail/appraise.h"

namespace stillroom::planning::detail {

Appraisal Appraiser::at(int lot, const Option& option, const Fade& fade, Time t,
                        const std::vector<double>& put_by) const {
  const bool stands = project_.lots[static_cast<std::size_t>(lot)].standing && option.source == Source::lot;
  return with(lot, option, fade, stands ? 0 : t, put_by);  // it stands until it is picked
}

Appraisal Appraiser::with(int lot, const Option& option, const Fade& fade, Time then,
                          const std::vector<double>& put_by) const {
  const RouteSpec& route = project_.routes[static_cast<std::size_t>(option.route)];
  const almanac::Route& source = *route.source;
  const LotSpec& spec = project_.lots[static_cast<std::size_t>(lot)];
  Appraisal out;
  out.cost = source.materials_cost_per_kg + source.energy_cost_per_kg;
  out.hours = route.hours_per_kg;
  if (spec.standing && option.source == Source::lot) out.hours += spec.source->pick_min_per_kg / 60;
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

Appraiser::Best Appraiser::best(int lot, const Option& option, const Fade& fade, Time from,
                                const std::vector<double>& put_by) const {
  const bool stands = project_.lots[static_cast<std::size_t>(lot)].standing && option.source == Source::lot;
  Best best{from, at(lot, option, fade, from, put_by)};
  if (option.source == Source::by_product) return best;
  for (const Time reached : fade.reached) {
    if (reached >= project_.horizon || reached <= (stands ? 0 : from)) continue;
    const Time when = stands ? from + reached : reached;
    if (when >= project_.horizon) continue;
    const Appraisal then = with(lot, option, fade, reached, put_by);
    if (then.worth <= best.then.worth * 1.02) continue;  // waiting for next to nothing is not worth a day
    best = {when, then};
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

double batch_size(const almanac::Route& route, double kg) {
  const double most = std::min(kg, route.batch_max_kg);
  if (route.load_kg <= 0 || most <= route.load_kg) return most;
  const double whole = route.load_kg * std::floor(most / route.load_kg + 1e-9);
  // A small rest is not worth a load of its own batch: take it along when the batch may be that big.
  return kg - whole < route.batch_min_kg && kg <= route.batch_max_kg ? kg : whole;
}

}  // namespace stillroom::planning::detail
