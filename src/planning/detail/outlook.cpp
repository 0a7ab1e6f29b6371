#include "planning/detail/outlook.h"

#include <fmt/format.h>

#include "planning/detail/words.h"

namespace stillroom::planning::detail {
namespace {

constexpr double kRestShare = 0.02;  // of a lot: a smaller rest is not worth a word

/// USD a kg of a placed part brings when its batch starts at `start`, the lot moved at `moved`; 0 when refused.
double worth_then(const PlanSearch& search, const PlacedPart& part, const Option& option, Time start, Time moved) {
  Fade fade = search.schedule().fade(part.lot);
  if (fade.moved != kNever && moved != fade.moved) {
    fade.moved = moved;
    fade.settle();
  }
  const Project& project = search.schedule().project();
  const LotSpec& lot = project.lots[static_cast<std::size_t>(part.lot)];
  const Time picked_at = lot.standing ? start - part.picked : start;
  if (lot.hazard_by != kNever && start > lot.hazard_by) return 0;
  const RouteSpec& route = project.routes[static_cast<std::size_t>(option.route)];
  const double usable = fade.usable_at(picked_at);
  const double quality = route.source->quality[static_cast<std::size_t>(fade.condition_at(picked_at))];
  if (usable < route.floor || quality <= 0) return 0;
  if (route.worth < 0) return usable * quality * route.source->worth_per_kg_in;
  const WorthSpec& worth = project.worth[static_cast<std::size_t>(route.worth)];
  // At the margin just below what is put by: a kg less is what delay means.
  const double there = search.objective().put_by()[static_cast<std::size_t>(route.worth)];
  return usable * quality * route.source->yield_kg_per_kg * worth.per_kg * worth.slope(std::max(0.0, there - 1e-6));
}

double cost_of_a_day(const PlanSearch& search, int lot) {
  const Schedule& schedule = search.schedule();
  const LotSpec& spec = schedule.project().lots[static_cast<std::size_t>(lot)];
  const Time moved = schedule.fade(lot).moved;
  const Time moved_later = moved == kNever ? kNever : moved + kDayMinutes;
  double lost = 0;
  for (const int id : schedule.ids()) {
    const Placed& batch = schedule.placed(id);
    if (batch.job.kind != JobKind::batch) continue;
    for (int i = 0; i < batch.size; ++i) {
      const PlacedPart& part = batch.parts[static_cast<std::size_t>(i)];
      const Option* option = schedule.project().option(lot, batch.job.what);
      if (part.lot != lot || part.source != Source::lot || option == nullptr) continue;
      const double now = worth_then(search, part, *option, batch.start, moved);
      const bool too_late = spec.standing && part.taken + kDayMinutes > spec.pick_by;
      // A standing crop is picked a day later too: only the end of its window costs.
      const double later = too_late        ? 0
                           : spec.standing ? now
                                           : worth_then(search, part, *option, batch.start + kDayMinutes, moved_later);
      lost += part.kg * std::max(0.0, now - later);
    }
  }
  return lost;
}

void read_days_left(const Project& project, const LotSpec& spec, LotOutlook& o) {
  const Household& h = project.h;
  const Lot& lot = *spec.source;
  const double until = std::max(0, lot.ready - h.now) / 1440.0;
  const double standing = lot.pick_by > 0 ? std::max(0, lot.pick_by - h.now) / 1440.0 : 0;
  if (lot.model) {
    const auto temp = measure::Temperature::celsius(project.places[static_cast<std::size_t>(spec.place)].temp_c);
    const keeping::DaysLeft left = keeping::days_left(*lot.model, lot.belief, temp);
    o.days_left_low = std::max(until, standing) + left.low;
    o.days_left = std::max(until, standing) + left.likely;
    o.days_left_high = std::max(until, standing) + left.high;
    if (lot.pick_by == 0) {
      const keeping::Belief tomorrow = keeping::advance(*lot.model, lot.belief, measure::days(1), temp);
      o.loss_kg_per_day = lot.kg * std::max(0.0, keeping::usable_share(*lot.model, lot.belief.age) -
                                                     keeping::usable_share(*lot.model, tomorrow.age));
    }
  } else {
    o.days_left_low = o.days_left = o.days_left_high = h.days;
  }
  if (!lot.hazard_by) return;
  const double clock = std::max(0.0, (*lot.hazard_by - h.now) / 1440.0);
  o.days_left_low = std::min(o.days_left_low, clock);
  o.days_left = std::min(o.days_left, clock);
  o.days_left_high = std::min(o.days_left_high, clock);
  if (clock < 1) o.loss_kg_per_day = lot.kg;
}

/// The move that comes first, and the sums.
void read_plan(const PlanSearch& search, int lot, LotOutlook& o, double& given_away) {
  const Schedule& schedule = search.schedule();
  const Project& project = schedule.project();
  const auto note = [&](Time at, std::string move) {
    if (o.next_at && *o.next_at <= at) return;
    o.next_at = at;
    o.next_move = std::move(move);
  };
  for (const int id : schedule.ids()) {
    const Placed& p = schedule.placed(id);
    if (p.job.kind == JobKind::hold && p.job.parts[0].lot == lot)
      note(p.start, "Move to " + project.h.places[static_cast<std::size_t>(p.job.what)].name);
    if (p.job.kind != JobKind::batch) continue;
    const RouteSpec& route = project.routes[static_cast<std::size_t>(p.job.what)];
    for (int i = 0; i < p.size; ++i) {
      const PlacedPart& part = p.parts[static_cast<std::size_t>(i)];
      if (part.lot != lot) continue;
      if (part.source == Source::lot) (route.gives_away ? given_away : o.kg_put_by) += part.kg;
      const std::string what = capital(route.source->name);
      const std::string picked_first = project.h.lots[static_cast<std::size_t>(lot)].pick_word + ", then ";
      note(part.picked != 0 ? p.slot(0).start : p.start, part.picked != 0 ? picked_first + route.source->name : what);
    }
  }
}

/// Why food is given away rather than put by: nothing it could become is still needed in full, or its hours are.
std::string given_away_reason(const PlanSearch& search, int lot) {
  const Project& project = search.schedule().project();
  for (const Option& option : project.lots[static_cast<std::size_t>(lot)].options) {
    const RouteSpec& route = project.routes[static_cast<std::size_t>(option.route)];
    if (route.barred != Barred::no || route.gives_away || route.source->is_hold) continue;
    const auto row = static_cast<std::size_t>(route.worth);
    if (route.worth < 0 || project.worth[row].slope(search.objective().put_by()[row]) >= 1)
      return "given away: the hands and the kitchen do more for other lots";
  }
  return "given away: the year's need of it is put by";
}

LotOutlook outlook_of(PlanSearch& search, int lot) {
  const Project& project = search.schedule().project();
  const LotSpec& spec = project.lots[static_cast<std::size_t>(lot)];
  LotOutlook o{.lot = spec.source->id, .kg = spec.source->kg};
  double given_away = 0;
  read_days_left(project, spec, o);
  read_plan(search, lot, o, given_away);
  o.cost_of_waiting = cost_of_a_day(search, lot);
  const Objective::Left left = Objective::left_over(search.schedule(), lot);
  o.kg_eaten = left.eaten;
  const Fade& fade = search.schedule().fade(lot);
  const Time end = project.horizon;
  const bool past =
      spec.standing ? spec.source->pick_by < end : fade.usable_at(end) < kUsableFloor || spec.hazard_by < end;
  if (left.kg > std::max(kLeastKg, kRestShare * o.kg) && past && spec.source->ready < end) {
    o.kg_let_go = left.kg + given_away;
    o.let_go_reason = let_go_reason(search, lot);
    if (o.let_go_reason.empty()) o.let_go_reason = "the hands and the kitchen do more for other lots";
  } else if (given_away > 0) {
    o.kg_let_go = given_away;
    o.let_go_reason = given_away_reason(search, lot);
  }
  if (o.next_move.empty()) o.next_move = o.kg_let_go > 0 ? "Give away" : "Let it wait";
  return o;
}

/// Why a batch is where it is, most telling first.
std::string batch_reason(const Project& project, const PlannedBatch& batch, const std::vector<LotOutlook>& lots) {
  const Household& h = project.h;
  double waiting = 0;
  for (const auto& part : batch.parts)
    for (std::size_t l = 0; l < h.lots.size(); ++l) {
      const Lot& lot = h.lots[l];
      if (lot.id != part.lot) continue;
      if (lot.hazard_by && *lot.hazard_by < h.days * kDayMinutes)
        return fmt::format("Its clock runs out {} at {}.", day_name(h, *lot.hazard_by), clock_time(*lot.hazard_by));
      if (lot.pick_by > 0 && lot.pick_by < h.days * kDayMinutes)
        return fmt::format("It must be picked by {} {}.", day_name(h, lot.pick_by), clock_time(lot.pick_by));
    }
  for (const auto& part : batch.parts)
    for (const LotOutlook& o : lots)
      if (o.lot == part.lot) waiting = std::max(waiting, o.cost_of_waiting);
  if (waiting >= 0.05) return fmt::format("A day's wait costs about {}.", dollars(waiting));
  return fmt::format("It keeps; there is time for it now, and it brings about {}.", dollars(batch.worth));
}

void reason_stages(const Project& project, Plan& plan) {
  for (PlannedBatch& batch : plan.batches) {
    const std::string reason = batch_reason(project, batch, plan.lots);
    const PlacedStage* before = nullptr;
    const almanac::Route* route = nullptr;
    for (const almanac::Route& r : project.h.routes)
      if (r.key == batch.route) route = &r;
    for (PlacedStage& stage : batch.stages) {
      stage.why = reason;
      const auto at = route == nullptr ? std::vector<almanac::Stage>::const_iterator{}
                                       : std::find_if(route->stages.begin(), route->stages.end(),
                                                      [&](const almanac::Stage& s) { return s.key == stage.stage; });
      if (route != nullptr && at != route->stages.end()) {
        if (before != nullptr && at->lag_max_min)
          stage.why = fmt::format("Within {} of \"{}\".", length_of(*at->lag_max_min), before->name);
        else if (before != nullptr && at->lag_min_min > 0)
          stage.why = fmt::format("Not before {} after \"{}\".", length_of(at->lag_min_min), before->name);
        else if (stage.attention == almanac::Attention::unattended)
          stage.why = "It runs by itself.";
      }
      before = &stage;
    }
  }
}

}  // namespace

std::string let_go_reason(PlanSearch& search, int lot) {
  const Project& project = search.schedule().project();
  const LotSpec& spec = project.lots[static_cast<std::size_t>(lot)];
  const double per_hour = project.h.effort_per_hour;
  if (spec.hazard_by <= project.h.now) return "its time out of the cold is over: discard it";
  const Option* best = nullptr;
  double most = -1e9, most_unmet = -1e9;
  const std::vector<double> nothing(project.worth.size(), 0);
  bool any = false;
  for (const Option& option : spec.options) {
    const RouteSpec& route = project.routes[static_cast<std::size_t>(option.route)];
    if (option.source != Source::lot || route.source->is_hold || route.gives_away || !route.seconds.empty()) continue;
    const Fade& fade = search.schedule().fade(lot);
    const Time when = search.appraiser().best_time(lot, option, fade, spec.from, search.objective().put_by());
    const Appraisal a = search.appraiser().at(lot, option, fade, when, search.objective().put_by());
    const Appraisal unmet = search.appraiser().at(lot, option, fade, when, nothing);
    any = any || unmet.worth > 0;
    most_unmet = std::max(most_unmet, unmet.net(per_hour));
    if (a.worth <= 0 || a.net(per_hour) <= most) continue;
    most = a.net(per_hour);
    best = &option;
  }
  if (!any) {
    for (const std::string& fact : spec.source->facts)
      if (fact == "mould" || fact == "decay") return fact + " bars it from being put by";
    for (const RouteSpec& route : project.routes) {
      if (route.source->crop != spec.source->crop || route.source->accepts_form != spec.source->form) continue;
      if (route.barred == Barred::equipment) return "there is no " + thing(route.lacking) + " for it";
      if (route.barred == Barred::people) return "nobody is old enough or has the skill for it";
    }
    return "no way of keeping it takes it as it is";
  }
  if (best == nullptr || most <= 0)
    return most_unmet > 0 ? "the larder has enough of it" : "worth less than the jars and the hours";
  const RouteSpec& route = project.routes[static_cast<std::size_t>(best->route)];
  Job job{.what = best->route};
  const Objective::Left left = Objective::left_over(search.schedule(), lot);
  job.add(lot, std::max(route.source->batch_min_kg, batch_size(*route.source, left.kg)));
  if (left.kg < route.source->batch_min_kg) return "too little for a batch";
  if (search.schedule().probe(job, {}) != kNever) return "worth less than the hours it takes from other lots";
  if (search.schedule().probe(job, {.people = true}) != kNever) return "no hands before it is past use";
  if (search.schedule().probe(job, {.equipment = true}) != kNever) return "the kitchen is taken until it is past use";
  if (search.schedule().probe(job, {.stock = true}) != kNever) return "not enough jars, lids or bags for it";
  if (search.schedule().probe(job, {.room = true}) != kNever) return "no room to keep it";
  return "neither hands nor the kitchen are free before it is past use";
}

std::string binding_of(PlanSearch& search, int id) {
  Schedule& schedule = search.schedule();
  const Project& project = schedule.project();
  Job job = schedule.placed(id).job;
  const Time start = schedule.placed(id).start;
  std::vector<int> dependents;
  schedule.dependents(id, dependents);
  if (!dependents.empty() || job.kind != JobKind::batch) return {};
  job.not_before = 0;
  const Schedule::Mark before = schedule.mark();
  schedule.remove(id);
  const RouteSpec& route = project.routes[static_cast<std::size_t>(job.what)];
  std::string text;
  Time earliest = start;
  const auto blames = [&](const Relaxed& relaxed, const std::string& what) {
    const Time then = schedule.probe(job, relaxed);
    if (then == kNever || then + 2 * kGrain >= earliest) return;
    earliest = then;
    text = fmt::format("{} {}", what, part_of_day(project.h, then));
  };
  std::string machine;
  for (const StageSpec& stage : route.stages)
    for (const Use& use : stage.equipment) {
      const std::string& key = project.h.equipment[static_cast<std::size_t>(use.index)].key;
      if (machine.empty() || key.ends_with("canner")) machine = "the " + thing(key);
    }
  std::string item;
  for (const StageSpec& stage : route.stages)
    for (const Use& use : stage.stock)
      if (item.empty()) item = thing(project.h.stock[static_cast<std::size_t>(use.index)].item);
  blames({.people = true}, "hands");
  if (!machine.empty()) blames({.equipment = true}, machine);
  if (!item.empty()) blames({.stock = true}, item);
  blames({.room = true}, "room");
  schedule.rollback(before);
  return text;
}

void tell_outlooks(PlanSearch& search, Plan& plan) {
  plan.lots.clear();
  for (int lot = 0; lot < static_cast<int>(search.schedule().project().lots.size()); ++lot)
    plan.lots.push_back(outlook_of(search, lot));
  std::stable_sort(plan.lots.begin(), plan.lots.end(),
                   [](const LotOutlook& a, const LotOutlook& b) { return a.cost_of_waiting > b.cost_of_waiting; });
  reason_stages(search.schedule().project(), plan);
}

}  // namespace stillroom::planning::detail
