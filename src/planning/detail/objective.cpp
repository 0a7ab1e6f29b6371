#include "planning/detail/objective.h"

#include <limits>

namespace stillroom::planning::detail {

Objective::Objective(const Project& project) : project_(project) {
  const auto add_ways = [&](const LotSpec& lot, Source source, int pool) {
    later_from_.push_back(later_.size());
    for (const Option& option : lot.options) {
      const RouteSpec& route = project.routes[static_cast<std::size_t>(option.route)];
      const almanac::Route& r = *route.source;
      if (option.source != source || option.pool != pool) continue;
      if (r.is_hold || route.gives_away || !r.many_lot_with.empty()) continue;
      const bool picked = lot.standing && source == Source::lot;
      const double hours = route.hours_per_kg + (picked ? lot.source->pick_min_per_kg / 60 : 0);
      later_.push_back({.worth = route.worth,
                        .floor = route.floor,
                        .yield = r.yield_kg_per_kg,
                        .worth_per_kg = r.worth_per_kg_in,
                        .cost = r.materials_cost_per_kg + r.energy_cost_per_kg + project.h.effort_per_hour * hours,
                        .hours = hours,
                        .quality = r.quality});
    }
  };
  for (const LotSpec& lot : project.lots) add_ways(lot, Source::lot, -1);
  for (std::size_t pool = 0; pool < project.pools.size(); ++pool) {
    const PoolSpec& spec = project.pools[pool];
    add_ways(project.lots[static_cast<std::size_t>(spec.lot)], spec.source, static_cast<int>(pool));
  }
  later_from_.push_back(later_.size());
  choices_.resize(later_from_.size() - 1);
  put_by_.assign(project.worth.size(), 0);
  holders_of_.resize(project.worth.size());
  for (const WorthSpec& row : project.worth) price_.push_back(row.per_kg * row.slope(0));
  for (std::size_t holder = 0; holder < choices_.size(); ++holder)
    for (std::size_t i = later_from_[holder]; i < later_from_[holder + 1]; ++i)
      if (later_[i].worth >= 0) holders_of_[static_cast<std::size_t>(later_[i].worth)].push_back(holder);
  for (int lot = 0; lot < static_cast<int>(project.lots.size()); ++lot) {
    const LotSpec& spec = project.lots[static_cast<std::size_t>(lot)];
    const bool gone = spec.standing && spec.source->pick_by <= project.horizon;
    if (!gone && std::max(project.h.now, spec.source->ready) < project.horizon && spec.hazard_by > project.horizon)
      waiting_.push_back(lot);
  }
}

const ObjectiveTerms& Objective::weigh(const Schedule& schedule) {
  terms_ = {};
  still_kg_.assign(project_.lots.size(), 0);
  add_jobs(schedule);
  add_put_by();
  add_effort(schedule);
  add_lateness();
  add_change(schedule);
  add_still_sound(schedule);
  return terms_;
}

void Objective::add_jobs(const Schedule& schedule) {
  std::swap(rows_, rows_before_);
  for (const std::size_t row : rows_before_) put_by_[row] = 0;
  rows_.clear();
  finished_.assign(project_.other.size(), -1);
  tally_ = {};
  for (const int id : schedule.ids()) {
    const Placed& p = schedule.placed(id);
    ++(p.job.kind == JobKind::hold ? tally_.moves : tally_.jobs);
    tally_.minutes += p.start - project_.now;
    if (p.job.kind == JobKind::batch) add_batch(p);
    if (p.job.kind == JobKind::other) finished_[static_cast<std::size_t>(p.job.what)] = p.last().end;
  }
}

void Objective::add_batch(const Placed& batch) {
  const RouteSpec& route = project_.routes[static_cast<std::size_t>(batch.job.what)];
  terms_.materials += batch.kg * route.source->materials_cost_per_kg;
  terms_.energy += batch.kg * route.source->energy_cost_per_kg;
  for (std::size_t s = static_cast<std::size_t>(batch.stages); s < route.stages.size(); ++s)
    if (route.stages[s].attended())
      terms_.effort += project_.h.effort_per_hour * route.stages[s].hands *
                       (static_cast<double>(route.stages[s].share) / kWhole) *
                       std::max(0.0, route.stages[s].duration.at(batch.kg, batch.loads)) / 60;
  if (route.source->is_hold || batch.amount <= 0) return;
  if (route.worth >= 0) {
    const auto row = static_cast<std::size_t>(route.worth);
    if (put_by_[row] == 0) rows_.push_back(row);
    put_by_[row] += batch.amount;
  } else if (route.source->yield_kg_per_kg > 0) {
    terms_.put_by += route.source->worth_per_kg_in * batch.amount / route.source->yield_kg_per_kg;
  }
}

void Objective::add_put_by() {
  for (const std::size_t row : rows_) terms_.put_by += project_.worth[row].worth(put_by_[row]);
  for (const auto* rows : {&rows_before_, &rows_})
    for (const std::size_t row : *rows) {
      const double price = project_.worth[row].per_kg * project_.worth[row].slope(put_by_[row]);
      if (price == price_[row]) continue;
      price_[row] = price;
      for (const std::size_t holder : holders_of_[row]) choices_[holder].known = false;
    }
}

void Objective::add_effort(const Schedule& schedule) {
  constexpr double kPerHour = 60.0 * kWhole;
  double hours = 0;
  for (int p = 0; p < static_cast<int>(project_.h.hands.size()); ++p)
    for (int d = 0; d < project_.days; ++d) {
      const Amount worked = schedule.board().worked(p, d);
      if (worked == 0) continue;
      const double beyond = std::max(0.0, worked / kPerHour - kLongDayHours);
      hours += schedule.board().batch_worked(p, d) / kPerHour + beyond * beyond / kLongDayScale;
    }
  terms_.effort += project_.h.effort_per_hour * hours;
}

void Objective::add_lateness() {
  for (std::size_t o = 0; o < finished_.size(); ++o) {
    const OtherSpec& other = project_.other[o];
    const double end = finished_[o] >= 0 ? finished_[o] : project_.horizon;
    const double late = std::max(0.0, end - other.due) / kDayMinutes + (finished_[o] >= 0 ? 0 : kUndoneDays);
    terms_.lateness += other.source->importance * late;
  }
}

void Objective::add_change(const Schedule& schedule) {
  if (project_.near_term.empty()) return;
  changed_.assign(project_.near_term.size(), 1);
  for (const int id : schedule.ids()) {
    const Placed& batch = schedule.placed(id);
    if (batch.job.kind != JobKind::batch) continue;
    for (const int n : project_.routes[static_cast<std::size_t>(batch.job.what)].near_term) {
      const NearTerm& near = project_.near_term[static_cast<std::size_t>(n)];
      if (!batch.takes_of(near.lot)) continue;
      const int first = near.stage < 0 ? 0 : batch.picks + near.stage;
      const int last = near.stage < 0 ? batch.picks : first + 1;
      for (int s = first; s < last && s < batch.picks + batch.stages; ++s) {
        const Board::Slot& slot = batch.slot(s);
        if (std::abs(slot.start - near.start) > kSameStart) continue;
        double& cost = changed_[static_cast<std::size_t>(n)];
        cost = std::min(cost, slot.team->mask == near.hands ? 0.0 : 0.5);
      }
    }
  }
  for (const double cost : changed_) terms_.change += project_.h.change_cost * cost;
}

Objective::Left Objective::left_over(const Schedule& schedule, int lot) {
  const Project& project = schedule.project();
  const LotSpec& spec = project.lots[static_cast<std::size_t>(lot)];
  const double untaken = std::max(0.0, spec.source->kg - schedule.taken(lot));
  const double waited = std::max(0, project.horizon - std::max(project.h.now, spec.source->ready));
  const double eaten = std::min(untaken, spec.eaten_per_minute * waited);
  return {untaken - eaten, eaten};
}

/// What is left of a holder (as in later_from_), by the way that gains most there.
void Objective::consider(int lot, std::size_t holder, double kg, int condition, double usable, double pool_quality) {
  Choice& choice = choices_[holder];
  if (!choice.known || choice.condition != condition || choice.usable != usable || choice.quality != pool_quality) {
    choice = {.known = true, .condition = condition, .usable = usable, .quality = pool_quality};
    for (std::size_t i = later_from_[holder]; i < later_from_[holder + 1]; ++i) {
      const Later& way = later_[i];
      const double quality = way.quality[static_cast<std::size_t>(condition)];
      if (quality <= 0 || usable < way.floor) continue;
      double per_kg = quality * pool_quality * usable, worth = per_kg * way.worth_per_kg;
      if (way.worth >= 0) {
        per_kg *= way.yield;
        worth = per_kg * price_[static_cast<std::size_t>(way.worth)];
      }
      if (worth - way.cost <= choice.gain) continue;
      choice.gain = worth - way.cost;
      choice.per_kg = per_kg;
      choice.way = &way;
    }
  }
  if (choice.way == nullptr) return;
  const double hours = choice.way->hours;
  turns_.push_back(
      {hours > 0 ? choice.gain / hours : std::numeric_limits<double>::infinity(), static_cast<int>(items_.size())});
  items_.push_back({lot, &choice, kg});
}

void Objective::add_still_sound(const Schedule& schedule) {
  const Time end = project_.horizon;
  items_.clear();
  turns_.clear();
  for (const int lot : waiting_) {
    const Left left = left_over(schedule, lot);
    const AtHorizon& then = schedule.at_horizon(lot);
    if (left.kg > 0) consider(lot, static_cast<std::size_t>(lot), left.kg, then.condition, then.usable, 1);
  }
  for (int pool = 0; pool < static_cast<int>(project_.pools.size()); ++pool) {
    if (project_.pools[static_cast<std::size_t>(pool)].source != Source::held) continue;
    const HeldPool& held = schedule.held(pool);
    if (!held.active || held.mass - held.taken <= 1e-9) continue;
    const int lot = project_.pools[static_cast<std::size_t>(pool)].lot;
    const bool frozen = project_.places[static_cast<std::size_t>(held.fade.place)].temp_c <= kFrozenBelowC;
    if (!frozen && project_.lots[static_cast<std::size_t>(lot)].hazard_by <= end) continue;
    const double usable = held.usable_at_start > 0 ? std::min(1.0, held.fade.usable_at(end) / held.usable_at_start) : 0;
    consider(-1, project_.lots.size() + static_cast<std::size_t>(pool), held.mass - held.taken,
             held.fade.condition_at(end), usable, held.quality);
  }
  std::sort(turns_.begin(), turns_.end(),
            [](const Turn& a, const Turn& b) { return a.rate != b.rate ? a.rate > b.rate : a.item < b.item; });
  with_still_ = put_by_;
  double minutes = project_.later_minutes;
  for (const Turn& turn : turns_) {
    const Item& item = items_[static_cast<std::size_t>(turn.item)];
    const Later& way = *item.choice->way;
    const double kg = way.hours > 0 ? std::min(item.kg, minutes / (60 * way.hours)) : item.kg;
    double gain = -kg * way.cost;
    if (way.worth >= 0) {
      const auto w = static_cast<std::size_t>(way.worth);
      const double before = with_still_[w];
      gain += project_.worth[w].worth(before + kg * item.choice->per_kg) - project_.worth[w].worth(before);
      with_still_[w] += kg * item.choice->per_kg;
    } else {
      gain += kg * item.choice->per_kg * way.worth_per_kg;
    }
    minutes -= 60 * way.hours * kg;
    terms_.still_sound += kLaterShare * std::max(0.0, gain);
    if (item.lot >= 0) still_kg_[static_cast<std::size_t>(item.lot)] += kg;
  }
}

}  // namespace stillroom::planning::detail
