#include <fmt/format.h>

#include <algorithm>

#include "app/app.h"
#include "app/detail/names.h"
#include "app/detail/settings.h"
#include "kitchen/helping.h"

// What one person can help with now, chosen by what suits them.
namespace stillroom::app {
namespace {

constexpr std::size_t kHelpAtMost = 6;

struct Found {
  HelpTask task;
  kitchen::HelpJob job;
};

/// Steps of batches underway that somebody stands at, and those that may begin now.
void add_batch_steps(const House& h, Instant now, std::vector<Found>& out) {
  for (const auto& [id, batch] : h.ledger.state().batches) {
    if (batch.finished || batch.abandoned) continue;
    const auto card = kitchen::card_from_json(batch.steps_json);
    const auto view = batch_view(h, now, id.hex());
    if (!card || !view || view->steps.size() != card->steps.size()) continue;
    const almanac::Route* route = h.almanac.routes.find(card->route);
    for (std::size_t i = 0; i < card->steps.size(); ++i) {
      const StepView& step = view->steps[i];
      const bool begun = step.state == "underway" || step.state == "put_down";
      if (step.attention == "unattended" || !(begun || (step.state == "next" && view->not_before.empty()))) continue;
      out.push_back({{.key = id.hex() + "/" + step.stage,
                      .title = step.title,
                      .text = step.text,
                      .caution = step.caution,
                      .why = "For " + view->name + ".",
                      .action = "stage",
                      .batch = id.hex(),
                      .stage = step.stage,
                      .state = step.state},
                     kitchen::job_of(card->steps[i], route)});
    }
  }
}

/// Moves and other work that the plan has for today.
void add_planned(const House& h, const planning::Household& snapshot, const DayView& day, std::string_view name,
                 std::vector<Found>& out) {
  for (const TaskView& task : day.today) {
    const bool mine = std::ranges::find(task.hands, name) != task.hands.end();
    if (task.stage == "move") {
      const auto lot = std::ranges::find(snapshot.lots, task.lot, &planning::Lot::id);
      const auto strip = std::ranges::find(day.strips, task.lot, &StripView::lot);
      if (lot == snapshot.lots.end() || strip == day.strips.end()) continue;
      out.push_back({{.key = "move/" + task.lot,
                      .title = task.title,
                      .text = strip->amount + ", from: " + strip->place + ".",
                      .why = task.why,
                      .action = "move",
                      .lot = task.lot},
                     {.carries_kg = lot->kg}});
    } else if (!task.other.empty()) {
      const auto work = h.ledger.state().other_work.find(task.other);
      if (work == h.ledger.state().other_work.end()) continue;
      out.push_back({{.key = "other/" + task.other,
                      .title = task.title,
                      .why = mine ? "The plan has you down for it." : task.why,
                      .action = "other_work",
                      .other = task.other},
                     {.least_age = work->second.set.least_age}});
    }
  }
}

}  // namespace

Result<HelpView> help_view(const House& h, Instant now, std::string_view person, const planning::Household& snapshot,
                           const planning::Plan& plan) {
  const auto found = h.ledger.state().people.find(std::string(person));
  if (found == h.ledger.state().people.end()) {
    return measure::refuse("unknown_person", "Nobody here goes by that key.", {"Choose who helps from the list."});
  }
  const ledger::Person& who = found->second;
  HelpView v{.household = household_view(h, now), .person = found->first, .name = who.name, .tasks = {}, .none = {}};
  const kitchen::Helper helper{.age = who.age, .skills = who.skills, .needs_minding = who.needs_minding};
  std::vector<Found> all;
  add_batch_steps(h, now, all);
  const DayView day = day_view(h, now, snapshot, plan);
  add_planned(h, snapshot, day, who.name, all);
  for (Found& one : all) {
    if (!kitchen::suits(helper, one.job) || v.tasks.size() >= kHelpAtMost) continue;
    for (const planning::PlannedHold& hold : plan.holds) {
      if (one.task.action == "move" && hold.lot == one.task.lot) one.task.place = hold.place;
    }
    v.tasks.push_back(std::move(one.task));
  }
  if (!v.tasks.empty()) return v;
  if (who.needs_minding) {
    v.none = fmt::format("{} helps beside somebody, with whatever that one gives out.", who.name);
  } else if (all.empty()) {
    v.none = "Nothing is to be done just now.";
  } else {
    v.none = fmt::format("What is to be done just now is not for {} alone. Ask what you can do beside it.", who.name);
  }
  return v;
}

}  // namespace stillroom::app
