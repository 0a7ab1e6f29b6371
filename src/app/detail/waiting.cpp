#include "app/detail/waiting.h"

#include <algorithm>

namespace stillroom::app::detail {
namespace {

/// Splits one stay at the readings of its place.
void append_stays(const ledger::State& state, std::string_view place, measure::Instant from, measure::Instant to,
                  std::vector<keeping::Stay>& out) {
  const auto described = state.places.find(std::string(place));
  const double usual_c = described == state.places.end() ? 20.0 : described->second.temp_c;
  const double humidity = described == state.places.end() ? 60.0 : described->second.humidity_pct;
  double temp_c = usual_c;
  const auto readings = state.readings.find(std::string(place));
  std::vector<ledger::TemperaturePoint> inside;
  if (readings != state.readings.end()) {
    for (const auto& point : readings->second) {
      if (point.at <= from) {
        temp_c = point.temp_c;
      } else if (point.at < to) {
        inside.push_back(point);
      }
    }
  }
  out.push_back({from, measure::Temperature::celsius(temp_c), humidity});
  for (const auto& point : inside) out.push_back({point.at, measure::Temperature::celsius(point.temp_c), humidity});
}

almanac::Condition seen_condition(std::string_view word) {
  return almanac::condition_from_word(word).value_or(almanac::Condition::firm);
}

}  // namespace

std::vector<keeping::Stay> stays_of(const ledger::State& state, const ledger::Parcel& parcel, measure::Instant until) {
  std::vector<keeping::Stay> out;
  // What a batch leaves raw has lain where its lots lay: its clock has been running since they came in.
  if (parcel.packs_made <= 0 && !parcel.made_by.is_nil() && !parcel.stays.empty()) {
    const ledger::Parcel* first = nullptr;
    for (const ledger::Id& id : parcel.parents) {
      const auto parent = state.parcels.find(id);
      if (parent == state.parcels.end() || parent->second.stays.empty()) continue;
      if (first == nullptr || parent->second.stays.front().from < first->stays.front().from) first = &parent->second;
    }
    if (first != nullptr) out = stays_of(state, *first, parcel.stays.front().from);
  }
  for (std::size_t i = 0; i < parcel.stays.size(); ++i) {
    const measure::Instant to = i + 1 < parcel.stays.size() ? parcel.stays[i + 1].from : until;
    if (parcel.stays[i].from < to || i == 0) append_stays(state, parcel.stays[i].place, parcel.stays[i].from, to, out);
  }
  return out;
}

measure::Temperature temperature_now(const ledger::State& state, std::string_view place) {
  const auto readings = state.readings.find(std::string(place));
  if (readings != state.readings.end() && !readings->second.empty()) {
    return measure::Temperature::celsius(readings->second.back().temp_c);
  }
  const auto described = state.places.find(std::string(place));
  return measure::Temperature::celsius(described == state.places.end() ? 20.0 : described->second.temp_c);
}

std::string hazard_key(const almanac::Almanac& almanac, std::string_view food, std::string_view form) {
  const auto has = [&](std::string_view word) { return form.find(word) != std::string_view::npos; };
  if (has("frozen")) return "";  // frozen food runs no clock until it is thawed
  if (has("thaw")) return "thawed_raw";
  if (has("opened")) return "opened_jar";
  if (has("broth") || has("cooked") || has("simmer")) return "cooked_food";
  const almanac::Crop* crop = almanac.crops.find(food);
  if (crop == nullptr || !crop->animal) return "";
  switch (crop->kind) {
    case almanac::CropKind::poultry:
      return "raw_poultry";
    case almanac::CropKind::fish:
      return "raw_fish";
    case almanac::CropKind::egg:
    case almanac::CropKind::dairy:
      return "";
    default:
      return "raw_meat";
  }
}

bool goes_on(const almanac::Almanac& almanac, const ledger::Parcel& parcel) {
  if (!ledger::is_here(parcel) || parcel.mass <= measure::grams(1)) return false;
  if (parcel.packs_made <= 0) return true;
  const auto routes = almanac.routes.for_crop(almanac.crops, parcel.food);
  return parcel.form != "fresh" && std::any_of(routes.begin(), routes.end(), [&](const almanac::Route* r) {
           return r->is_hold && r->product_form == parcel.form;
         });
}

Waiting waiting_of(const almanac::Almanac& almanac, const ledger::State& state, const ledger::Parcel& parcel,
                   measure::Instant now) {
  Waiting waiting;
  const std::vector<keeping::Stay> stays = stays_of(state, parcel, now);
  const std::string clock = hazard_key(almanac, parcel.food, parcel.form);
  if (!clock.empty()) {
    waiting.clock = keeping::hazard_clock(clock);
    if (waiting.clock != nullptr) waiting.hazard_by = keeping::hazard_deadline(*waiting.clock, stays, now);
    return waiting;
  }
  if (parcel.form.starts_with("frozen")) return waiting;  // a freezer stops ripening and loss at the planner's grain
  const auto model = keeping::model_for(almanac, parcel.food);
  if (!model) return waiting;
  waiting.model = *model;
  const std::string first = parcel.sights.empty() ? parcel.condition : parcel.sights.front().condition;
  keeping::Belief belief = keeping::at_bring_in(*model, seen_condition(first));
  // Walk through stays and later looks in time order.
  std::size_t look = 1;
  for (std::size_t i = 0; i < stays.size(); ++i) {
    measure::Instant at = stays[i].from;
    const measure::Instant end = i + 1 < stays.size() ? stays[i + 1].from : now;
    const auto go_to = [&](measure::Instant to) {
      if (to <= at) return;
      belief =
          keeping::advance(*model, belief, measure::seconds(static_cast<double>((to - at).count())), stays[i].temp);
      at = to;
    };
    for (; look < parcel.sights.size() && parcel.sights[look].at <= end; ++look) {
      go_to(parcel.sights[look].at);
      belief = keeping::observe(*model, belief, seen_condition(parcel.sights[look].condition));
    }
    go_to(end);
  }
  waiting.belief = belief;
  return waiting;
}

}  // namespace stillroom::app::detail
