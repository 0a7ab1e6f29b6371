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

bool read_stages(const CardJson& list, CardFacts& facts) {
  if (!list.is_array()) return false;
  for (const CardJson& one : list) {
    const auto stage = one.is_object() ? one.find("stage") : one.end();
    if (stage == one.end() || !stage->is_string()) return false;
    facts.stages.push_back(stage->get<std::string>());
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
  }
  if (const auto stock = json.find("stock"); stock != json.end() && !read_stock(*stock, facts)) return std::nullopt;
  if (const auto steps = json.find("steps"); steps != json.end() && !read_stages(*steps, facts)) return std::nullopt;
  return facts;
}

}  // namespace stillroom::ledger::detail
