#include "ledger/detail/card.h"

#include <cmath>
#include <nlohmann/json.hpp>

namespace stillroom::ledger::detail {
namespace {

using CardJson = nlohmann::json;

bool read_stock(const CardJson& list, CardFacts& facts) {
  if (!list.is_array()) return false;
  for (const CardJson& one : list) {
    const auto item = one.is_object() ? one.find("item") : one.end();
    const auto amount = one.is_object() ? one.find("amount") : one.end();
    if (item == one.end() || amount == one.end() || !item->is_string() || !amount->is_number()) return false;
    const double value = amount->get<double>();
    if (!std::isfinite(value) || value < 0) return false;
    facts.stock.emplace_back(item->get<std::string>(), value);
  }
  return true;
}

/// A step that runs the process is called "process"; with several loads "process:1", "process:2", ...
bool runs_process(const std::string& stage) { return stage == "process" || stage.starts_with("process:"); }

bool read_stage(const CardJson& one, CardFacts& facts) {
  const std::string& stage = facts.stages.back();
  if (const auto load = one.find("load"); load != one.end()) {
    if (!load->is_number_integer()) return false;
    if (load->get<int>() > 0) facts.load_of.emplace(stage, load->get<int>());
  }
  if (const auto pause = one.find("can_pause"); pause != one.end()) {
    if (!pause->is_boolean()) return false;
    if (!pause->get<bool>()) facts.cannot_pause.insert(stage);
  }
  if (const auto hold = one.find("hold_point"); hold != one.end()) {
    if (!hold->is_boolean()) return false;
    if (hold->get<bool>()) facts.hold_points.insert(stage);
  }
  std::optional<double> packs;
  if (const auto of_load = one.find("packs"); of_load != one.end() && !of_load->is_null()) {
    if (!of_load->is_number() || !(of_load->get<double>() >= 0)) return false;
    packs = of_load->get<double>();
  }
  if (runs_process(stage)) facts.loads.push_back({stage, packs});
  return true;
}

bool read_stages(const CardJson& list, CardFacts& facts) {
  if (!list.is_array()) return false;
  for (const CardJson& one : list) {
    const auto stage = one.is_object() ? one.find("stage") : one.end();
    if (stage == one.end() || !stage->is_string()) return false;
    facts.stages.push_back(stage->get<std::string>());
    if (!read_stage(one, facts)) return false;
  }
  return true;
}

}  // namespace

std::optional<CardFacts> card_facts(std::string_view steps_json) {
  CardFacts facts;
  if (steps_json.empty()) return facts;
  const CardJson json = CardJson::parse(steps_json, nullptr, false);
  if (json.is_discarded() || !json.is_object()) return std::nullopt;
  if (const auto packs = json.find("packs"); packs != json.end()) {
    if (!packs->is_number() || !(packs->get<double>() >= 0)) return std::nullopt;
    // A card that expects no packs (food held loose) sets no bound.
    if (packs->get<double>() > 0) facts.packs = packs->get<double>();
  }
  if (const auto process = json.find("process"); process != json.end() && !process->is_null()) {
    facts.process_json = process->dump(-1, ' ', false, CardJson::error_handler_t::replace);
    const auto minutes = process->is_object() ? process->find("time_min") : process->end();
    if (process->is_object() && minutes != process->end() && minutes->is_number() && minutes->get<double>() > 0)
      facts.process_min = minutes->get<double>();
  }
  if (const auto stock = json.find("stock"); stock != json.end() && !read_stock(*stock, facts)) return std::nullopt;
  if (const auto steps = json.find("steps"); steps != json.end() && !read_stages(*steps, facts)) return std::nullopt;
  if (facts.loads.empty()) facts.loads.push_back({"process", std::nullopt});
  if (facts.process_json.empty()) facts.loads.clear();
  return facts;
}

}  // namespace stillroom::ledger::detail
