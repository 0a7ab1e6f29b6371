#include "service/detail/draft_card.h"

#include <algorithm>

#include "kitchen/batch.h"
#include "measure/text.h"

namespace stillroom::service::detail {
namespace {

std::string with_spaces(std::string text) {
  std::replace(text.begin(), text.end(), '_', ' ');
  return text;
}

/// The published row, as it is frozen into the batch: nothing here is computed.
app::ProcessView process_view(const process::Choice& c) {
  app::ProcessView v;
  v.method = with_spaces(c.method);
  v.jar = with_spaces(c.jar);
  v.time = measure::say_minutes(measure::minutes(c.time_min));
  if (c.pressure_psi) v.pressure = measure::say_number(*c.pressure_psi) + " psi";
  v.headspace = measure::say_number(c.headspace_in) + " in";
  v.added_acid = c.added_acid;
  v.altitude_band = c.altitude_to_ft ? measure::say_number(c.altitude_over_ft) + " to " +
                                           measure::say_number(*c.altitude_to_ft) + " ft"
                                     : "above " + measure::say_number(c.altitude_over_ft) + " ft";
  v.source = c.source;
  v.place = c.source_place;
  v.edition = c.edition_read;
  for (const std::string& one : c.requirements) v.requirements.push_back(with_spaces(one));
  return v;
}

app::StepView step_view(const kitchen::Step& step) {
  app::StepView v;
  v.stage = step.stage;
  v.title = step.title;
  v.text = step.text;
  v.caution = step.caution;
  v.attention = step.attention;
  v.state = "later";
  v.expected = measure::say(measure::minutes(step.expected_min));
  v.can_pause = step.can_pause;
  v.shows_process = step.shows_process;
  v.gather = step.gather;
  return v;
}

}  // namespace

measure::Result<app::BatchView> draft_card(const app::House& house, measure::Instant now,
                                           const ledger::BatchStarted& draft) {
  const auto card = kitchen::card_from_json(draft.steps_json);
  if (!card) return tl::unexpected(card.error());
  app::BatchView v;
  v.household = app::household_view(house, now);
  v.name = card->name;
  v.route = card->route;
  v.state = "planned";
  v.kg_in = card->kg_in;
  v.packs_expected = card->packs;
  v.amount = measure::say(measure::kilograms(card->kg_in),
                          v.household.units == "metric" ? measure::Units::metric : measure::Units::us);
  v.pack = card->pack;
  v.product_food = card->product_food;
  v.product_form = card->product_form;
  v.store_in = with_spaces(card->store_in);
  v.cautions = card->cautions;
  v.defer_to = card->defer_to;
  if (card->process) v.process = process_view(*card->process);
  for (const kitchen::Step& step : card->steps) v.steps.push_back(step_view(step));
  if (!v.steps.empty()) v.steps.front().state = "next";
  for (const ledger::BatchStarted::Input& input : draft.inputs) {
    const auto& parcels = house.ledger.state().parcels;
    const auto parcel = parcels.find(input.parcel);
    const almanac::Crop* crop = parcel == parcels.end() ? nullptr : house.almanac.crops.find(parcel->second.food);
    if (crop != nullptr) v.lots.push_back(crop->plural);
  }
  return v;
}

}  // namespace stillroom::service::detail
