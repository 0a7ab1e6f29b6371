#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/app.h"
#include "app/detail/family_meal.h"
#include "app/detail/learning.h"
#include "app/detail/names.h"
#include "app/detail/routes_here.h"
#include "app/detail/settings.h"
#include "app/detail/strips.h"
#include "app/detail/waiting.h"

// One lot: what it could become, how it keeps, what happened to it.
namespace stillroom::app {
namespace {

double hands_hours(const almanac::Route& route, double kg) {
  double minutes = 0;
  for (const almanac::Stage& stage : route.stages) {
    if (stage.attention == almanac::Attention::unattended) continue;
    const double share = stage.attention == almanac::Attention::nearby ? stage.nearby_share : 1.0;
    minutes += stage.duration_min.at(kg, almanac::loads_for(route, kg)) * share * stage.hands;
  }
  return minutes / 60.0;
}

std::string pack_words(const almanac::Route& route, double kg) {
  if (route.kg_in_per_pack <= 0 || route.pack.empty() || route.pack == "loose" || route.is_hold) return "";
  return "about " + measure::say_count(std::max(1.0, std::floor(kg / route.kg_in_per_pack + 0.5)), route.pack);
}

RouteChoice choice_of(const House& h, const ledger::Parcel& parcel, const detail::Waiting& waiting,
                      const almanac::Route& route, const planning::Plan& plan, std::string_view lot) {
  const double kg = measure::in_kilograms(parcel.mass);
  RouteChoice c{.route = route.key, .name = route.name, .method = route.method, .product = route.product_form};
  c.kg_most = std::min(kg, route.batch_max_kg);
  const almanac::Condition condition =
      waiting.model ? keeping::condition_of(waiting.belief)
                    : almanac::condition_from_word(parcel.condition).value_or(almanac::Condition::firm);
  c.quality = route.quality[static_cast<std::size_t>(condition)];
  c.accepted = true;
  if (route.accepts_form != parcel.form) {
    c.accepted = false;
    std::string form = route.accepts_form;
    std::replace(form.begin(), form.end(), '_', ' ');
    c.why_not = "it wants " + form;
  } else if (c.quality <= 0) {
    c.accepted = false;
    c.why_not = "it does not take " + detail::crop_plural(h.almanac, parcel.food) + " that are " +
                std::string(almanac::to_word(condition));
  } else if (kg < route.batch_min_kg) {
    c.accepted = false;
    c.why_not = "too little for one batch";
  }
  const auto process = detail::process_here(h.almanac, h.ledger.state(), route, parcel.food, parcel.facts);
  if (!process) {
    c.accepted = false;
    c.why_not = process.error().message;
  } else if (*process) {
    c.process_line = "published process on file: " + (*process)->source + ", " + (*process)->source_place;
  }
  c.packs = pack_words(route, c.kg_most);
  c.hours = "about " + measure::say(measure::hours(hands_hours(route, c.kg_most))) + " of hands";
  if (route.worth_per_kg_in > 0)
    c.worth = "worth about " + measure::say_money(route.worth_per_kg_in * c.kg_most * c.quality);
  for (const planning::PlannedBatch& batch : plan.batches) {
    const bool here = std::any_of(batch.parts.begin(), batch.parts.end(), [&](const auto& p) { return p.lot == lot; });
    c.planned = c.planned || (here && batch.route == route.key);
  }
  return c;
}

std::vector<std::string> facts_of(const House& h, const detail::Waiting& waiting, const planning::Household& snapshot,
                                  const ledger::Parcel& parcel) {
  std::vector<std::string> facts;
  const measure::Units units = detail::units_of(detail::settings_of(h.ledger.state()));
  if (waiting.clock != nullptr) {
    facts.push_back(fmt::format("{}: {} in all above 40 °F, {} in the fridge. Nothing lengthens this. {} ({})",
                                waiting.clock->name, measure::say(measure::hours(waiting.clock->room_hours)),
                                measure::say(measure::days(waiting.clock->fridge_days)), waiting.clock->source,
                                waiting.clock->checked));
  }
  if (waiting.model) {
    const keeping::KeepingModel& m = *waiting.model;
    facts.push_back(fmt::format("At {}, its best, it keeps {} until a tenth is lost: {} ({}).",
                                measure::say(measure::Temperature::celsius(m.best_temp_c), units),
                                detail::span_words(m.life_days_best_low, m.life_days_best_high, "day"), m.source,
                                m.checked));
    if (m.chilling_below_c) {
      facts.push_back("Colder than " + measure::say(measure::Temperature::celsius(*m.chilling_below_c), units) +
                      " harms it.");
    }
    for (const planning::HoldPlace& place : snapshot.places) {
      const auto left = keeping::days_left(m, waiting.belief, measure::Temperature::celsius(place.temp_c));
      facts.push_back("In the " + place.name + " (" + measure::say(measure::Temperature::celsius(place.temp_c), units) +
                      "): " + detail::days_words(left.low, left.likely, left.high).words + " until half is lost.");
    }
  }
  if (!parcel.as_said.empty()) facts.push_back("Brought in as \"" + parcel.as_said + "\".");
  return facts;
}

std::string best_place_of(const detail::Waiting& waiting, const planning::Household& snapshot) {
  if (!waiting.model) return "";
  const planning::HoldPlace* best = nullptr;
  double slowest = 0;
  for (const planning::HoldPlace& place : snapshot.places) {
    if (place.temp_c < -2) continue;
    const double rate = keeping::ageing_per_day(*waiting.model, measure::Temperature::celsius(place.temp_c));
    if (best == nullptr || rate < slowest) {
      best = &place;
      slowest = rate;
    }
  }
  return best == nullptr ? "" : best->name;
}

/// Ethylene makes sensitive produce ripen, yellow or turn bitter beside a strong producer (UC Davis long-term storage
/// table).
std::vector<std::string> lie_apart_of(const House& h, const ledger::Parcel& parcel, const detail::Waiting& waiting) {
  std::vector<std::string> out;
  if (!waiting.model) return out;
  for (const auto& [id, other] : h.ledger.state().parcels) {
    if (id == parcel.id || other.place != parcel.place || !ledger::is_here(other) || other.packs > 0) continue;
    const auto model = keeping::model_for(h.almanac, other.food);
    if (!model) continue;
    const auto clash = [](const keeping::KeepingModel& gives, const keeping::KeepingModel& suffers) {
      return gives.ethylene_producer && suffers.ethylene_sensitivity == "high" && gives.crop != suffers.crop;
    };
    const std::string name = detail::crop_plural(h.almanac, other.food);
    std::string line;
    if (clash(*model, *waiting.model)) line = "The " + name + " in the same place give off ethylene and hurry this on.";
    if (clash(*waiting.model, *model)) line = "It gives off ethylene, which harms the " + name + " in the same place.";
    if (!line.empty() && std::find(out.begin(), out.end(), line) == out.end()) out.push_back(std::move(line));
  }
  return out;
}

}  // namespace

Result<LotView> lot_view(const House& h, Instant now, std::string_view lot_typed, const planning::Household& snapshot,
                         const planning::Plan& plan) {
  const ledger::State& state = h.ledger.state();
  const auto outlook_of = [&](std::string_view id) {
    const auto it = std::find_if(plan.lots.begin(), plan.lots.end(), [&](const auto& o) { return o.lot == id; });
    return it == plan.lots.end() ? planning::LotOutlook{.lot = std::string(id)} : *it;
  };
  LotView v;
  if (state.standing.contains(std::string(lot_typed))) {
    v.strip = detail::strip_of(h, snapshot, plan, outlook_of(lot_typed));
    return v;
  }
  const auto id = resolve(h, lot_typed);
  if (!id) return tl::unexpected(id.error());
  const auto it = state.parcels.find(*id);
  if (it == state.parcels.end()) return measure::refuse("not_a_lot", fmt::format("\"{}\" is not a lot.", lot_typed));
  const ledger::Parcel& parcel = it->second;
  const std::string key = id->hex();
  v.strip = detail::strip_of(h, snapshot, plan, outlook_of(key));
  if (v.strip.name.empty()) {  // nothing of it waits any more: say what it was
    v.strip.name = detail::parcel_name(h.almanac, parcel);
    v.strip.amount = ledger::is_here(parcel)
                         ? detail::parcel_amount(parcel, detail::units_of(detail::settings_of(state)))
                         : "nothing left";
    v.strip.next_move = std::string(ledger::to_word(parcel.state));
  } else {
    const detail::Waiting waiting = detail::waiting_of(h.almanac, state, parcel, now);
    const kitchen::Learned learned = detail::learned_by(h);
    const double share = detail::meal_share(state);
    for (const almanac::Route* route : h.almanac.routes.for_crop(h.almanac.crops, parcel.food)) {
      v.routes.push_back(choice_of(h, parcel, waiting, learned.as_here(detail::for_family(*route, share)), plan, key));
    }
    std::stable_sort(v.routes.begin(), v.routes.end(), [](const auto& a, const auto& b) {
      return std::tie(b.planned, b.accepted, b.quality) < std::tie(a.planned, a.accepted, a.quality);
    });
    v.facts = facts_of(h, waiting, snapshot, parcel);
    v.best_place = best_place_of(waiting, snapshot);
    v.lie_apart = lie_apart_of(h, parcel, waiting);
  }
  for (const HistoryLine& line : history_of(h, *id)) v.history.push_back(line);
  return v;
}

}  // namespace stillroom::app
