#include <nlohmann/json.hpp>

#include "planning/plan.h"

// A plan as JSON and back. Field names are those of plan.h; spans are [from, to] in minutes.
namespace stillroom::planning {
namespace {

using Json = nlohmann::json;

Json span_json(const Span& s) { return Json::array({s.from, s.to}); }
Span span_from(const Json& j) { return {j.at(0).get<Minute>(), j.at(1).get<Minute>()}; }

const char* attention_word(almanac::Attention a) {
  switch (a) {
    case almanac::Attention::hands_on:
      return "hands_on";
    case almanac::Attention::nearby:
      return "nearby";
    case almanac::Attention::unattended:
      break;
  }
  return "unattended";
}

almanac::Attention attention_from(const std::string& word) {
  if (word == "hands_on") return almanac::Attention::hands_on;
  return word == "nearby" ? almanac::Attention::nearby : almanac::Attention::unattended;
}

Json stage_json(const PlacedStage& s) {
  Json equipment = Json::object();
  for (const almanac::EquipmentUse& e : s.equipment) equipment[e.key] = e.amount.fixed;
  return {{"batch", s.batch}, {"route", s.route},          {"stage", s.stage},
          {"name", s.name},   {"span", span_json(s.span)}, {"attention", attention_word(s.attention)},
          {"hands", s.hands}, {"equipment", equipment},    {"why", s.why}};
}

PlacedStage stage_from(const Json& j) {
  PlacedStage s{.batch = j.at("batch"),
                .route = j.at("route"),
                .stage = j.at("stage"),
                .name = j.at("name"),
                .span = span_from(j.at("span"))};
  s.attention = attention_from(j.at("attention"));
  s.hands = j.at("hands").get<std::vector<std::string>>();
  for (const auto& [key, amount] : j.at("equipment").items())
    s.equipment.push_back({key, {amount.get<double>(), 0, 0}});
  s.why = j.at("why");
  return s;
}

Json batch_json(const PlannedBatch& b) {
  Json parts = Json::array(), stages = Json::array();
  for (const auto& p : b.parts) parts.push_back({{"lot", p.lot}, {"kg", p.kg}});
  for (const PlacedStage& s : b.stages) stages.push_back(stage_json(s));
  return {{"key", b.key},     {"route", b.route}, {"parts", parts},       {"kg_in", b.kg_in}, {"kg_out", b.kg_out},
          {"packs", b.packs}, {"loads", b.loads}, {"quality", b.quality}, {"worth", b.worth}, {"stages", stages}};
}

PlannedBatch batch_from(const Json& j) {
  PlannedBatch b{.key = j.at("key"),
                 .route = j.at("route"),
                 .parts = {},
                 .kg_in = j.at("kg_in"),
                 .kg_out = j.at("kg_out"),
                 .packs = j.at("packs")};
  b.loads = j.at("loads");
  b.quality = j.at("quality");
  b.worth = j.at("worth");
  for (const Json& p : j.at("parts")) b.parts.push_back({p.at("lot"), p.at("kg")});
  for (const Json& s : j.at("stages")) b.stages.push_back(stage_from(s));
  return b;
}

Json outlook_json(const LotOutlook& o) {
  Json j = {{"lot", o.lot},
            {"kg", o.kg},
            {"kg_put_by", o.kg_put_by},
            {"kg_eaten", o.kg_eaten},
            {"kg_let_go", o.kg_let_go},
            {"days_left_low", o.days_left_low},
            {"days_left", o.days_left},
            {"days_left_high", o.days_left_high},
            {"loss_kg_per_day", o.loss_kg_per_day},
            {"cost_of_waiting", o.cost_of_waiting},
            {"next_at", nullptr},
            {"next_move", o.next_move},
            {"let_go_reason", o.let_go_reason}};
  if (o.next_at) j["next_at"] = *o.next_at;
  return j;
}

LotOutlook outlook_from(const Json& j) {
  LotOutlook o{.lot = j.at("lot"),
               .kg = j.at("kg"),
               .kg_put_by = j.at("kg_put_by"),
               .kg_eaten = j.at("kg_eaten"),
               .kg_let_go = j.at("kg_let_go")};
  o.days_left_low = j.at("days_left_low");
  o.days_left = j.at("days_left");
  o.days_left_high = j.at("days_left_high");
  o.loss_kg_per_day = j.at("loss_kg_per_day");
  o.cost_of_waiting = j.at("cost_of_waiting");
  if (!j.at("next_at").is_null()) o.next_at = j.at("next_at").get<Minute>();
  o.next_move = j.at("next_move");
  o.let_go_reason = j.at("let_go_reason");
  return o;
}

Plan plan_from(const Json& j) {
  Plan plan;
  for (const Json& b : j.at("batches")) plan.batches.push_back(batch_from(b));
  for (const Json& h : j.at("holds")) plan.holds.push_back({h.at("lot"), h.at("place"), h.at("from")});
  for (const Json& o : j.at("other")) {
    Plan::OtherPlaced placed{.key = o.at("key"), .spans = {}, .hands = o.at("hands").get<std::vector<std::string>>()};
    for (const Json& s : o.at("spans")) placed.spans.push_back(span_from(s));
    plan.other.push_back(std::move(placed));
  }
  for (const Json& t : j.at("trips")) {
    Plan::Trip trip{.span = span_from(t.at("span")), .hand = t.at("hand"), .bought = {}};
    for (const Json& b : t.at("bought")) trip.bought.push_back({b.at("item"), b.at("amount"), b.at("cost")});
    plan.trips.push_back(std::move(trip));
  }
  for (const Json& l : j.at("lots")) plan.lots.push_back(outlook_from(l));
  const Json& t = j.at("terms");
  plan.terms = {t.at("put_by"), t.at("still_sound"), t.at("materials"), t.at("energy"),
                t.at("effort"), t.at("lateness"),    t.at("change")};
  plan.schedules = j.at("schedules");
  plan.seed = j.at("seed");
  return plan;
}

}  // namespace

std::string to_json(const Plan& plan) {
  Json j;
  j["batches"] = Json::array();
  for (const PlannedBatch& b : plan.batches) j["batches"].push_back(batch_json(b));
  j["holds"] = Json::array();
  for (const PlannedHold& h : plan.holds) j["holds"].push_back({{"lot", h.lot}, {"place", h.place}, {"from", h.from}});
  j["other"] = Json::array();
  for (const Plan::OtherPlaced& o : plan.other) {
    Json spans = Json::array();
    for (const Span& s : o.spans) spans.push_back(span_json(s));
    j["other"].push_back({{"key", o.key}, {"spans", spans}, {"hands", o.hands}});
  }
  j["trips"] = Json::array();
  for (const Plan::Trip& t : plan.trips) {
    Json bought = Json::array();
    for (const auto& b : t.bought) bought.push_back({{"item", b.item}, {"amount", b.amount}, {"cost", b.cost}});
    j["trips"].push_back({{"span", span_json(t.span)}, {"hand", t.hand}, {"bought", bought}});
  }
  j["lots"] = Json::array();
  for (const LotOutlook& o : plan.lots) j["lots"].push_back(outlook_json(o));
  const ObjectiveTerms& t = plan.terms;
  j["terms"] = {{"put_by", t.put_by}, {"still_sound", t.still_sound}, {"materials", t.materials}, {"energy", t.energy},
                {"effort", t.effort}, {"lateness", t.lateness},       {"change", t.change},       {"total", t.total()}};
  j["schedules"] = plan.schedules;
  j["seed"] = plan.seed;
  return j.dump();
}

measure::Result<Plan> plan_from_json(std::string_view json) {
  const Json j = Json::parse(json, nullptr, false);
  if (j.is_discarded()) return measure::refuse("bad_plan", "This is not the JSON of a plan.");
  try {
    return plan_from(j);
  } catch (const Json::exception& error) {  // a field missing or of another kind: the library says which
    return measure::refuse("bad_plan", std::string("The plan cannot be read: ") + error.what());
  }
}

}  // namespace stillroom::planning
