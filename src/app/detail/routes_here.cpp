#include "app/detail/routes_here.h"

#include <algorithm>
#include <iterator>

#include "app/detail/family_meal.h"
#include "app/detail/names.h"
#include "app/detail/waiting.h"

namespace stillroom::app::detail {
namespace {

double owned(const ledger::State& state, const std::string& key) {
  const auto it = state.equipment.find(key);
  return it == state.equipment.end() ? 0.0 : it->second;
}

/// Canners owned that could run this route's kind of process, as process::Question words.
std::vector<std::string> canners_for(const ledger::State& state, const almanac::ProcessQuery& query) {
  struct Kind {
    const char* equipment;
    const char* word;
    bool pressure;
  };
  static constexpr Kind kKinds[] = {{"boiling_water_canner", "boiling_water", false},
                                    {"steam_canner", "steam", false},
                                    {"pressure_canner_dial", "dial", true},
                                    {"pressure_canner_weighted", "weighted", true}};
  std::vector<std::string> words;
  for (const Kind& kind : kKinds) {
    const bool fits = kind.pressure == (query.method == "pressure");
    if (fits && owned(state, kind.equipment) >= 1) words.emplace_back(kind.word);
  }
  return words;
}

}  // namespace

std::vector<planning::EquipmentPiece> equipment_of(const ledger::State& state) {
  std::vector<planning::EquipmentPiece> out;
  double pressure = 0, boiling = 0;
  for (const auto& [key, count] : state.equipment) {
    if (key.starts_with("pressure_canner")) {
      pressure += count;
    } else if (key == "boiling_water_canner" || key == "steam_canner") {
      boiling += count;
    } else {
      out.push_back({key, count});
    }
  }
  if (pressure > 0) out.push_back({"pressure_canner", pressure});
  if (boiling > 0) out.push_back({"boiling_water_canner", boiling});
  double chill_l = 0;
  for (const auto& [key, place] : state.places) chill_l += place.kind == "fridge" ? place.capacity : 0;
  if (chill_l > 0) out.push_back({"chill_l", chill_l});
  return out;
}

namespace {

/// Asks `how` for each canner owned that fits, until one has a published process.
template <class Answer>
Result<Answer> with_a_canner(const ledger::State& state, const almanac::Route& route, std::string_view crop,
                             const std::vector<std::string>& facts, const auto& how) {
  process::Question where;
  where.food = crop;
  where.altitude = settings_of(state).altitude;
  std::ranges::remove_copy_if(facts, std::back_inserter(where.conditions), is_fresh_kill);
  if (!route.process) return how(where);
  const std::vector<std::string> canners = canners_for(state, *route.process);
  if (canners.empty()) {
    return measure::refuse("no_canner",
                           route.process->method == "pressure"
                               ? "This needs a pressure canner, and the household has none."
                               : "This needs a boiling-water or steam canner, and the household has none.",
                           {"Freeze or dry it instead.", "Add the canner in the settings."});
  }
  Result<Answer> answer = measure::refuse("no_canner", "");
  for (const std::string& canner : canners) {
    where.canner = canner;
    answer = how(where);
    if (answer) break;
  }
  return answer;
}

}  // namespace

Result<kitchen::BatchCard> card_here(const almanac::Almanac& almanac, const ledger::State& state,
                                     const almanac::Route& route, std::string_view crop,
                                     const std::vector<std::string>& facts, double kg) {
  const measure::Units units = units_of(settings_of(state));
  const almanac::Route here = for_family(route, meal_share(state));
  return with_a_canner<kitchen::BatchCard>(state, here, crop, facts, [&](const process::Question& where) {
    return kitchen::make_card(almanac, here, kg, where, units);
  });
}

Result<std::optional<process::Choice>> process_here(const almanac::Almanac& almanac, const ledger::State& state,
                                                    const almanac::Route& route, std::string_view crop,
                                                    const std::vector<std::string>& facts) {
  if (!route.process) return std::optional<process::Choice>();
  return with_a_canner<std::optional<process::Choice>>(state, route, crop, facts, [&](const process::Question& where) {
    return kitchen::process_for(almanac, route, where);
  });
}

almanac::Route timed_route(const almanac::Route& route, const std::optional<process::Choice>& choice) {
  if (!choice) return route;
  // Beside the published time a load needs the canner brought up and emptied (common practice): half an hour for
  // boiling water; for pressure also ten minutes' venting and the fall to zero by itself.
  const double around_min = choice->method == "boiling_water" ? 30 : 75;
  almanac::Route timed = route;
  for (almanac::Stage& stage : timed.stages) {
    if (stage.key == "process") stage.duration_min.per_load = choice->time_min + around_min;
  }
  return timed;
}

}  // namespace stillroom::app::detail
