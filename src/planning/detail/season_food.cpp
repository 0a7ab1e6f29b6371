#include "planning/detail/season.h"

#include "planning/detail/objective.h"

// What goes into batches and comes out of them, and what the season came to.
namespace stillroom::planning::detail {
namespace {

constexpr double kLeastOfPlanned = 0.5;  // of a batch's kg: with less there it is not begun

/// Share of a food that is usable, and its condition, when a batch starts; a standing crop has been picked at `picked`.
struct State {
  double usable = 1;
  int condition = 1;
};
State state_at(const Food& food, Time t, Time picked) {
  if (!food.standing) return {food.usable(), food.condition()};
  Fade fade = food.after_picking();
  const auto waited = static_cast<Time>(std::max(0, t - picked) * food.speed);
  return {fade.usable_at(waited), fade.condition_at(waited)};
}

double hours_of(const StageSpec& stage, double kg, int loads) {
  return stage.hands * (static_cast<double>(stage.share) / kWhole) * std::max(0.0, stage.duration.at(kg, loads)) / 60;
}

}  // namespace

/// What there will be by then, as far as people know.
double Season::in_stock(int item, Time t) const {
  const StockLevel& level = known_.stock[static_cast<std::size_t>(item)];
  double amount = level.amount;
  for (const auto& a : level.arriving)
    if (a.at <= t) amount += a.amount;
  for (const Plan::Trip& trip : plan_.trips) {
    if (trip.hand.empty() || trip.span.to > t) continue;  // made: what was bought is arriving
    for (const auto& bought : trip.bought)
      if (bought.item == level.item) amount += bought.amount;
  }
  return amount;
}

/// A person looks once more before beginning: is it there, does the route take it as it is, is there enough of
/// everything, and is there time before its clock runs out.
bool Season::can_begin(Batch& batch, int step, Time start) {
  const RouteSpec& spec = route(batch.route);
  if (static_cast<int>(batch.steps.size()) <= batch.picks) return false;
  const Time moved = std::max(0, start - batch.steps[static_cast<std::size_t>(step)].planned);
  const Time own = std::max(start, batch.steps[static_cast<std::size_t>(batch.picks)].planned + moved);
  double there = 0;
  std::size_t pick = 0;
  for (Draw& part : batch.parts) {
    Food& food = foods_[part.food];
    Time picked = own;
    if (food.standing) {  // picked in its own time
      const Step& picking = batch.steps[pick++];
      picked = std::max({start, picking.planned + moved, food.ready}) + picking.length;
      if (picked > food.pick_by) return false;
    } else {
      if (food.ready > own) return false;
      if (food.ready <= start) food.here = true;
      food.live_until(start);
    }
    part.kg = std::min(part.kg, food.kg);
    there += part.kg;
    const State state = state_at(food, own, picked);
    if (state.usable < (part.main ? spec.floor : kUsableFloor)) return false;
    if (part.main && spec.source->quality[static_cast<std::size_t>(state.condition)] <= 0) return false;
    if (!food.seen.hazard_by) continue;
    const auto k = static_cast<std::size_t>(batch.picks) + static_cast<std::size_t>(spec.hazard.stage);
    if (k >= batch.steps.size()) return false;
    const Step& critical = batch.steps[k];
    if (critical.planned + moved + (spec.hazard.by_start ? 0 : critical.length) > *food.seen.hazard_by) return false;
  }
  if (there < spec.source->batch_min_kg - 1e-6 || there < kLeastOfPlanned * batch.kg) return false;
  const int loads = almanac::loads_for(*spec.source, there);
  for (std::size_t i = 0; i < spec.stages.size(); ++i) {
    const std::size_t at = static_cast<std::size_t>(batch.picks) + i;
    const Time then = at < batch.steps.size() ? batch.steps[at].planned + moved : base_.horizon;
    for (const Use& use : spec.stages[i].stock)
      if (use.amount.at(there, loads) > in_stock(use.index, then) + 1e-6) return false;
  }
  return true;
}

/// Food, jars and room are given to the batch when it begins, for all its stages.
void Season::take(Batch& batch) {
  const RouteSpec& spec = route(batch.route);
  if (!spec.seconds.empty()) {  // a recipe keeps its proportions
    double share = 1;
    double planned = 0, main = 0;
    for (const Draw& part : batch.parts) (part.main ? main : planned) += part.kg;
    for (std::size_t j = 0; j < spec.source->many_lot_kg.size() && main > 0 && batch.parts.size() == j + 2; ++j)
      share = std::min(share, planned / (main * spec.source->many_lot_kg[j]));
    if (share < 1)
      for (Draw& part : batch.parts)
        if (part.main) part.kg *= share;
  }
  double kg = 0;
  for (const Draw& part : batch.parts) kg += part.kg;
  otherwise_ = otherwise_ || std::abs(kg - batch.kg) > 1e-3;
  batch.kg = kg;
  batch.loads = almanac::loads_for(*spec.source, kg);
  batch.begun = true;
  ++begun_[batch.about];
  for (const Draw& part : batch.parts) {
    foods_[part.food].kg -= part.kg;
    if (!foods_[part.food].standing) change_room(foods_[part.food].place, -part.kg);
  }
  for (const StageSpec& stage : spec.stages) {
    for (const Use& use : stage.stock)
      known_.stock[static_cast<std::size_t>(use.index)].amount -= use.amount.at(kg, batch.loads);
    for (const Use& use : stage.rooms) {
      double& free = known_.rooms[static_cast<std::size_t>(use.index)].capacity;
      free = std::max(0.0, free - use.amount.at(kg, batch.loads));
    }
  }
  const std::size_t placed = batch.steps.size() - static_cast<std::size_t>(batch.picks);
  for (std::size_t i = placed; i < spec.stages.size(); ++i)  // beyond the horizon: only their hours count
    if (spec.stages[i].attended()) later_effort_ += hours_of(spec.stages[i], kg, batch.loads);
  materials_ += kg * spec.source->materials_cost_per_kg;
  energy_ += kg * spec.source->energy_cost_per_kg;
}

/// What the batch is worth is settled when its first own stage starts.
void Season::settle(Batch& batch, Time start) {
  const RouteSpec& spec = route(batch.route);
  const almanac::Route& source = *spec.source;
  const double yield =
      source.yield_kg_per_kg * luck_.factor(options_.spreads.yield, Chance::yield, batch.about, batch.number);
  double main_kg = 0, main_quality = 0, usable_kg = 0;
  for (const Draw& part : batch.parts) {
    Food& food = foods_[part.food];
    if (food.ready <= start) food.here = true;
    food.live_until(start);
    const State state = state_at(food, start, part.picked);
    usable_kg += part.kg * state.usable;
    if (part.main) {
      main_kg += part.kg;
      main_quality += part.kg * state.usable * food.quality * source.quality[static_cast<std::size_t>(state.condition)];
    }
    if (!source.is_hold && !spec.gives_away && food.origin >= 0)
      saved_kg_[static_cast<std::size_t>(food.origin)] += part.kg * state.usable * food.origin_kg_per_kg;
  }
  batch.settled = true;
  if (source.is_hold) {
    open_pool(batch, start);
    return;
  }
  double main_usable = 0;
  for (const Draw& part : batch.parts)
    if (part.main) main_usable += part.kg * state_at(foods_[part.food], start, part.picked).usable;
  const double second = usable_kg - main_usable;
  const double amount =
      (main_quality + (main_kg > 0 && main_usable > 0 ? second * main_quality / main_usable : 0)) * yield;
  if (spec.worth >= 0) {
    put_by_[static_cast<std::size_t>(spec.worth)] += amount;
    known_.worth[static_cast<std::size_t>(spec.worth)].have_kg += amount;
  } else if (yield > 0) {
    other_put_by_ += source.worth_per_kg_in * amount / source.yield_kg_per_kg;
  }
}

/// What is held waits as a lot of its own, gross: its share goes on from where the lot stood.
void Season::open_pool(Batch& batch, Time start) {
  const RouteSpec& spec = route(batch.route);
  const Draw& part = batch.parts.front();
  Food pool = foods_[part.food];
  const State state = state_at(pool, start, part.picked);
  if (pool.standing) {  // it has lived on since it was picked
    const Fade fade = pool.after_picking();
    const auto waited = static_cast<Time>(std::max(0, start - part.picked) * pool.speed);
    pool.age = fade.age_at(waited);
    pool.ripeness = fade.ripeness_at(waited);
    pool.seen.belief.age = pool.age;
    pool.seen.belief.ripeness = pool.ripeness;
  }
  pool.made = true;
  pool.standing = pool.here = false;
  pool.seen.id += "/" + spec.source->product_form + "#" + std::to_string(batch.number);
  pool.seen.form = spec.source->product_form;
  pool.seen.place = h_.places[static_cast<std::size_t>(spec.hold_place)].key;
  pool.pick_by = pool.seen.pick_by = 0;
  pool.seen.eaten_kg_per_day = 0;
  pool.place = spec.hold_place;
  if (h_.places[static_cast<std::size_t>(spec.hold_place)].temp_c <= kFrozenBelowC) pool.seen.hazard_by.reset();
  pool.origin_kg_per_kg /= std::max(0.01, spec.source->yield_kg_per_kg);
  pool.kg = pool.expected_kg = pool.came_kg = part.kg * spec.source->yield_kg_per_kg;
  pool.quality *= spec.source->quality[static_cast<std::size_t>(state.condition)];
  pool.eaten = 0;
  pool.ready = kNever;
  batch.pool = static_cast<int>(foods_.size());
  foods_.push_back(std::move(pool));
}

void Season::finish(Batch& batch, Time end) {
  const RouteSpec& spec = route(batch.route);
  if (batch.steps.size() - static_cast<std::size_t>(batch.picks) < spec.stages.size()) return;  // the rest lies beyond
  if (batch.pool >= 0) {
    Food& pool = foods_[static_cast<std::size_t>(batch.pool)];
    pool.ready = pool.at = pool.seen.ready = end;
    return;
  }
  if (spec.source->also_yields.empty()) return;
  const std::vector<Draw> parts = batch.parts;
  for (const Draw& part : parts)
    for (const almanac::ByProduct& by : spec.source->also_yields) {
      const Food from = foods_[part.food];
      leave_by_product(from, by, part.kg * by.kg_per_kg, end);
    }
}

void Season::leave_by_product(const Food& from, const almanac::ByProduct& by, double kg, Time at) {
  if (kg <= 0) return;
  Food left;
  left.seen = from.seen;
  left.seen.id = from.seen.id + "/" + by.form + "#" + std::to_string(foods_.size());
  left.seen.crop = by.food;
  left.seen.form = by.form;
  left.seen.pick_by = 0;
  left.seen.eaten_kg_per_day = 0;
  left.seen.model.reset();
  left.seen.belief = {};
  left.made = true;
  left.kg = left.expected_kg = left.came_kg = kg;
  left.ready = left.at = left.seen.ready = at;
  left.place = from.place;
  foods_.push_back(std::move(left));
}

/// Food that comes to a place takes its room, food that leaves gives it back.
void Season::change_room(int place, double kg) {
  const PlaceSpec& spec = base_.places[static_cast<std::size_t>(place)];
  if (spec.room < 0) return;
  double& free = known_.rooms[static_cast<std::size_t>(spec.room)].capacity;
  free = std::max(0.0, free - kg * spec.room_per_kg);
}

/// What is left on the last evening, by what the week after could do with it, as the plan counts it.
double Season::still_sound() {
  known_.now = base_.horizon - kGrain;
  known_.lots.clear();
  known_.other.clear();
  known_.committed.clear();
  known_.in_force.clear();
  for (Food& food : foods_) {
    food.here = food.here || food.ready < base_.horizon;
    food.live_until(known_.now);
    if (food.kg <= 0 || !food.here || food.origin < 0) continue;
    if (food.standing ? food.pick_by <= base_.horizon : food.seen.hazard_by && *food.seen.hazard_by <= base_.horizon)
      continue;
    Lot left = food.seen;
    left.kg = food.kg;
    left.ready = std::min(left.ready, known_.now);
    left.pick_by = food.pick_by;
    left.eaten_kg_per_day = 0;
    left.belief.age = food.age;
    left.belief.ripeness = food.ripeness;
    known_.lots.push_back(std::move(left));
  }
  Project project(known_);
  project.later_minutes = base_.later_minutes;
  const Schedule empty(project);
  Objective objective(project);
  return objective.weigh(empty).still_sound;
}

void Season::count_left() {
  for (const Food& food : foods_) {
    if (food.origin < 0) continue;
    double& saved = saved_kg_[static_cast<std::size_t>(food.origin)];
    saved += food.eaten;
    if (food.kg <= 0) continue;
    const bool to_come = food.ready >= base_.horizon;
    const bool clock = food.seen.hazard_by && *food.seen.hazard_by <= base_.horizon && !to_come;
    const bool sound = food.standing ? food.pick_by > base_.horizon : food.usable() >= kUsableFloor && !clock;
    if (sound || to_come) saved += food.kg * food.origin_kg_per_kg * (food.standing || to_come ? 1 : food.usable());
  }
}

SeasonOutcome Season::sum_up() {
  SeasonOutcome out;
  double effort = 0;
  for (const Batch& batch : batches_)  // stages still to come cost their hours
    for (const Step& step : batch.steps)
      if (!step.done && step.spec->attended()) later_effort_ += hours_of(*step.spec, batch.kg, batch.loads);
  out.hours.assign(static_cast<std::size_t>(base_.days), 0);
  for (std::size_t cell = 0; cell < worked_.size(); ++cell) {
    const double beyond = std::max(0.0, worked_[cell] / 60 - kLongDayHours);
    effort += batch_worked_[cell] / 60 + beyond * beyond / kLongDayScale;
    out.hours[cell % static_cast<std::size_t>(base_.days)] += worked_[cell] / 60;
  }
  double lateness = 0;
  for (std::size_t o = 0; o < h_.other.size(); ++o) {
    const double end = work_done_[o] >= 0 ? work_done_[o] : base_.horizon;
    lateness += h_.other[o].importance *
                (std::max(0.0, end - base_.other[o].due) / kDayMinutes + (work_done_[o] >= 0 ? 0 : kUndoneDays));
  }
  out.value = other_put_by_ - materials_ - energy_ - h_.effort_per_hour * (effort + later_effort_) - lateness;
  for (std::size_t w = 0; w < put_by_.size(); ++w) out.value += base_.worth[w].worth(put_by_[w]);
  out.value += still_sound();
  count_left();
  for (std::size_t l = 0; l < total_kg_.size(); ++l) {
    const double lost = std::max(0.0, total_kg_[l] - saved_kg_[l]);
    out.loss_kg.push_back(lost);
    out.saved.push_back(lost <= (1 - options_.saved_share) * total_kg_[l] + 1e-9 ? 1 : 0);
  }
  return out;
}

}  // namespace stillroom::planning::detail
