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

/// Share of `clock` gone before a parcel was made: of what was cut raw, the worst of its parents; of fat lifted from
/// broth, the time in the cold since the batch began. 0 for what came in as it is.
double used_before(const almanac::Almanac& almanac, const ledger::State& state, const ledger::Parcel& parcel,
                   const keeping::HazardClock& clock) {
  if (parcel.packs_made > 0 || parcel.made_by.is_nil() || parcel.stays.empty()) return 0;
  const measure::Instant made = parcel.stays.front().from;
  if (parcel.form == "fat") {
    const auto batch = state.batches.find(parcel.made_by);
    if (batch == state.batches.end()) return 0;
    return keeping::hazard_used(clock, {{batch->second.started, keeping::kFridgeHighest}}, made);
  }
  double worst = 0;
  for (const ledger::Id& id : parcel.parents) {
    const auto parent = state.parcels.find(id);
    if (parent != state.parcels.end() && id != parcel.id)
      worst = std::max(worst, hazard_share_used(almanac, state, parent->second, made));
  }
  return worst;
}

/// The shortest of the published clocks for what thaws: what is not told apart here is never given longer.
const keeping::HazardClock* thaw_clock(const almanac::Almanac& almanac, std::string_view food, std::string_view form) {
  if (form.find("broth") != std::string_view::npos) return keeping::hazard_clock("broth");
  const almanac::Crop* crop = almanac.crops.find(food);
  return keeping::hazard_clock(crop != nullptr && !crop->animal ? "thawed_produce" : "thawed_raw");
}

almanac::Condition seen_condition(std::string_view word) {
  return almanac::condition_from_word(word).value_or(almanac::Condition::firm);
}

}  // namespace

std::vector<keeping::Stay> stays_of(const ledger::State& state, const ledger::Parcel& parcel, measure::Instant until) {
  std::vector<keeping::Stay> out;
  for (std::size_t i = 0; i < parcel.stays.size(); ++i) {
    const measure::Instant to = i + 1 < parcel.stays.size() ? parcel.stays[i + 1].from : until;
    if (parcel.stays[i].from <= to || i == 0) append_stays(state, parcel.stays[i].place, parcel.stays[i].from, to, out);
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

bool is_fresh_kill(std::string_view fact) {
  return fact.starts_with("carcass_") && keeping::hazard_clock(fact) != nullptr;
}

std::string hazard_key(const almanac::Almanac& almanac, std::string_view food, std::string_view form,
                       const std::vector<std::string>& facts) {
  const auto has = [&](std::string_view word) { return form.find(word) != std::string_view::npos; };
  if (has("frozen")) return "";  // frozen food runs no clock until it is thawed
  if (has("thaw")) return "thawed_raw";
  if (has("opened")) return "opened_jar";
  if (has("broth") || has("cooked") || has("simmer")) return "cooked_food";
  const almanac::Crop* crop = almanac.crops.find(food);
  if (crop == nullptr || !crop->animal) return "";
  if (crop->kind == almanac::CropKind::egg || crop->kind == almanac::CropKind::dairy) return "";
  if (form == "fat") return "cooked_food";  // lifted from broth
  if (form == "giblets") return "raw_giblets";
  if (form == "bones") return "raw_poultry";  // the table holds all bones for broth to it
  if (form == "carcass" && crop->kind == almanac::CropKind::poultry) {
    if (const auto kill = std::ranges::find_if(facts, is_fresh_kill); kill != facts.end()) return *kill;
  }
  if (const keeping::HazardClock* raw = keeping::hazard_clock_for_crop(almanac.crops, food)) return raw->key;
  return crop->kind == almanac::CropKind::poultry ? "raw_poultry"
         : crop->kind == almanac::CropKind::fish  ? "raw_fish"
                                                  : "raw_meat";
}

double hazard_share_used(const almanac::Almanac& almanac, const ledger::State& state, const ledger::Parcel& parcel,
                         measure::Instant until) {
  const keeping::HazardClock* clock =
      keeping::hazard_clock(hazard_key(almanac, parcel.food, parcel.form, parcel.facts));
  if (clock == nullptr) return 0;
  return used_before(almanac, state, parcel, *clock) +
         keeping::hazard_used(*clock, stays_of(state, parcel, until), until);
}

bool is_frozen(const ledger::Parcel& parcel) { return parcel.form.starts_with("frozen"); }

std::optional<measure::Instant> thawed_by(const almanac::Almanac& almanac, const ledger::State& state,
                                          const ledger::Parcel& parcel, measure::Instant now) {
  if (!is_frozen(parcel) || parcel.stays.empty()) return std::nullopt;
  if (!state.places.contains(parcel.stays.back().place)) return std::nullopt;
  const measure::Instant by =
      keeping::hazard_deadline(*thaw_clock(almanac, parcel.food, parcel.form), stays_of(state, parcel, now), now);
  if (by == keeping::no_deadline()) return std::nullopt;
  return by;
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
  const std::string clock = hazard_key(almanac, parcel.food, parcel.form, parcel.facts);
  if (!clock.empty()) {
    waiting.clock = keeping::hazard_clock(clock);
    if (waiting.clock != nullptr) {
      const double used = used_before(almanac, state, parcel, *waiting.clock);
      waiting.hazard_by = keeping::hazard_deadline(*waiting.clock, stays, now, used);
    }
    return waiting;
  }
  if (is_frozen(parcel)) {  // a freezer stops ripening and loss at the planner's grain
    waiting.hazard_by = thawed_by(almanac, state, parcel, now);
    if (waiting.hazard_by) waiting.clock = thaw_clock(almanac, parcel.food, parcel.form);
    return waiting;
  }
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
