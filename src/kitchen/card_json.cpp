#include <nlohmann/json.hpp>

#include "kitchen/batch.h"
#include "kitchen/process_words.h"

namespace stillroom::kitchen {
namespace {

using Json = nlohmann::ordered_json;

Json optional_number(const std::optional<double>& v) { return v ? Json(*v) : Json(nullptr); }
std::optional<double> number_or_none(const Json& j, const char* key) {
  const auto it = j.find(key);
  return it == j.end() || it->is_null() ? std::nullopt : std::optional(it->get<double>());
}

Json step_json(const Step& s) {
  Json timers = Json::array();
  for (const auto& t : s.timers) timers.push_back({{"name", t.name}, {"minutes", t.minutes}});
  return {{"stage", s.stage},
          {"title", s.title},
          {"text", s.text},
          {"caution", s.caution},
          {"expected_min", s.expected_min},
          {"attention", s.attention},
          {"can_pause", s.can_pause},
          {"hold_point", s.hold_point},
          {"least_age", s.least_age},
          {"timers", timers},
          {"gather", s.gather},
          {"shows_process", s.shows_process},
          {"lag_min_min", optional_number(s.lag_min_min)},
          {"lag_max_min", optional_number(s.lag_max_min)},
          {"hazard", s.hazard},
          {"looks_right", s.looks_right},
          {"load", s.load},
          {"packs", optional_number(s.packs)}};
}

Step step_of(const Json& j) {
  Step s;
  s.stage = j.at("stage").get<std::string>();
  s.title = j.at("title").get<std::string>();
  s.text = j.at("text").get<std::string>();
  s.caution = j.at("caution").get<std::string>();
  s.expected_min = j.at("expected_min").get<double>();
  s.attention = j.at("attention").get<std::string>();
  s.can_pause = j.at("can_pause").get<bool>();
  s.least_age = j.at("least_age").get<int>();
  for (const Json& t : j.at("timers"))
    s.timers.push_back({t.at("name").get<std::string>(), t.at("minutes").get<double>()});
  s.gather = j.at("gather").get<std::vector<std::string>>();
  s.shows_process = j.at("shows_process").get<bool>();
  s.lag_min_min = number_or_none(j, "lag_min_min");
  s.lag_max_min = number_or_none(j, "lag_max_min");
  s.hazard = j.value("hazard", "");
  s.looks_right = j.value("looks_right", "");
  s.load = j.value("load", 0);
  s.hold_point = j.value("hold_point", false);
  s.packs = number_or_none(j, "packs");
  return s;
}

Json process_json(const process::Choice& c) {
  return {{"id", c.id},
          {"food", c.food},
          {"form", c.form},
          {"style_of_pack", c.style_of_pack},
          {"jar", c.jar},
          {"method", c.method},
          {"time_min", c.time_min},
          {"pressure_psi", optional_number(c.pressure_psi)},
          {"headspace_in", c.headspace_in},
          {"added_acid", c.added_acid},
          {"requirements", c.requirements},
          {"altitude_over_ft", c.altitude_over_ft},
          {"altitude_to_ft", optional_number(c.altitude_to_ft)},
          {"notes", c.notes},
          {"source", c.source},
          {"source_place", c.source_place},
          {"edition_read", c.edition_read}};
}

process::Choice process_of(const Json& j) {
  process::Choice c;
  c.id = j.at("id").get<std::string>();
  c.food = j.at("food").get<std::string>();
  c.form = j.at("form").get<std::string>();
  c.style_of_pack = j.at("style_of_pack").get<std::string>();
  c.jar = j.at("jar").get<std::string>();
  c.method = j.at("method").get<std::string>();
  c.time_min = j.at("time_min").get<double>();
  c.pressure_psi = number_or_none(j, "pressure_psi");
  c.headspace_in = j.at("headspace_in").get<double>();
  c.added_acid = j.at("added_acid").get<std::string>();
  c.requirements = j.at("requirements").get<std::vector<std::string>>();
  c.altitude_over_ft = j.at("altitude_over_ft").get<double>();
  c.altitude_to_ft = number_or_none(j, "altitude_to_ft");
  c.notes = j.at("notes").get<std::string>();
  c.source = j.at("source").get<std::string>();
  c.source_place = j.at("source_place").get<std::string>();
  c.edition_read = j.at("edition_read").get<std::string>();
  return c;
}

BatchCard card_of(const Json& j) {
  BatchCard c;
  c.route = j.at("route").get<std::string>();
  c.name = j.at("name").get<std::string>();
  c.crop = j.at("crop").get<std::string>();
  c.kg_in = j.at("kg_in").get<double>();
  c.loads = j.at("loads").get<int>();
  c.packs = j.at("packs").get<double>();
  c.pack = j.at("pack").get<std::string>();
  for (const Json& s : j.at("steps")) c.steps.push_back(step_of(s));
  if (const auto& p = j.at("process"); !p.is_null()) c.process = process_of(p);
  c.product_food = j.at("product_food").get<std::string>();
  c.product_form = j.at("product_form").get<std::string>();
  c.store_in = j.at("store_in").get<std::string>();
  c.keeps_months = j.at("keeps_months").get<double>();
  if (const auto also = j.find("also"); also != j.end()) {  // cards written before there were any
    for (const Json& a : *also)
      c.also.push_back({a.at("food").get<std::string>(), a.at("form").get<std::string>(), a.at("kg").get<double>()});
  }
  c.cautions = j.at("cautions").get<std::vector<std::string>>();
  c.defer_to = j.at("defer_to").get<std::string>();
  return c;
}

}  // namespace

std::string to_json(const BatchCard& c) {
  Json steps = Json::array();
  for (const auto& s : c.steps) steps.push_back(step_json(s));
  Json also = Json::array();
  for (const auto& a : c.also) also.push_back({{"food", a.food}, {"form", a.form}, {"kg", a.kg}});
  const Json j{{"route", c.route},
               {"name", c.name},
               {"crop", c.crop},
               {"kg_in", c.kg_in},
               {"loads", c.loads},
               {"packs", c.packs},
               {"pack", c.pack},
               {"steps", steps},
               {"process", c.process ? process_json(*c.process) : Json(nullptr)},
               {"product_food", c.product_food},
               {"product_form", c.product_form},
               {"store_in", c.store_in},
               {"keeps_months", c.keeps_months},
               {"also", also},
               {"cautions", c.cautions},
               {"defer_to", c.defer_to}};
  return j.dump(-1, ' ', false, Json::error_handler_t::replace);
}

measure::Result<process::Choice> process_from_json(std::string_view json) {
  try {
    return process_of(Json::parse(json));
  } catch (const nlohmann::json::exception& e) {
    return measure::refuse("bad_card", std::string("The heat process cannot be read: ") + e.what() + ".");
  }
}

measure::Result<BatchCard> card_from_json(std::string_view json) {
  try {  // the library reports missing fields and wrong types by throwing
    return card_of(Json::parse(json));
  } catch (const nlohmann::json::exception& e) {
    return measure::refuse("bad_card", std::string("The batch card cannot be read: ") + e.what() + ".",
                           {"open the batch again from the household file"});
  }
}

}  // namespace stillroom::kitchen
