#include "app/detail/barred.h"

#include <fmt/format.h>

#include <algorithm>

#include "app/detail/batch_words.h"
#include "app/detail/names.h"
#include "app/detail/settings.h"
#include "kitchen/process_words.h"

namespace stillroom::app::detail {
namespace {

constexpr const char* kWriteDownFirst = "If it lay colder or came later than the book says, write that down first.";

struct NamedFood {
  const std::string* key = nullptr;
  std::string_view by;  ///< what names it
};

NamedFood named_food(const ledger::Payload& what) {
  if (const auto* e = std::get_if<ledger::PutByBefore>(&what)) return {&e->food, "What was put by before"};
  if (const auto* e = std::get_if<ledger::BroughtIn>(&what)) return {&e->crop, "What was brought in"};
  if (const auto* e = std::get_if<ledger::StandingSet>(&what)) return {&e->crop, "What is not picked yet"};
  if (const auto* e = std::get_if<ledger::NeedSet>(&what)) return {&e->food, "The need for a year"};
  return {};
}

/// What may have been meant by a key that is none, as keys.
std::vector<std::string> keys_near(const almanac::Crops& crops, const std::string& key) {
  const auto said = [](const almanac::Crop& crop) { return fmt::format("\"{}\" for {}", crop.key, crop.plural); };
  std::string words = key;
  std::ranges::replace(words, '_', ' ');
  const auto meant = crops.named(words);
  if (meant) return {said(**meant)};
  std::vector<std::string> near;
  for (const std::string& name : meant.error().instead) {
    if (const auto crop = crops.named(name)) near.push_back(said(**crop));
  }
  if (near.empty()) near.emplace_back("the key of a food in the list of crops (/api/v1/crops)");
  return near;
}

/// The book itself knows foods by their keys only.
std::optional<measure::Refusal> unknown_food(const almanac::Almanac& almanac, const ledger::Payload& what) {
  const NamedFood food = named_food(what);
  if (food.key == nullptr || almanac.crops.find(*food.key) != nullptr) return std::nullopt;
  return measure::Refusal{"unknown_food",
                          fmt::format("{} names the food \"{}\", which is not known here.", food.by, *food.key),
                          keys_near(almanac.crops, *food.key)};
}

/// What stood alive comes in as a carcass with the clock of its weight, or it has no way to go and the wrong clock.
std::optional<measure::Refusal> picked_alive(const House& h, const ledger::StandingPicked& picked) {
  const auto& standing = h.ledger.state().standing;
  const auto row = standing.find(picked.key);
  if (row == standing.end() || picked.form == "carcass" || !is_butchered(h.almanac, row->second.set.crop))
    return std::nullopt;
  return measure::Refusal{"butchered",
                          fmt::format("The clock of {} runs from when they were killed, and by what one weighs.",
                                      crop_plural(h.almanac, row->second.set.crop)),
                          {"Write down the butchering day: how many, and what one weighs dressed or live."}};
}

/// The parcel that something leaves as food, to people or animals; nil for every other entry.
ledger::Id leaves_as_food(const ledger::Payload& what) {
  if (const auto* e = std::get_if<ledger::Taken>(&what)) return e->parcel;
  if (const auto* e = std::get_if<ledger::EatenFresh>(&what)) return e->parcel;
  if (const auto* e = std::get_if<ledger::GivenAway>(&what)) return e->parcel;
  if (const auto* e = std::get_if<ledger::FedToStock>(&what)) return e->parcel;
  return {};
}

const ledger::Parcel* parcel_here(const House& h, const ledger::Id& id) {
  const auto it = h.ledger.state().parcels.find(id);
  return it == h.ledger.state().parcels.end() || !ledger::is_here(it->second) ? nullptr : &it->second;
}

std::optional<measure::Refusal> no_food(const House& h, Instant now, const ledger::Parcel& p) {
  if (const auto over = ran_out(h, p, now)) {
    return measure::Refusal{"out_of_time",
                            ran_out_words(h, p, *over),
                            {"Throw it away as out of time, and keep it from animals.", kWriteDownFirst}};
  }
  const auto doubt = doubt_of(h, p);
  if (!doubt) return std::nullopt;
  return measure::Refusal{
      "do_not_eat",
      *doubt,
      {"If the setting was wrong when they were processed, write that down as what went wrong with them.",
       "If the setting is wrong now, correct it.", "In doubt, throw them away, untasted."}};
}

/// A client sends the card it was given; one whose heat process stands in no table was made elsewhere.
std::optional<measure::Refusal> no_batch(const House& h, Instant now, const ledger::BatchStarted& started) {
  const auto card = kitchen::card_from_json(started.steps_json);
  if (card && card->process && !kitchen::is_published(h.almanac.processes, *card->process)) {
    return measure::Refusal{"not_published",
                            "The heat process on that card stands in no published table.",
                            {"Start the batch again from its route: the card is made anew."}};
  }
  const almanac::Route* route = h.almanac.routes.find(started.route);
  for (const ledger::BatchStarted::Input& input : started.inputs) {
    const ledger::Parcel* parcel = parcel_here(h, input.parcel);
    if (parcel == nullptr) continue;  // the book says so
    if (auto late = out_of_time(h, now, *parcel, route)) return late;
  }
  return std::nullopt;
}

}  // namespace

std::optional<measure::Refusal> out_of_time(const House& h, Instant now, const ledger::Parcel& parcel,
                                            const almanac::Route* route) {
  if (route != nullptr && route->method == "composted") return std::nullopt;
  const auto by = ran_out(h, parcel, now);
  if (!by) return std::nullopt;
  return measure::Refusal{
      "out_of_time",
      fmt::format("The time of {} in the cold and out of it was over at {}: nothing is put by from it.",
                  parcel_name(h.almanac, parcel), local_text(settings_of(h.ledger.state()), *by)),
      {"Throw it out untasted, and keep it from animals.", kWriteDownFirst}};
}

std::optional<measure::Refusal> barred(const House& h, Instant now, const ledger::Entry& entry) {
  if (!entry.live) return std::nullopt;
  std::optional<measure::Refusal> refusal;
  if (const auto* started = std::get_if<ledger::BatchStarted>(&entry.what)) {
    refusal = no_batch(h, now, *started);
  } else if (const auto* picked = std::get_if<ledger::StandingPicked>(&entry.what)) {
    refusal = picked_alive(h, *picked);
  } else if (const ledger::Parcel* parcel = parcel_here(h, leaves_as_food(entry.what))) {
    refusal = no_food(h, now, *parcel);
  } else {
    refusal = unknown_food(h.almanac, entry.what);
  }
  // Said twice, because the first answer was lost: asked last, since it reads the file.
  return refusal && h.ledger.holds(entry.id) ? std::nullopt : refusal;
}

}  // namespace stillroom::app::detail
