#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/app.h"
#include "app/detail/names.h"
#include "app/detail/record.h"
#include "app/detail/routes_here.h"
#include "app/detail/settings.h"
#include "kitchen/batch.h"
#include "kitchen/session.h"
#include "kitchen/trouble.h"

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

Result<Picked> pick_inputs(const House& h, std::string_view route_key, const std::vector<std::string>& lots,
                           double kg) {
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

std::string pack_place(const ledger::State& state, std::string_view store_in) {
  for (const auto& [key, place] : state.places) {
    if (place.kind == store_in) return key;
  }
  return std::string(store_in);
}

ProcessView process_view(const process::Choice& c) {
  ProcessView v;
  v.method = c.method == "boiling_water" ? "boiling-water canner"
             : c.method == "dial_gauge"  ? "dial-gauge pressure canner"
                                         : "weighted-gauge pressure canner";
  v.jar = detail::item_words(c.jar);
  v.time = measure::say_minutes(measure::minutes(c.time_min));
  if (c.pressure_psi) v.pressure = measure::say_number(*c.pressure_psi) + " psi";
  v.headspace = measure::say_number(c.headspace_in) + " in";
  v.added_acid = c.added_acid;
  v.altitude_band = c.altitude_to_ft ? fmt::format("{:.0f} to {:.0f} ft", c.altitude_over_ft, *c.altitude_to_ft)
                                     : fmt::format("above {:.0f} ft", c.altitude_over_ft);
  v.source = c.source;
  v.place = c.source_place;
  v.edition = c.edition_read;
  for (const std::string& r : c.requirements) {
    std::string words = r;
    std::replace(words.begin(), words.end(), '_', ' ');
    v.requirements.push_back(std::move(words));
  }
  return v;
}

std::string stage_state(const ledger::BatchState& batch, const kitchen::Step& step, bool& next_given) {
  if (batch.stage_finished.contains(step.stage)) return "done";
  if (batch.current_stage == step.stage) {
    next_given = true;
    return batch.put_down ? "put_down" : "underway";
  }
  if (!next_given && batch.current_stage.empty()) {
    next_given = true;
    return "next";
  }
  return "later";
}

std::vector<std::string> who_may(const ledger::State& state, const kitchen::Step& step) {
  std::vector<std::string> names;
  for (const auto& [key, person] : state.people) {
    if (!person.needs_minding && person.age >= step.least_age) names.push_back(person.name);
  }
  return names;
}

/// What the clock says about this batch: lags running out, hazards, steps that wait.
std::vector<std::string> warnings_of(const ledger::State& state, const ledger::Id& id, const ledger::BatchState& batch,
                                     const kitchen::BatchCard& card, Instant now) {
  if (batch.finished || batch.abandoned) return {};
  std::vector<kitchen::StageMark> marks;
  for (const kitchen::Step& step : card.steps) {
    kitchen::StageMark mark{.stage = step.stage, .started = std::nullopt, .finished = std::nullopt};
    if (const auto at = batch.stage_started.find(step.stage); at != batch.stage_started.end())
      mark.started = at->second;
    if (const auto at = batch.stage_finished.find(step.stage); at != batch.stage_finished.end())
      mark.finished = at->second;
    mark.put_down = batch.put_down && batch.current_stage == step.stage;
    marks.push_back(std::move(mark));
  }
  std::vector<kitchen::RunningTimer> timers;
  for (const auto& [timer_id, timer] : state.timers) {
    if (timer.batch == id && !timer.stopped) timers.push_back({timer.name, timer.due});
  }
  return kitchen::session_of(card, marks, timers, now).warnings;
}

std::uint32_t next_code_number(const ledger::State& state) {
  std::uint32_t most = 0;
  for (const auto& [id, parcel] : state.parcels) {
    if (parcel.code.empty()) continue;
    if (const auto number = kitchen::number_of_code(parcel.code)) most = std::max(most, *number + 1);
  }
  return most;
}

}  // namespace

