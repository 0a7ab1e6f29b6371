#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/app.h"
#include "app/detail/barred.h"
#include "app/detail/batch_words.h"
#include "app/detail/names.h"
#include "app/detail/record.h"
#include "app/detail/routes_here.h"
#include "app/detail/settings.h"
#include "kitchen/batch.h"

// One batch, from lots to packs.
namespace stillroom::app {
namespace {

struct Picked {
  const almanac::Route* route = nullptr;
  std::vector<ledger::BatchStarted::Input> inputs;
  std::string crop;
  std::vector<std::string> facts;
  double kg = 0;
};

const std::string* barred_by_sight(const ledger::Parcel& parcel) {
  static const std::string kMould = "mould";
  return std::find(parcel.facts.begin(), parcel.facts.end(), kMould) != parcel.facts.end() ? &kMould : nullptr;
}

/// Lots of one crop, and how much of it goes in per kg of the route's own crop.
struct Share {
  double per_kg = 1;
  std::vector<const ledger::Parcel*> parcels;
  [[nodiscard]] double there() const {
    double sum = 0;
    for (const ledger::Parcel* p : parcels) sum += measure::in_kilograms(p->mass);
    return sum;
  }
};

/// Takes from each lot its part: `kg` of the route's own crop (0 = what the scarcest share allows, up to a batch), the
/// others in the recipe's proportion.
Result<void> take_shares(const House& h, const almanac::Route& route, const std::vector<Share>& shares, double kg,
                         Picked& picked) {
  const measure::Units units = detail::units_of(detail::settings_of(h.ledger.state()));
  double most = route.batch_max_kg;
  for (std::size_t i = 0; i < shares.size(); ++i) {
    const double there = shares[i].there();
    const std::string& crop = i == 0 ? route.crop : route.many_lot_with[i - 1];
    if (there <= 0)
      return measure::refuse("lot_missing",
                             fmt::format("\"{}\" also takes {}.", route.name, detail::crop_plural(h.almanac, crop)),
                             {"Name a lot of each."});
    most = std::min(most, there / shares[i].per_kg);
    const double wanted = kg * shares[i].per_kg;
    if (wanted > there * 1.0005)
      return measure::refuse(
          "more_than_there",
          fmt::format("{} of {} is wanted and {} is there.", measure::say(measure::kilograms(wanted), units),
                      detail::crop_plural(h.almanac, crop), measure::say(measure::kilograms(there), units)),
          {"Leave the amount out to take what is there."});
  }
  picked.kg = kg > 0 ? kg : most;
  for (const Share& share : shares) {
    const double part = std::min(1.0, picked.kg * share.per_kg / share.there());
    for (const ledger::Parcel* parcel : share.parcels) picked.inputs.push_back({parcel->id, parcel->mass * part});
  }
  return {};
}

Result<Picked> pick_inputs(const House& h, Instant now, std::string_view route_key,
                           const std::vector<std::string>& lots, double kg) {
  const ledger::State& state = h.ledger.state();
  Picked picked;
  picked.route = h.almanac.routes.find(route_key);
  if (picked.route == nullptr) {
    return measure::refuse("unknown_route", fmt::format("There is no route called \"{}\".", route_key),
                           {"stillroom lot LOT lists what a lot could become."});
  }
  if (lots.empty()) return measure::refuse("no_lot", "Say which lot goes in.");
  // The route's own crop first, then each crop that a many-lot recipe takes beside it.
  std::vector<Share> shares{{.per_kg = 1, .parcels = {}}};
  for (const double per_kg : picked.route->many_lot_kg) shares.push_back({.per_kg = per_kg, .parcels = {}});
  for (const std::string& lot : lots) {
    const auto id = resolve(h, lot);
    if (!id) return tl::unexpected(id.error());
    const auto it = state.parcels.find(*id);
    if (it == state.parcels.end() || !ledger::is_here(it->second)) {
      return measure::refuse("not_there", fmt::format("Nothing is left of \"{}\".", lot));
    }
    const ledger::Parcel& parcel = it->second;
    if (barred_by_sight(parcel) != nullptr) {
      return measure::refuse(
          "mould", detail::parcel_name(h.almanac, parcel) + " was seen with mould: nothing is put by from it.",
          {"Sort it first; what is sound goes on as a lot of its own.", "Discard what is mouldy."});
    }
    if (parcel.form != picked.route->accepts_form) {
      return measure::refuse("wrong_form",
                             fmt::format("{} is {}; this route takes {}.", detail::parcel_name(h.almanac, parcel),
                                         parcel.form, picked.route->accepts_form));
    }
    if (const auto late = detail::out_of_time(h, now, parcel, picked.route)) return tl::unexpected(*late);
    const bool main = h.almanac.crops.is_a(parcel.food, picked.route->crop);
    const auto& with = picked.route->many_lot_with;
    const auto beside = std::find_if(with.begin(), with.end(),
                                     [&](const auto& crop) { return h.almanac.crops.is_a(parcel.food, crop); });
    if (!main && beside == with.end()) {
      return measure::refuse("wrong_crop", fmt::format("{} does not go into \"{}\".",
                                                       detail::parcel_name(h.almanac, parcel), picked.route->name));
    }
    if (main && picked.crop.empty()) picked.crop = parcel.food;
    for (const std::string& fact : parcel.facts) picked.facts.push_back(fact);
    shares[main ? 0 : static_cast<std::size_t>(beside - with.begin()) + 1].parcels.push_back(&parcel);
  }
  if (picked.crop.empty()) picked.crop = picked.route->crop;
  if (auto taken = take_shares(h, *picked.route, shares, kg, picked); !taken) return tl::unexpected(taken.error());
  return picked;
}

}  // namespace

Result<ledger::BatchStarted> draft_batch(House& h, Instant now, std::string_view route,
                                         const std::vector<std::string>& lots, double kg) {
  const auto picked = pick_inputs(h, now, route, lots, kg);
  if (!picked) return tl::unexpected(picked.error());
  const ledger::State& state = h.ledger.state();
  const auto card = detail::card_here(h.almanac, state, *picked->route, picked->crop, picked->facts, picked->kg);
  if (!card) return tl::unexpected(card.error());
  return ledger::BatchStarted{.batch = h.random.id(),
                              .route = picked->route->key,
                              .name = detail::crop_plural(h.almanac, picked->crop) + ": " + card->name,
                              .inputs = picked->inputs,
                              .steps_json = kitchen::to_json(*card)};
}

Result<std::string> start_batch(House& h, Instant now, std::string_view route, const std::vector<std::string>& lots,
                                double kg) {
  auto draft = draft_batch(h, now, route, lots, kg);
  if (!draft) return tl::unexpected(draft.error());
  const std::string id = draft->batch.hex();
  return detail::record(h, now, std::move(*draft), id);
}

Result<std::string> pack(House& h, Instant now, std::string_view batch_typed, double packs, std::string_view place) {
  const ledger::State& state = h.ledger.state();
  const auto id = resolve(h, batch_typed);
  if (!id) return tl::unexpected(id.error());
  const auto it = state.batches.find(*id);
  if (it == state.batches.end())
    return measure::refuse("unknown_batch", fmt::format("\"{}\" is not a batch.", batch_typed));
  const auto card = kitchen::card_from_json(it->second.steps_json);
  if (!card) return tl::unexpected(card.error());
  std::string where = detail::pack_place(state, card->store_in);
  if (!place.empty()) {
    const auto key = detail::place_key(state, place);
    if (!key) return tl::unexpected(key.error());
    where = *key;
  }
  const detail::Settings settings = detail::settings_of(state);
  // All or none: what is beside the packs is not written down when the packs are refused.
  std::vector<ledger::Entry> entries;
  if (it->second.packed.empty()) {
    for (const kitchen::AlsoMade& also : card->also) {
      ledger::Packed beside{.batch = *id,
                            .parcel = h.random.id(),
                            .food = also.food,
                            .form = also.form,
                            .pack = "",
                            .mass = measure::kilograms(also.kg),
                            .place = detail::pack_place(state, "fridge"),
                            .code = ""};
      entries.push_back(detail::entry_now(h, now, std::move(beside)));
    }
  }
  const ledger::Id parcel = h.random.id();
  ledger::Packed packed{
      .batch = *id,
      .parcel = parcel,
      .food = card->product_food,
      .form = card->product_form,
      .pack = card->pack,
      .packs = packs,
      .mass = ledger::Mass{},
      .place = where,
      .code = kitchen::pack_code(detail::next_code_number(state)),
      .eat_by = settings.zone.date_of(now + std::chrono::hours(std::lround(card->keeps_months * 730.5))),
      .keeps_months = card->keeps_months};
  entries.push_back(detail::entry_now(h, now, std::move(packed)));
  if (const auto written = h.ledger.append_all(entries, now); !written) return tl::unexpected(written.error());
  return parcel.hex();
}

}  // namespace stillroom::app
