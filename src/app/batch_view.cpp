#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "app/app.h"
#include "app/detail/batch_words.h"
#include "app/detail/names.h"
#include "app/detail/settings.h"
#include "app/detail/timers.h"
#include "app/detail/trouble.h"
#include "kitchen/process_words.h"
#include "kitchen/session.h"

// One batch, as it is shown.
namespace stillroom::app {
namespace {

std::vector<kitchen::StageMark> marks_of(const ledger::BatchState& batch, const kitchen::BatchCard& card) {
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
  return marks;
}

std::string_view state_word(kitchen::StepState s) {
  switch (s) {
    case kitchen::StepState::done:
      return "done";
    case kitchen::StepState::underway:
      return "underway";
    case kitchen::StepState::put_down:
      return "put_down";
    case kitchen::StepState::next:
      return "next";
    case kitchen::StepState::later:
      break;
  }
  return "later";
}

/// The step to show: the one last worked on, else one underway, else the next; past the end when all is done.
int current_of(const BatchView& v, const ledger::BatchState& batch) {
  const auto at = [&](const auto& fits) {
    return static_cast<int>(std::find_if(v.steps.begin(), v.steps.end(), fits) - v.steps.begin());
  };
  const int none = static_cast<int>(v.steps.size());
  const int worked_on = at([&](const StepView& s) { return s.stage == batch.current_stage; });
  if (worked_on < none) return worked_on;
  // A step whose process runs is looked at before the one that may begin; jars that rest need nobody.
  const int underway = at([](const StepView& s) { return s.state == "underway" && s.attention != "unattended"; });
  if (underway < none) return underway;
  const int next = at([](const StepView& s) { return s.state == "next"; });
  return next < none ? next : at([](const StepView& s) { return s.state == "underway"; });
}

std::vector<std::string> who_may(const ledger::State& state, const kitchen::Step& step) {
  std::vector<std::string> names;
  for (const auto& [key, person] : state.people) {
    if (!person.needs_minding && person.age >= step.least_age) names.push_back(person.name);
  }
  return names;
}

/// What the clock says about this batch: lags running out, hazards, steps that wait.
void add_clocks(BatchView& v, const ledger::State& state, const ledger::BatchState& batch,
                const kitchen::BatchCard& card, const std::vector<kitchen::StageMark>& marks, Instant now) {
  const detail::Settings settings = detail::settings_of(state);
  std::vector<kitchen::RunningTimer> timers;
  for (const TimerView& timer : detail::timers_of(state, now)) {
    if (timer.batch != v.id) continue;
    timers.push_back({timer.name, state.timers.at(*ledger::Id::parse(timer.id)).due});
    v.timers.push_back(timer);
  }
  if (batch.finished || batch.abandoned) return;
  const kitchen::Session session = kitchen::session_of(card, marks, timers, now);
  v.cautions.insert(v.cautions.begin(), session.warnings.begin(), session.warnings.end());
  for (const kitchen::Deadline& d : session.deadlines) {
    v.deadlines.push_back({.what = d.what,
                           .by = detail::local_text(settings, d.by),
                           .overdue = d.overdue,
                           .when_overdue = d.when_overdue,
                           .minutes_left = static_cast<double>((d.by - now).count()) / 60});
  }
  if (session.next_not_before && *session.next_not_before > now)
    v.not_before = detail::local_text(settings, *session.next_not_before);
}

void add_steps(BatchView& v, const ledger::State& state, const ledger::BatchState& batch,
               const kitchen::BatchCard& card, const std::vector<kitchen::StageMark>& marks) {
  const detail::Settings settings = detail::settings_of(state);
  const auto states = kitchen::step_states(card, marks);
  for (std::size_t i = 0; i < card.steps.size(); ++i) {
    StepView s = detail::step_view(card.steps[i]);
    s.state = state_word(states[i]);
    if (const auto began = batch.stage_started.find(s.stage); began != batch.stage_started.end())
      s.started = detail::local_text(settings, began->second);
    if (const auto ended = batch.stage_finished.find(s.stage); ended != batch.stage_finished.end())
      s.finished = detail::local_text(settings, ended->second);
    for (TimerView& timer : s.timers) {
      timer.batch = v.id;
      timer.batch_name = v.name;
    }
    s.hands = who_may(state, card.steps[i]);
    v.steps.push_back(std::move(s));
  }
}

/// What its packs say of themselves: the record's sentence, or why they are not food.
void add_packs(BatchView& v, const House& h, const ledger::BatchState& batch) {
  const ledger::State& state = h.ledger.state();
  const detail::Settings settings = detail::settings_of(state);
  for (const ledger::Id& packed : batch.packed) {
    const auto found = state.parcels.find(packed);
    if (found == state.parcels.end()) continue;
    const ledger::Parcel& parcel = found->second;
    v.packed_parcel = packed.hex();
    v.seal_check_due = parcel.seals_unchecked;
    v.seal_check_from = detail::local_text(settings, parcel.since + std::chrono::hours(12));
    if (v.processed.empty()) v.processed = detail::process_record(h.almanac, parcel);
    if (v.not_food.empty()) v.not_food = detail::not_food_words(parcel);
  }
  for (const auto& [stage, who] : batch.clock_said) {
    if (v.processed.empty()) break;
    const auto person = state.people.find(who);
    v.processed += fmt::format(" When its clock began was said by {}.",
                               person == state.people.end() ? "hand" : person->second.name);
    break;
  }
}

/// What a card says by itself, started or not.
void add_card(BatchView& v, const House& h, const kitchen::BatchCard& card, Instant now) {
  const ledger::State& state = h.ledger.state();
  const detail::Settings settings = detail::settings_of(state);
  v.household = household_view(h, now);
  v.name = card.name;
  v.route = card.route;
  v.kg_in = card.kg_in;
  v.packs_expected = card.packs;
  v.amount = measure::say(measure::kilograms(card.kg_in), detail::units_of(settings));
  v.pack = card.pack;
  v.product_food = card.product_food;
  v.product_form = card.product_form;
  v.store_key = detail::pack_place(state, card.store_in);
  v.store_in = detail::place_name(state, v.store_key);
  v.cautions = card.cautions;
  v.defer_to = card.defer_to;
  if (card.process) v.process = detail::process_view(h.almanac, *card.process);
}

void add_lots(BatchView& v, const House& h, const std::vector<ledger::BatchStarted::Input>& inputs) {
  for (const ledger::BatchStarted::Input& input : inputs) {
    const auto parcel = h.ledger.state().parcels.find(input.parcel);
    if (parcel != h.ledger.state().parcels.end()) v.lots.push_back(detail::parcel_name(h.almanac, parcel->second));
  }
}

}  // namespace

Result<BatchView> draft_view(const House& h, Instant now, const ledger::BatchStarted& draft) {
  const auto card = kitchen::card_from_json(draft.steps_json);
  if (!card) return tl::unexpected(card.error());
  BatchView v;
  add_card(v, h, *card, now);
  v.name = draft.name;
  v.state = "planned";
  for (const kitchen::Step& step : card->steps) v.steps.push_back(detail::step_view(step));
  if (!v.steps.empty()) v.steps.front().state = "next";
  add_lots(v, h, draft.inputs);
  return v;
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
  add_card(v, h, *card, now);
  v.id = id->hex();
  v.name = batch.name;
  v.route = batch.route;
  v.eat_by = measure::to_iso(settings.zone.date_of(now + std::chrono::hours(std::lround(card->keeps_months * 730.5))));
  v.next_code = kitchen::pack_code(detail::next_code_number(state));
  for (const kitchen::AlsoMade& also : card->also) {
    v.also.push_back({.food = also.food,
                      .form = also.form,
                      .name = detail::crop_name(h.almanac, also.food) + ", " + also.form,
                      .amount = measure::say(measure::kilograms(also.kg), detail::units_of(settings)),
                      .kg = also.kg,
                      .place_key = detail::pack_place(state, "fridge")});
  }
  const auto marks = marks_of(batch, *card);
  add_clocks(v, state, batch, *card, marks, now);
  add_steps(v, state, batch, *card, marks);
  v.current = current_of(v, batch);
  add_lots(v, h, batch.inputs);
  add_packs(v, h, batch);
  v.troubles = detail::troubles_of_card(*card);
  for (const ledger::BatchState::Trouble& one : batch.troubles) {
    std::string when = detail::local_text(settings, one.at);
    std::replace(when.begin(), when.end(), 'T', ' ');
    v.went_wrong.push_back(fmt::format("{}: {}. {}.", when, detail::lower_first(detail::fault_words(one.fault)),
                                       detail::outcome_words(one.fault, one.outcome)));
  }
  v.in_doubt = detail::packs_in_doubt(h);
  v.state = batch.abandoned  ? "abandoned"
            : batch.finished ? (v.seal_check_due ? "resting" : "finished")
            : batch.put_down ? "put_down"
                             : "underway";
  return v;
}

std::vector<BatchView> open_batches(const House& h, Instant now) {
  std::vector<BatchView> open;
  for (const auto& [id, batch] : h.ledger.state().batches) {
    if (batch.abandoned) continue;
    auto view = batch_view(h, now, id.hex());
    if (view && view->state != "finished") open.push_back(std::move(*view));
  }
  const auto minutes_left = [](const BatchView& v) {
    double least = std::numeric_limits<double>::infinity();
    for (const TimerView& timer : v.timers) least = std::min(least, timer.seconds_left / 60);
    for (const DeadlineView& deadline : v.deadlines) least = std::min(least, deadline.minutes_left);
    return least;
  };
  std::ranges::stable_sort(open, {}, minutes_left);
  return open;
}

}  // namespace stillroom::app
