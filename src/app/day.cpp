#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/app.h"
#include "app/detail/names.h"
#include "app/detail/settings.h"
#include "app/detail/strips.h"
#include "kitchen/batch.h"
#include "planning/impossible.h"

// The day and the days ahead, drawn from a plan.
namespace stillroom::app {
namespace {

constexpr int kDayMinutes = 1440;

std::string hand_name(const planning::Household& snapshot, const std::string& key) {
  const auto it =
      std::find_if(snapshot.hands.begin(), snapshot.hands.end(), [&](const auto& hand) { return hand.key == key; });
  return it == snapshot.hands.end() ? key : it->name;
}

std::vector<std::string> hand_names(const planning::Household& snapshot, const std::vector<std::string>& keys) {
  std::vector<std::string> out;
  for (const std::string& key : keys) out.push_back(hand_name(snapshot, key));
  return out;
}

std::string attention_word(almanac::Attention a) {
  switch (a) {
    case almanac::Attention::hands_on:
      return "hands_on";
    case almanac::Attention::nearby:
      return "nearby";
    default:
      return "unattended";
  }
}

std::string lot_names(const planning::Household& snapshot, const planning::PlannedBatch& batch) {
  std::vector<std::string> names;
  for (const auto& part : batch.parts) {
    const planning::Lot* lot = detail::lot_of(snapshot, part.lot);
    names.push_back(lot == nullptr ? part.lot : lot->name);
  }
  std::sort(names.begin(), names.end());
  names.erase(std::unique(names.begin(), names.end()), names.end());
  return measure::say_list(names);
}

/// Every task of the plan that touches [from, to), by start.
std::vector<TaskView> tasks_between(const House& h, const planning::Household& snapshot, const planning::Plan& plan,
                                    planning::Minute from, planning::Minute to) {
  std::vector<TaskView> out;
  const auto text = [&](planning::Minute m) { return detail::local_text(snapshot.first_day, m); };
  const auto inside = [&](const planning::Span& s) { return s.from < to && s.to > from; };
  for (const planning::Committed& c : snapshot.committed) {
    if (!inside(c.span)) continue;
    TaskView t{
        .start = text(c.span.from), .end = text(c.span.to), .title = c.name, .hands = hand_names(snapshot, c.hands)};
    t.attention = c.hands.empty() ? "unattended" : "hands_on";
    t.batch = c.batch;
    t.stage = c.stage;
    t.state = "underway";
    out.push_back(std::move(t));
  }
  for (const planning::PlannedBatch& batch : plan.batches) {
    const std::string names = lot_names(snapshot, batch);
    for (const planning::PlacedStage& stage : batch.stages) {
      if (!inside(stage.span)) continue;
      TaskView t{.start = text(stage.span.from),
                 .end = text(stage.span.to),
                 .title = stage.stage == "pick" ? stage.name : stage.name + ": " + names};
      t.why = stage.why;
      t.hands = hand_names(snapshot, stage.hands);
      t.attention = attention_word(stage.attention);
      t.lot = batch.parts.empty() ? "" : batch.parts.front().lot;
      t.route = batch.route;
      t.stage = stage.stage;
      t.state = "planned";
      out.push_back(std::move(t));
    }
  }
  for (const planning::PlannedHold& hold : plan.holds) {
    if (hold.from < from || hold.from >= to) continue;
    const planning::Lot* lot = detail::lot_of(snapshot, hold.lot);
    TaskView t{.start = text(hold.from), .end = text(hold.from)};
    t.title = "Move to the " + detail::place_name(h.ledger.state(), hold.place) + ": " +
              (lot == nullptr ? hold.lot : lot->name);
    t.attention = "hands_on";
    t.lot = hold.lot;
    t.why = "It fades more slowly there, until its turn comes.";
    t.stage = "move";
    t.state = "planned";
    out.push_back(std::move(t));
  }
  for (const auto& other : plan.other) {
    for (const planning::Span& span : other.spans) {
      if (!inside(span)) continue;
      TaskView t{.start = text(span.from),
                 .end = text(span.to),
                 .title = other.key,
                 .hands = hand_names(snapshot, other.hands)};
      for (const planning::OtherJob& job : snapshot.other) t.title = job.key == other.key ? job.name : t.title;
      t.attention = "hands_on";
      t.other = other.key;
      t.state = "planned";
      out.push_back(std::move(t));
    }
  }
  for (const planning::Plan::Trip& trip : plan.trips) {
    if (!inside(trip.span)) continue;
    std::vector<std::string> bought;
    for (const auto& b : trip.bought)
      bought.push_back(measure::say_number(b.amount) + " x " + detail::item_words(b.item));
    TaskView t{
        .start = text(trip.span.from), .end = text(trip.span.to), .title = "Go shopping: " + measure::say_list(bought)};
    t.hands = hand_names(snapshot, {trip.hand});
    t.attention = "hands_on";
    t.stage = "shopping";
    t.state = "planned";
    out.push_back(std::move(t));
  }
  std::stable_sort(out.begin(), out.end(), [](const TaskView& a, const TaskView& b) { return a.start < b.start; });
  return out;
}

std::vector<RunningView> running_of(const House& h) {
  const ledger::State& state = h.ledger.state();
  const detail::Settings settings = detail::settings_of(state);
  std::vector<RunningView> out;
  for (const auto& [id, batch] : state.batches) {
    if (batch.finished || batch.abandoned) continue;
    RunningView r{.batch = id.hex(), .name = batch.name, .stage = batch.current_stage};
    r.since = detail::local_text(settings, batch.started);
    const auto card = kitchen::card_from_json(batch.steps_json);
    if (card && !card->steps.empty()) {
      r.progress = static_cast<double>(batch.stage_finished.size()) / static_cast<double>(card->steps.size());
      for (const kitchen::Step& step : card->steps) {
        const bool current = batch.current_stage.empty() ? !batch.stage_finished.contains(step.stage)
                                                         : step.stage == batch.current_stage;
        if (!current) continue;
        r.stage = step.stage;
        r.title = step.title;
        break;
      }
      if (r.title.empty()) r.title = "Pack and shelve";
    }
    r.state = batch.put_down ? "put down" : batch.current_stage.empty() ? "waiting for the next step" : "underway";
    out.push_back(std::move(r));
  }
  return out;
}

const ledger::Parcel* seals_due(const House& h, Instant now) {
  for (const auto& [id, parcel] : h.ledger.state().parcels) {
    // Jars rest 12 to 24 hours before bands come off (USDA AIB-539 Guide 1).
    if (parcel.seals_unchecked && now - parcel.since >= std::chrono::hours(12)) return &parcel;
  }
  return nullptr;
}

NextView next_from_task(const House& h, const planning::Household& snapshot, const planning::Plan& plan,
                        const TaskView& task) {
  NextView n{.title = task.title, .why = task.why};
  n.lot = task.lot;
  n.route = task.route;
  n.other = task.other;
  n.hands = measure::say_list(task.hands);
  if (!task.other.empty()) {
    n.action = "other_work";
    n.button = "It is done";
    return n;
  }
  if (task.stage == "move") {
    for (const planning::PlannedHold& hold : plan.holds) n.place = hold.lot == task.lot ? hold.place : n.place;
    n.action = "move";
    n.button = "Moved to the " + detail::place_name(h.ledger.state(), n.place);
    return n;
  }
  for (const planning::PlannedBatch& batch : plan.batches) {
    const bool mine = batch.route == task.route && std::any_of(batch.parts.begin(), batch.parts.end(),
                                                               [&](const auto& p) { return p.lot == task.lot; });
    if (mine) {
      n.kg = batch.kg_in;
      break;
    }
  }
  if (task.stage == "shopping") {
    n.action = "none";
    n.button = "";
    return n;
  }
  if (task.stage == "pick") {
    const auto lot = std::ranges::find(snapshot.lots, task.lot, &planning::Lot::id);
    const bool butchered = lot != snapshot.lots.end() && detail::is_butchered(h.almanac, lot->crop);
    n.action = butchered ? "butcher" : "pick";
    n.button = butchered ? "Butchered" : "Picked";
    return n;
  }
  const auto route =
      std::find_if(snapshot.routes.begin(), snapshot.routes.end(), [&](const auto& r) { return r.key == task.route; });
  n.detail = route == snapshot.routes.end() ? "" : "To " + route->name + ".";
  n.action = "start_batch";
  n.button = "Start";
  return n;
}

constexpr planning::Minute kSoon = 15;

/// Of what the plan has people do within the next quarter of an hour (else of what comes first), that of the lot which
/// loses most by waiting.
const TaskView* first_task(const planning::Household& snapshot, const planning::Plan& plan, const DayView& day) {
  const std::string soon = detail::local_text(snapshot.first_day, snapshot.now + kSoon);
  const auto cost = [&](const TaskView& task) {
    const auto it = std::find_if(plan.lots.begin(), plan.lots.end(), [&](const auto& o) { return o.lot == task.lot; });
    return it == plan.lots.end() ? 0.0 : it->cost_of_waiting;
  };
  const TaskView* first = nullptr;
  for (const TaskView& task : day.today) {
    if (task.state != "planned" || task.attention == "unattended") continue;
    if (first == nullptr || (task.start <= soon && cost(task) > cost(*first))) first = &task;
  }
  return first;
}

NextView next_of(const House& h, Instant now, const planning::Household& snapshot, const planning::Plan& plan,
                 const DayView& day) {
  for (const TimerView& timer : day.timers) {
    if (timer.seconds_left > 0) continue;
    NextView n{.title = timer.name + " is over",
               .why = timer.batch_name.empty() ? timer.note : "Timer for " + timer.batch_name + "."};
    n.action = timer.batch.empty() ? "none" : "next_stage";  // a time of one's own is stopped in the list of timers
    if (!timer.batch.empty()) n.button = "Open the batch";
    n.batch = timer.batch;
    return n;
  }
  for (const RunningView& r : day.running) {
    const auto task = std::find_if(day.today.begin(), day.today.end(),
                                   [&](const TaskView& t) { return t.batch == r.batch && t.state == "underway"; });
    if (task != day.today.end() && task->attention == "unattended")
      continue;  // it runs by itself; something else is next
    NextView n{.title = r.title, .why = r.name + " is " + r.state + ": finish what is begun first."};
    n.action = "next_stage";
    n.button = "Go on";
    n.batch = r.batch;
    return n;
  }
  if (const ledger::Parcel* parcel = seals_due(h, now)) {
    NextView n{.title = "Check the seals of " + detail::parcel_name(h.almanac, *parcel),
               .why = "They have rested 12 hours; a lid that did not seal must be dealt with within a day."};
    n.action = "check_seals";
    n.button = "Check seals";
    n.parcel = parcel->id.hex();
    n.batch = parcel->batch.hex();
    return n;
  }
  if (const TaskView* task = first_task(snapshot, plan, day)) {
    NextView n = next_from_task(h, snapshot, plan, *task);
    if (task->start > detail::local_text(snapshot.first_day, snapshot.now + kSoon))
      n.minutes = "from " + task->start.substr(11);
    return n;
  }
  NextView n;
  n.action = snapshot.lots.empty() ? "bring_in" : "none";
  n.title = snapshot.lots.empty() ? "Bring something in" : "Nothing more today";
  n.why = snapshot.lots.empty() ? "Nothing is waiting."
                                : "What is waiting keeps until tomorrow, or the plan lets it go below.";
  n.button = "Bring in";
  return n;
}

std::vector<std::string> notices_of(const House& h, const planning::Household& snapshot) {
  const detail::Settings settings = detail::settings_of(h.ledger.state());
  std::vector<std::string> out;
  if (!settings.altitude)
    out.emplace_back(
        "The altitude is not known yet, so canning is left out of the plan. Set it to see heat processes.");
  for (std::size_t d = 0; d < std::min<std::size_t>(2, snapshot.weather.size()); ++d) {
    if (snapshot.weather[d].low_c > 0) continue;
    out.push_back(fmt::format(
        "Frost {}: about {}.", d == 0 ? "tonight" : "tomorrow night",
        measure::say(measure::Temperature::celsius(snapshot.weather[d].low_c), detail::units_of(settings))));
  }
  for (const planning::Lot& lot : snapshot.lots) {
    if (!lot.hazard_by || *lot.hazard_by > snapshot.now) continue;
    out.push_back(lot.name + " has been out past its time: discard it. Looking at it or tasting it cannot tell.");
  }
  return out;
}

ObjectiveView objective_of(const planning::ObjectiveTerms& t) {
  return {t.put_by, t.still_sound, t.materials, t.energy, t.effort, t.lateness, t.change, t.total()};
}

}  // namespace

HouseholdView household_view(const House& h, Instant now) {
  const ledger::State& state = h.ledger.state();
  const detail::Settings s = detail::settings_of(state);
  HouseholdView v{.name = s.name, .place = s.place};
  if (s.altitude) v.altitude_ft = s.altitude->in_feet();
  v.units = s.metric ? "metric" : "us";
  v.zone = s.zone.name();
  v.now = detail::local_text(s, now);
  v.now_utc = measure::to_iso(now);
  v.sequence = state.sequence;
  v.empty = state.people.empty() && state.parcels.empty() && state.standing.empty();
  return v;
}

DayView day_view(const House& h, Instant now, const planning::Household& snapshot, const planning::Plan& plan) {
  DayView v;
  v.household = household_view(h, now);
  v.timers = timers(h, now);
  v.running = running_of(h);
  const planning::Minute midnight = (snapshot.now / kDayMinutes + 1) * kDayMinutes;
  v.today = tasks_between(h, snapshot, plan, snapshot.now, midnight);
  v.strips = detail::strips_of(h, snapshot, plan);
  v.notices = notices_of(h, snapshot);
  v.discrepancies = discrepancies(h);
  for (planning::Clash& c : planning::clashes(snapshot))
    v.clashes.push_back({planning::word_of(c.kind), std::move(c.what), std::move(c.way_out), std::move(c.about)});
  v.objective = objective_of(plan.terms);
  v.next = next_of(h, now, snapshot, plan, v);
  return v;
}

AheadView ahead_view(const House& h, Instant now, const planning::Household& snapshot, const planning::Plan& plan) {
  AheadView v;
  v.household = household_view(h, now);
  const detail::Settings settings = detail::settings_of(h.ledger.state());
  for (int d = 0; d < snapshot.days; ++d) {
    const measure::Date date = snapshot.first_day + std::chrono::days(d);
    const planning::Minute from = std::max(snapshot.now, d * kDayMinutes), to = (d + 1) * kDayMinutes;
    AheadDay day{.date = measure::to_iso(date), .weekday = std::string(measure::say_weekday(date))};
    for (TaskView& task : tasks_between(h, snapshot, plan, from, to)) {
      if (task.start.substr(0, 10) == day.date || (d == 0 && task.state == "underway"))
        day.tasks.push_back(std::move(task));
    }
    for (const planning::PlannedBatch& batch : plan.batches) {
      for (const planning::PlacedStage& stage : batch.stages) {
        const int inside = std::min(stage.span.to, to) - std::max(stage.span.from, from);
        if (inside > 0) day.hours_planned += inside / 60.0 * static_cast<double>(stage.hands.size());
      }
    }
    for (const planning::Hand& hand : snapshot.hands) {
      for (const planning::Span& span : hand.free) {
        const int inside = std::min(span.to, to) - std::max(span.from, from);
        if (inside > 0) day.hours_free += inside / 60.0;
      }
    }
    if (static_cast<std::size_t>(d) < snapshot.weather.size()) {
      const planning::WeatherDay& w = snapshot.weather[static_cast<std::size_t>(d)];
      const measure::Units units = detail::units_of(settings);
      day.weather = measure::say(measure::Temperature::celsius(w.low_c), units) + " to " +
                    measure::say(measure::Temperature::celsius(w.high_c), units) +
                    (w.rain_mm >= 1 ? ", rain" : ", dry") + (w.low_c <= 0 ? ", frost" : "");
    }
    v.days.push_back(std::move(day));
  }
  v.strips = detail::strips_of(h, snapshot, plan);
  v.objective = objective_of(plan.terms);
  return v;
}

}  // namespace stillroom::app
