#include <nlohmann/json.hpp>

#include "ledger/entry.h"
#include "service/looking.h"

// What the household has set down about itself, in the very form its entries take, so that a page can send it back
// changed. The forms are the ledger's: each part is written as an entry and its fields are taken from there.
namespace stillroom::service {
namespace {

nlohmann::json fields_of(ledger::Payload payload) {
  const std::string text = ledger::to_json(ledger::Entry{{}, {}, "", true, std::move(payload)});
  return nlohmann::json::parse(text).at("what");
}

}  // namespace

Reply GetSettings::operator()(const Request& /*request*/) const {
  return household.with([](app::House& h, measure::Instant) {
    const ledger::State& state = h.ledger.state();
    nlohmann::json out = fields_of(ledger::SettingsChanged{state.settings});
    for (const char* list : {"people", "places", "equipment", "stock"}) out[list] = nlohmann::json::array();
    for (const auto& [key, person] : state.people) {
      out["people"].push_back(fields_of(ledger::PersonSet{person}).at("person"));
    }
    for (const auto& [key, place] : state.places) {
      out["places"].push_back(fields_of(ledger::PlaceSet{place}).at("place"));
    }
    for (const auto& [key, count] : state.equipment) {
      out["equipment"].push_back(fields_of(ledger::EquipmentSet{key, count}));
    }
    for (const auto& [item, amount] : state.stock) out["stock"].push_back(fields_of(ledger::StockSet{item, amount}));
    return Reply{200, out.dump()};
  });
}

}  // namespace stillroom::service
