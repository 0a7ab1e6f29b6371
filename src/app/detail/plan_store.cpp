#include "app/detail/plan_store.h"

#include <nlohmann/json.hpp>

namespace stillroom::app::detail {

std::string stored_plan(const planning::Plan& plan, measure::Date first_day) {
  return nlohmann::json{{"first_day", measure::to_iso(first_day)},
                        {"plan", nlohmann::json::parse(planning::to_json(plan))}}
      .dump();
}

std::vector<planning::PlacedBefore> placed_before(const std::string& stored, measure::Date first_day) {
  const auto json = nlohmann::json::parse(stored, nullptr, false);
  if (!json.is_object() || !json.contains("first_day") || !json.contains("plan")) return {};
  const auto day = measure::parse_date(json["first_day"].get<std::string>());
  const auto plan = planning::plan_from_json(json["plan"].dump());
  if (!day || !plan) return {};
  return planning::in_force(*plan, static_cast<planning::Minute>((*day - first_day).count()) * 1440);
}

}  // namespace stillroom::app::detail
