#include <fmt/format.h>

#include <algorithm>

#include "app/app.h"
#include "app/detail/names.h"
#include "kitchen/batch.h"

namespace stillroom::app {
namespace {

bool gone(const ledger::Parcel& p) {
  return p.state == ledger::ParcelState::eaten || p.state == ledger::ParcelState::let_go;
}

bool same_letters(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](unsigned char x, unsigned char y) { return std::tolower(x) == std::tolower(y); });
}

/// Ids that begin with what was typed (four letters or more).
std::vector<ledger::Id> by_prefix(const ledger::State& state, std::string_view typed) {
  std::vector<ledger::Id> found;
  if (typed.size() < 4) return found;
  for (const auto& [id, parcel] : state.parcels) {
    if (id.hex().starts_with(typed)) found.push_back(id);
  }
  for (const auto& [id, batch] : state.batches) {
    if (id.hex().starts_with(typed)) found.push_back(id);
  }
  return found;
}

/// Packs whose label says that: one, unless two phones without a signal wrote the same code ("7K3QD-4", "7K3QD-4/2").
/// Those that are here before those that are not.
std::vector<ledger::Id> by_label(const ledger::State& state, std::string_view typed) {
  const auto slash = typed.find('/');
  const auto number = kitchen::number_of_code(typed.substr(0, slash));
  if (!number) return {};
  std::string code = kitchen::pack_code(*number);
  if (slash != std::string_view::npos) code += typed.substr(slash);
  std::vector<ledger::Id> here, not_here;
  for (const auto& [id, parcel] : state.parcels) {
    if (parcel.code == code || parcel.code.starts_with(code + "/")) (gone(parcel) ? not_here : here).push_back(id);
  }
  return here.empty() ? not_here : here;
}

Result<ledger::Id> not_unique(const House& h, std::string_view typed, const std::vector<ledger::Id>& all) {
  const ledger::State& state = h.ledger.state();
  std::vector<std::string> choices;
  for (const ledger::Id& id : all) {
    const auto parcel = state.parcels.find(id);
    choices.push_back(
        id.hex().substr(0, 8) + "  " +
        (parcel == state.parcels.end() ? state.batches.at(id).name : detail::parcel_name(h.almanac, parcel->second)));
  }
  return measure::refuse("not_unique",
                         fmt::format("\"{}\" could be {} things here: say which by its id.", typed, all.size()),
                         std::move(choices));
}

}  // namespace

Result<ledger::Id> resolve(const House& h, std::string_view typed) {
  const ledger::State& state = h.ledger.state();
  if (const auto id = ledger::Id::parse(typed)) return *id;
  const std::vector<ledger::Id> prefixed = by_prefix(state, typed);
  if (prefixed.size() == 1) return prefixed.front();
  const std::vector<ledger::Id> labelled = by_label(state, typed);
  if (labelled.size() == 1) return labelled.front();
  if (labelled.size() > 1) return not_unique(h, typed, labelled);
  std::vector<ledger::Id> named;
  std::vector<std::string> all_names;
  const auto crop = h.almanac.crops.named(typed);
  for (const auto& [id, parcel] : state.parcels) {
    if (gone(parcel)) continue;
    const std::string name = detail::parcel_name(h.almanac, parcel);
    all_names.push_back(name);
    if (same_letters(name, typed) || (crop && h.almanac.crops.is_a(parcel.food, (*crop)->key))) named.push_back(id);
  }
  for (const auto& [id, batch] : state.batches) {
    if (same_letters(batch.name, typed)) named.push_back(id);
  }
  if (named.size() == 1) return named.front();
  if (named.size() > 1) return not_unique(h, typed, named);
  return measure::refuse("not_found", fmt::format("There is nothing here called \"{}\".", typed),
                         measure::suggest(typed, all_names));
}

}  // namespace stillroom::app
