#include "app/detail/record.h"

#include <fmt/format.h>

#include <algorithm>

#include "app/detail/names.h"

namespace stillroom::app::detail {
namespace {

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

}  // namespace

std::optional<measure::Refusal> unknown_food(const almanac::Almanac& almanac, const ledger::Payload& what) {
  const NamedFood food = named_food(what);
  if (food.key == nullptr || almanac.crops.find(*food.key) != nullptr) return std::nullopt;
  return measure::Refusal{"unknown_food",
                          fmt::format("{} names the food \"{}\", which is not known here.", food.by, *food.key),
                          keys_near(almanac.crops, *food.key)};
}

ledger::Entry entry_now(House& h, Instant now, ledger::Payload what) {
  return {.id = h.random.id(), .happened = now, .who = h.who, .live = true, .what = std::move(what)};
}

Result<std::string> record(House& h, Instant now, ledger::Payload what, std::string made) {
  if (auto unknown = unknown_food(h.almanac, what)) return tl::unexpected(std::move(*unknown));
  const auto appended = h.ledger.append(entry_now(h, now, std::move(what)), now);
  if (appended) return made;
  measure::Refusal no = appended.error();
  no.message = with_crop_names(h.almanac, no.message);
  return tl::unexpected(std::move(no));
}

}  // namespace stillroom::app::detail
