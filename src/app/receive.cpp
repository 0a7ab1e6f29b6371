#include <nlohmann/json.hpp>

#include "app/app.h"
#include "app/detail/settings.h"
#include "kitchen/batch.h"
#include "kitchen/process_words.h"

// What a page needs to work without the server for a while, and what it sends back.
namespace stillroom::app {
namespace {

constexpr std::uint32_t kCodesInAdvance = 50;
/// What a hand reaches for in a garden; the line understands more.
constexpr const char* kContainers[] = {"bushel", "half_bushel", "peck", "five_gallon_bucket", "basket"};

std::vector<std::string> codes_from(const ledger::State& state, std::uint32_t how_many) {
  std::uint32_t next = 0;
  for (const auto& [id, parcel] : state.parcels) {
    if (const auto number = kitchen::number_of_code(parcel.code)) next = std::max(next, *number + 1);
  }
  std::vector<std::string> codes;
  for (std::uint32_t i = 0; i < how_many; ++i) codes.push_back(kitchen::pack_code(next + i));
  return codes;
}

/// A client sends the card it was given; one whose heat process stands in no table was made elsewhere.
std::optional<measure::Refusal> made_elsewhere(const House& h, const ledger::Entry& entry) {
  const auto* started = std::get_if<ledger::BatchStarted>(&entry.what);
  if (started == nullptr || !entry.live) return std::nullopt;
  const auto card = kitchen::card_from_json(started->steps_json);
  if (!card || !card->process || kitchen::is_published(h.almanac.processes, *card->process)) return std::nullopt;
  return measure::Refusal{"not_published",
                          "The heat process on that card stands in no published table.",
                          {"Start the batch again from its route: the card is made anew."}};
}

Received receive_one(House& h, Instant now, const nlohmann::json& json) {
  Received r;
  if (json.is_object() && json.contains("id") && json["id"].is_string()) r.id = json["id"].get<std::string>();
  const auto entry = ledger::entry_from_json(json.dump());
  if (!entry) {
    r.refusal = entry.error();
    return r;
  }
  if (auto refusal = made_elsewhere(h, *entry)) {
    r.refusal = std::move(*refusal);
    return r;
  }
  const auto appended = h.ledger.append(*entry, now);
  r.stored = appended.has_value();
  if (!appended) r.refusal = appended.error();
  return r;
}

}  // namespace

Snapshot client_snapshot(const House& h, Instant now) {
  const ledger::State& state = h.ledger.state();
  Snapshot s;
  s.household = household_view(h, now);
  for (const almanac::Crop& crop : h.almanac.crops.all()) {
    CropChoice choice{.key = crop.key,
                      .name = crop.plural,
                      .foraged = crop.foraged,
                      .animal = crop.animal,
                      .containers = {},
                      .container_kg = {}};
    for (const char* container : kContainers) {
      const auto each = h.almanac.tables.pounds_in(h.almanac.crops, container, crop.key);
      if (!each) continue;
      choice.containers.emplace_back(container);
      choice.container_kg.push_back(measure::in_kilograms(each->likely));
    }
    s.crops.push_back(std::move(choice));
  }
  for (const auto& [key, place] : state.places) s.places.push_back({key, place.name, place.kind});
  s.conditions = {"underripe", "firm", "ripe", "soft", "going over"};
  for (const auto& [key, person] : state.people) {
    s.people.push_back(person.name);
    s.people_keys.push_back(key);
  }
  s.codes = codes_from(state, kCodesInAdvance);
  return s;
}

Result<std::vector<Received>> receive_entries(House& h, Instant now, std::string_view json_array) {
  const auto json = nlohmann::json::parse(json_array, nullptr, false);
  if (!json.is_array()) {
    return measure::refuse("bad_entries", "Entries come as a JSON array.",
                           {"Send [] around the entries, even around one."});
  }
  std::vector<Received> out;
  for (const auto& one : json) out.push_back(receive_one(h, now, one));
  return out;
}

}  // namespace stillroom::app
