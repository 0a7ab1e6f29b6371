#include <algorithm>
#include <functional>
#include <nlohmann/json.hpp>

#include "app/app.h"
#include "app/detail/barred.h"
#include "app/detail/batch_words.h"
#include "app/detail/names.h"
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
  const std::uint32_t next = detail::next_code_number(state);
  std::vector<std::string> codes;
  for (std::uint32_t i = 0; i < how_many; ++i) codes.push_back(kitchen::pack_code(next + i));
  return codes;
}

/// An entry as it came, or why it is none.
struct Read {
  Received answer;
  std::optional<ledger::Entry> entry;
};

Read read_one(const nlohmann::json& json) {
  Read r;
  if (json.is_object() && json.contains("id") && json["id"].is_string()) r.answer.id = json["id"].get<std::string>();
  auto entry = ledger::entry_from_json(json.dump());
  if (!entry) {
    r.answer.refusal = entry.error();
  } else {
    r.entry = std::move(*entry);
  }
  return r;
}

/// Batch that a live entry packs; nothing for any other entry.
std::optional<ledger::Id> packs_live(const Read& r) {
  const auto* packed = r.entry && r.entry->live ? std::get_if<ledger::Packed>(&r.entry->what) : nullptr;
  return packed == nullptr ? std::nullopt : std::optional(packed->batch);
}

/// Where the entries that stand or fall with that at `from` end: what a batch is packed into goes in whole or not at
/// all, so that what lies beside the packs is not written down when the packs are refused.
std::size_t end_of_group(const std::vector<Read>& all, std::size_t from) {
  const auto batch = packs_live(all[from]);
  std::size_t end = from + 1;
  while (batch && end < all.size() && packs_live(all[end]) == batch) ++end;
  return end;
}

}  // namespace

namespace {

constexpr std::size_t kRecentCrops = 8;

/// What was brought in last, each crop once, with where it went first and how it was said.
std::vector<RecentCrop> recent_crops(const ledger::State& state) {
  std::vector<const ledger::Parcel*> lots;
  for (const auto& [id, p] : state.parcels) {
    if (p.packs_made == 0 && p.made_by.is_nil() && p.split_from.is_nil() && !p.as_said.empty()) lots.push_back(&p);
  }
  std::ranges::stable_sort(lots, std::greater<>(), &ledger::Parcel::since);
  std::vector<RecentCrop> out;
  for (const ledger::Parcel* p : lots) {
    if (out.size() == kRecentCrops) break;
    if (std::ranges::find(out, p->food, &RecentCrop::crop) != out.end()) continue;
    out.push_back({.crop = p->food,
                   .place = p->stays.empty() ? p->place : p->stays.front().place,
                   .condition = p->sights.empty() ? p->condition : p->sights.front().condition,
                   .as_said = p->as_said});
  }
  return out;
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
  s.recent = recent_crops(state);
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
  std::vector<Read> all;
  for (const auto& one : json) all.push_back(read_one(one));
  for (std::size_t from = 0; from < all.size();) {
    const std::size_t end = end_of_group(all, from);
    // Asked when its turn comes: what was sent with it, before it, has happened by then.
    if (all[from].entry) all[from].answer.refusal = detail::barred(h, now, *all[from].entry);
    if (all[from].answer.refusal) all[from].entry.reset();
    std::vector<ledger::Entry> together;
    for (std::size_t i = from; i < end; ++i) {
      if (all[i].entry) together.push_back(*all[i].entry);
    }
    if (!together.empty()) {
      const auto appended =
          together.size() == 1 ? h.ledger.append(together.front(), now) : h.ledger.append_all(together, now);
      for (std::size_t i = from; i < end; ++i) {
        all[i].answer.stored = appended.has_value();
        if (appended) continue;
        all[i].answer.refusal = appended.error();
        all[i].answer.refusal->message = detail::with_crop_names(h.almanac, appended.error().message);
      }
    }
    from = end;
  }
  std::vector<Received> out;
  for (Read& one : all) out.push_back(std::move(one.answer));
  return out;
}

}  // namespace stillroom::app