Result<ledger::BatchStarted> draft_batch(House& h, Instant /*now*/, std::string_view route,
                                         const std::vector<std::string>& lots, double kg) {
  const auto picked = pick_inputs(h, route, lots, kg);
  if (!picked) return tl::unexpected(picked.error());
  const ledger::State& state = h.ledger.state();
  const auto card = detail::card_here(h.almanac, state, *picked->route, picked->crop, picked->facts, picked->kg);
  if (!card) return tl::unexpected(card.error());
  return ledger::BatchStarted{.batch = h.random.id(),
                              .route = picked->route->key,
                              .name = card->name,
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

Result<BatchView> batch_view(const House& h, Instant now, std::string_view batch_typed) {
  const ledger::State& state = h.ledger.state();
  const auto id = resolve(h, batch_typed);
  if (!id) return tl::unexpected(id.error());
  const auto it = state.batches.find(*id);
  if (it == state.batches.end()) {
    return measure::refuse("unknown_batch", fmt::format("\"{}\" is not a batch.", batch_typed));
  }
  const ledger::BatchState& batch = it->second;
  const auto card = kitchen::card_from_json(batch.steps_json);
  if (!card) return tl::unexpected(card.error());
  const detail::Settings settings = detail::settings_of(state);
  BatchView v;
  v.household = household_view(h, now);
  v.id = id->hex();
  v.name = batch.name;
  v.route = batch.route;
  v.kg_in = card->kg_in;
  v.packs_expected = card->packs;
  v.amount = measure::say(measure::kilograms(card->kg_in), detail::units_of(settings));
  v.pack = card->pack;
  v.product_food = card->product_food;
  v.product_form = card->product_form;
  v.store_in = detail::place_name(state, pack_place(state, card->store_in));
  v.store_key = pack_place(state, card->store_in);
  v.eat_by = measure::to_iso(settings.zone.date_of(now + std::chrono::hours(std::lround(card->keeps_months * 730.5))));
  v.cautions = card->cautions;
  v.defer_to = card->defer_to;
  v.next_code = kitchen::pack_code(next_code_number(state));
  for (const kitchen::AlsoMade& also : card->also) {
    v.also.push_back({.food = also.food,
                      .form = also.form,
                      .name = detail::crop_name(h.almanac, also.food) + ", " + also.form,
                      .amount = measure::say(measure::kilograms(also.kg), detail::units_of(settings)),
                      .kg = also.kg,
                      .place_key = pack_place(state, "fridge")});
  }
  if (card->process) v.process = process_view(*card->process);
  const std::vector<std::string> warnings = warnings_of(state, *id, batch, *card, now);
  v.cautions.insert(v.cautions.begin(), warnings.begin(), warnings.end());
  bool next_given = false;
  for (std::size_t i = 0; i < card->steps.size(); ++i) {
    const kitchen::Step& step = card->steps[i];
    StepView s{.stage = step.stage,
               .title = step.title,
               .text = step.text,
               .caution = step.caution,
               .attention = step.attention};
    s.state = stage_state(batch, step, next_given);
    if (s.state == "next" || s.state == "underway" || s.state == "put_down") v.current = static_cast<int>(i);
    s.expected = measure::say(measure::minutes(step.expected_min));
    if (const auto began = batch.stage_started.find(step.stage); began != batch.stage_started.end()) {
      s.started = detail::local_text(settings, began->second);
    }
    if (const auto ended = batch.stage_finished.find(step.stage); ended != batch.stage_finished.end()) {
      s.finished = detail::local_text(settings, ended->second);
    }
    s.can_pause = step.can_pause;
    s.shows_process = step.shows_process;
    s.gather = step.gather;
    for (const kitchen::TimerSpec& timer : step.timers) {
      s.timers.push_back(
          {.name = timer.name, .batch = v.id, .batch_name = v.name, .due = "", .seconds_left = timer.minutes * 60});
    }
    s.hands = who_may(state, step);
    v.steps.push_back(std::move(s));
  }
  if (!next_given && !v.steps.empty()) v.current = static_cast<int>(v.steps.size());  // all done: packing
  for (const auto& [timer_id, timer] : state.timers) {
    if (timer.batch != *id || timer.stopped) continue;
    v.timers.push_back({.id = timer_id.hex(),
                        .name = timer.name,
                        .batch = v.id,
                        .batch_name = v.name,
                        .due = measure::to_iso(timer.due),
                        .seconds_left = static_cast<double>((timer.due - now).count())});
  }
  for (const ledger::BatchStarted::Input& input : batch.inputs) {
    const auto parcel = state.parcels.find(input.parcel);
    if (parcel != state.parcels.end()) v.lots.push_back(detail::parcel_name(h.almanac, parcel->second));
  }
  for (const kitchen::Trouble& trouble : kitchen::troubles_for(*card))
    v.trouble.push_back(trouble.what + ": " + trouble.then);
  for (const ledger::Id& packed : batch.packed) {
    const auto parcel = state.parcels.find(packed);
    if (parcel == state.parcels.end()) continue;
    v.packed_parcel = packed.hex();
    v.seal_check_due = parcel->second.seals_unchecked;
    v.seal_check_from = detail::local_text(settings, parcel->second.since + std::chrono::hours(12));
  }
  v.state = batch.abandoned  ? "abandoned"
            : batch.finished ? (v.seal_check_due ? "resting" : "finished")
            : batch.put_down ? "put_down"
                             : "underway";
  return v;
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
  std::string where = pack_place(state, card->store_in);
  if (!place.empty()) {
    const auto key = detail::place_key(state, place);
    if (!key) return tl::unexpected(key.error());
    where = *key;
  }
  const detail::Settings settings = detail::settings_of(state);
  if (it->second.packed.empty()) {
    for (const kitchen::AlsoMade& also : card->also) {
      ledger::Packed beside{.batch = *id,
                            .parcel = h.random.id(),
                            .food = also.food,
                            .form = also.form,
                            .pack = "",
                            .mass = measure::kilograms(also.kg),
                            .place = pack_place(state, "fridge"),
                            .code = ""};
      const auto written = detail::record(h, now, std::move(beside), "");
      if (!written) return written;
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
      .code = kitchen::pack_code(next_code_number(state)),
      .eat_by = settings.zone.date_of(now + std::chrono::hours(std::lround(card->keeps_months * 730.5))),
      .keeps_months = card->keeps_months};
  return detail::record(h, now, std::move(packed), parcel.hex());
}

}  // namespace stillroom::app
