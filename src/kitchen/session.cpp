#include "kitchen/session.h"

#include <algorithm>
#include <chrono>
#include <cmath>

namespace stillroom::kitchen {
namespace {

using measure::Instant;

Instant plus_minutes(Instant t, double minutes) {
  return t + std::chrono::seconds(static_cast<std::int64_t>(std::llround(minutes * 60)));
}

const StageMark* mark_of(const std::vector<StageMark>& marks, const std::string& stage) {
  const auto it = std::ranges::find(marks, stage, &StageMark::stage);
  return it == marks.end() ? nullptr : &*it;
}

bool is_started(const StageMark* m) { return m != nullptr && (m->started || m->finished); }
bool is_finished(const StageMark* m) { return m != nullptr && m->finished.has_value(); }

/// What to do when the wait has been too long.
std::string when_overdue(const std::string& hazard, const Step& next) {
  if (!hazard.empty())
    return "It has waited too long for food of this kind: throw it out, unless it was kept at 40 degF or below and is "
           "still "
           "within its fridge days.";
  if (next.stage == "check_seals") return "Check the seals now; a jar unsealed for more than 24 hours is thrown out.";
  return "It has waited longer than is good for it: look it over, go on at once if it is sound.";
}

void add_deadline(Session& s, const BatchCard& card, std::size_t i, Instant ended, Instant now,
                  measure::Duration warn) {
  const Step& step = card.steps[i];
  if (!step.lag_max_min) return;
  const Instant by = plus_minutes(ended, *step.lag_max_min);
  if (by > plus_minutes(now, measure::in_minutes(warn))) return;
  const std::string hazard = i > 0 ? card.steps[i - 1].hazard : std::string();
  s.deadlines.push_back({.step = i,
                         .by = by,
                         .what = "\"" + step.title + "\" must begin",
                         .hazard = hazard,
                         .overdue = now > by,
                         .when_overdue = when_overdue(hazard, step)});
}

/// When the step before `i` ended, on its own way through the batch: a load follows the last common step and then
/// itself; a common step waits for every load, but not for jars that rest. Nothing while one of those is not finished.
std::optional<Instant> ready_since(const BatchCard& card, const std::vector<StageMark>& marks, std::size_t i) {
  const int load = card.steps[i].load;
  std::optional<Instant> since;
  for (std::size_t before = i; before-- > 0;) {
    const Step& step = card.steps[before];
    const bool of_another = load > 0 && step.load > 0 && step.load != load;
    const bool rests = load == 0 && step.load > 0 && step.attention == "unattended" && before + 1 != i;
    if (of_another || rests) continue;
    const StageMark* mark = mark_of(marks, step.stage);
    if (!is_finished(mark)) return std::nullopt;
    since = since ? std::max(*since, *mark->finished) : *mark->finished;
    if (load > 0 || step.load == 0) break;
  }
  return since;
}

/// A later step of the same way was started: whoever did so did not need this one.
bool is_passed(const BatchCard& card, const std::vector<StageMark>& marks, std::size_t i) {
  for (std::size_t later = i + 1; later < card.steps.size(); ++later) {
    const int a = card.steps[i].load, b = card.steps[later].load;
    if ((a == b || a == 0 || b == 0) && is_started(mark_of(marks, card.steps[later].stage))) return true;
  }
  return false;
}

/// The load before has come as far as this step of its own.
bool load_before_came_here(const std::vector<StageMark>& marks, const Step& step) {
  if (step.load < 2) return true;
  const std::string base = stage_of_step(step.stage);
  const StageMark* mark = mark_of(marks, base + ":" + std::to_string(step.load - 1));
  return is_started(mark);
}

void add_timers(Session& s, std::vector<RunningTimer> timers, Instant now) {
  std::erase_if(timers, [&](const RunningTimer& t) { return t.due > now; });
  std::ranges::stable_sort(timers, {}, &RunningTimer::due);
  for (auto& t : timers) s.due.push_back(std::move(t.name));
}

void add_warnings(Session& s, const BatchCard& card) {
  for (const Deadline& d : s.deadlines)
    if (d.overdue) s.warnings.push_back(d.what + " is overdue. " + d.when_overdue);
  for (const std::string& name : s.due) s.warnings.push_back("The timer \"" + name + "\" has run out.");
  for (const Deadline& d : s.deadlines)
    if (!d.overdue) s.warnings.push_back(d.what + " soon.");
  if (s.current_put_down && !s.may_put_down)
    s.warnings.push_back("\"" + card.steps[*s.current].title + "\" cannot be left lying: pick it up again.");
}

}  // namespace

Session session_of(const BatchCard& card, const std::vector<StageMark>& marks, const std::vector<RunningTimer>& timers,
                   Instant now, measure::Duration warn) {
  Session s;
  s.finished = true;
  for (std::size_t i = 0; i < card.steps.size(); ++i) {
    const Step& step = card.steps[i];
    const StageMark* mark = mark_of(marks, step.stage);
    if (is_finished(mark)) continue;
    s.finished = false;
    if (is_started(mark)) {
      if (!s.current) {
        s.current = i;
        s.current_put_down = mark->put_down;
        s.may_put_down = step.can_pause;
        s.current_expected_by = plus_minutes(*mark->started, step.expected_min);
      }
      continue;
    }
    if (is_passed(card, marks, i)) continue;
    const auto since = ready_since(card, marks, i);
    if (!s.next) {
      s.next = i;
      if (since && step.lag_min_min) s.next_not_before = plus_minutes(*since, *step.lag_min_min);
    }
    if (since) add_deadline(s, card, i, *since, now, warn);
  }
  std::ranges::stable_sort(s.deadlines, {}, &Deadline::by);
  add_timers(s, timers, now);
  add_warnings(s, card);
  return s;
}

std::vector<StepState> step_states(const BatchCard& card, const std::vector<StageMark>& marks) {
  std::vector<StepState> states;
  bool any = false;
  for (std::size_t i = 0; i < card.steps.size(); ++i) {
    const Step& step = card.steps[i];
    const StageMark* mark = mark_of(marks, step.stage);
    StepState state = StepState::later;
    if (is_finished(mark)) {
      state = StepState::done;
    } else if (is_started(mark)) {
      state = mark->put_down ? StepState::put_down : StepState::underway;
    } else if (!is_passed(card, marks, i) && load_before_came_here(marks, step) &&
               (i == 0 || ready_since(card, marks, i))) {
      state = StepState::next;
    }
    any = any || state == StepState::underway || state == StepState::put_down || state == StepState::next;
    states.push_back(state);
  }
  if (any) return states;
  // Everything before was passed over: the first step that nobody passed is next all the same.
  for (std::size_t i = 0; i < states.size(); ++i) {
    if (states[i] != StepState::later || is_passed(card, marks, i)) continue;
    states[i] = StepState::next;
    break;
  }
  return states;
}

}  // namespace stillroom::kitchen
