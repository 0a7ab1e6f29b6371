#include "planning/detail/season.h"

// A day as it happens: what was planned, in turn, each as soon as it can and as long as it takes.
namespace stillroom::planning::detail {
namespace {

constexpr double kPickSpread = 0.2;
constexpr double kTripSpread = 0.15;

}  // namespace

Season::Batch Season::batch_of(const PlannedBatch& planned) const {
  Batch batch;
  batch.plan_key = planned.key;
  for (std::size_t r = 0; r < h_.routes.size(); ++r)
    if (h_.routes[r].key == planned.route) batch.route = static_cast<int>(r);
  const RouteSpec& spec = route(batch.route);
  std::vector<std::size_t> standing;
  for (const auto& part : planned.parts) {
    batch.parts.push_back({.kg = part.kg, .lot = part.lot});
    batch.kg += part.kg;
    const int own = food_of(part.lot);
    const int source = source_of(part.lot, *spec.source);
    if (source < 0 || source != own || !foods_[static_cast<std::size_t>(own)].standing) continue;
    standing.push_back(batch.parts.size() - 1);
    batch.parts.back().food = static_cast<std::size_t>(own);
  }
  for (const PlacedStage& stage : planned.stages) {
    Step step{.spec = nullptr,
              .team = mask_of(h_, stage.hands),
              .planned = stage.span.from,
              .length = stage.span.to - stage.span.from};
    if (stage.stage == "pick") {
      const auto pick = static_cast<std::size_t>(batch.picks++);
      if (pick < standing.size()) {
        step.part = standing[pick];
        step.spec = &base_.lots[static_cast<std::size_t>(foods_[batch.parts[step.part].food].origin)].pick;
      }
    } else {
      const std::size_t own = batch.steps.size() - static_cast<std::size_t>(batch.picks);
      if (own < spec.stages.size()) step.spec = &spec.stages[own];
    }
    batch.given_up = batch.given_up || step.spec == nullptr;
    batch.steps.push_back(step);
  }
  batch.given_up = batch.given_up || batch.steps.empty() || static_cast<std::size_t>(batch.picks) != standing.size();
  batch.loads = almanac::loads_for(*spec.source, batch.kg);
  return batch;
}

/// Finds what goes in; false when something of it has not come to be.
bool Season::gather(Batch& batch) const {
  const almanac::Route& source = *route(batch.route).source;
  for (Draw& part : batch.parts) {
    if (part.food == kNotYet) {
      const int food = source_of(part.lot, source);
      if (food < 0) return false;
      part.food = static_cast<std::size_t>(food);
    }
    part.main = foods_[part.food].seen.crop.starts_with(source.crop);
  }
  return true;
}

void Season::open_day(Time until) {
  for (auto& busy : busy_) std::erase_if(busy, [&](const Busy& b) { return b.to <= now_; });
  for (auto& used : used_) std::erase_if(used, [&](const Used& u) { return u.to <= now_; });
  for (const PlannedBatch& batch : plan_.batches)
    if (std::any_of(batch.stages.begin(), batch.stages.end(), [&](const auto& st) { return st.span.from < until; })) {
      batches_.push_back(batch_of(batch));
      otherwise_ = otherwise_ || batches_.back().given_up;
    }
  work_today_.clear();
  for (const auto& other : plan_.other)
    for (std::size_t o = 0; o < h_.other.size(); ++o) {
      if (h_.other[o].key != other.key || work_done_[o] >= 0) continue;
      for (const Span& span : other.spans)
        if (span.from < until)
          work_today_.push_back(
              {static_cast<int>(o), mask_of(h_, other.hands), span, span == other.spans.back(), false});
    }
  trips_today_.clear();
  for (std::size_t i = 0; i < plan_.trips.size(); ++i)
    if (plan_.trips[i].span.from < until) trips_today_.push_back({i, plan_.trips[i].span.from, false});
  moves_today_.clear();
  for (std::size_t i = 0; i < plan_.holds.size(); ++i)
    if (plan_.holds[i].from < until) moves_today_.push_back({i, plan_.holds[i].from, false});
}

/// When a step could begin: kNever while what comes before it is not done.
Time Season::due(const Batch& batch, int step) const {
  const Step& s = batch.steps[static_cast<std::size_t>(step)];
  if (step < batch.picks) return std::max(s.planned, foods_[batch.parts[s.part].food].ready);
  Time from = s.planned;
  const int first_before = step == batch.picks ? 0 : step - 1;
  for (int i = first_before; i < step; ++i) {
    const Step& before = batch.steps[static_cast<std::size_t>(i)];
    if (!before.done) return kNever;
    from = std::max(from, before.end + (step > batch.picks ? s.spec->lag_min : 0));
  }
  return from;
}

Season::Next Season::next_of(Time until) const {
  Next next;
  const auto offer = [&](Next::Kind kind, Time at, std::size_t index, int step = 0) {
    at = std::max(at, now_);
    if (at < until && at < next.at) next = {kind, at, index, step};
  };
  for (std::size_t i = 0; i < moves_today_.size(); ++i)
    if (!moves_today_[i].over) offer(Next::Kind::move, moves_today_[i].at, i);
  for (std::size_t i = 0; i < trips_today_.size(); ++i)
    if (!trips_today_[i].over) offer(Next::Kind::trip, trips_today_[i].at, i);
  for (std::size_t i = 0; i < batches_.size(); ++i) {
    const Batch& batch = batches_[i];
    if (batch.given_up) continue;
    for (int s = 0; s < static_cast<int>(batch.steps.size()); ++s) {
      if (batch.steps[static_cast<std::size_t>(s)].done) continue;
      const Time at = due(batch, s);
      if (at == kNever) break;
      offer(Next::Kind::step, at, i, s);
    }
  }
  for (std::size_t i = 0; i < work_today_.size(); ++i)
    if (!work_today_[i].over) offer(Next::Kind::work, work_today_[i].span.from, i);
  return next;
}

void Season::day(Time until) {
  open_day(until);
  for (Next next = next_of(until); next.kind != Next::Kind::none; next = next_of(until)) {
    switch (next.kind) {
      case Next::Kind::step:
        do_step(batches_[next.index], next.step, next.at, until);
        break;
      case Next::Kind::work:
        do_work(work_today_[next.index], next.at, until);
        break;
      case Next::Kind::trip:
        do_trip(trips_today_[next.index], next.at, until);
        break;
      case Next::Kind::move:
        do_move(moves_today_[next.index], next.at);
        break;
      case Next::Kind::none:
        break;
    }
  }
  take_out_what_began();
}

/// The luck of one stage of one batch. A canner never runs shorter than its process.
double Season::own_factor(const Batch& batch, int step) const {
  const StageSpec& spec = *batch.steps[static_cast<std::size_t>(step)].spec;
  const double spread = spec.source == nullptr ? kPickSpread : spec.source->spread;
  const double factor = luck_.factor(options_.spreads.stages * spread, Chance::stage, batch.about,
                                     step < batch.picks ? -1 - step : step - batch.picks, batch.number);
  for (const Use& use : spec.equipment)
    if (h_.equipment[static_cast<std::size_t>(use.index)].key.ends_with("canner")) return std::max(1.0, factor);
  return factor;
}

void Season::do_step(Batch& batch, int step, Time at, Time until) {
  const auto s = static_cast<std::size_t>(step);
  Step& it = batch.steps[s];
  if (!batch.begun && !gather(batch)) {
    batch.given_up = otherwise_ = true;
    return;
  }
  if (!batch.begun) {  // its luck goes by the lot and the route, whatever it is called in the plan
    batch.about = foods_[batch.parts.front().food].seen.id + " " + route(batch.route).source->key;
    const auto known = begun_.find(batch.about);
    batch.number = known == begun_.end() ? 0 : known->second;
  }
  Ask ask{.spec = it.spec, .good = days_.good_for(*it.spec), .kg = batch.kg, .loads = batch.loads, .from = at};
  if (step < batch.picks) ask.kg = batch.parts[it.part].kg;
  const double minutes = it.spec->duration.at(ask.kg, ask.loads);
  ask.expected = length_of(*it.spec, it.team, minutes);
  ask.length = length_of(*it.spec, it.team, minutes * own_factor(batch, step));
  ask.latest = batch.begun ? kNever - 1 : until - kGrain;
  Time limit = kNever;
  if (step > batch.picks && it.spec->lag_max != kNever) limit = batch.steps[s - 1].end + it.spec->lag_max;
  if (limit != kNever) ask.latest = std::max(at, limit);
  Slot slot = find_any(ask, it.team);
  if (!batch.begun) {
    if (slot.start == kNever || !can_begin(batch, step, slot.start)) {
      batch.given_up = otherwise_ = true;
      return;
    }
    take(batch);
  } else if (slot.start == kNever && limit != kNever) {
    slot.start = at;  // it cannot wait: somebody stays up for it
    slot.end = at + ask.length;
    slot.pieces = {{slot.start, slot.end}};
  } else if (slot.start == kNever || slot.start >= until) {
    it.planned = slot.start == kNever ? base_.horizon : slot.start;
    otherwise_ = true;
    push_later(batch, step);
    return;
  }
  hold(slot, ask, true);
  it.done = true;
  it.end = slot.end;
  otherwise_ = otherwise_ || slot.start != it.planned || slot.end - slot.start != it.length;
  if (step < batch.picks) batch.parts[it.part].picked = slot.end;
  if (step == batch.picks) settle(batch, slot.start);
  push_later(batch, step);
  if (step + 1 == static_cast<int>(batch.steps.size())) finish(batch, slot.end);
}

/// What follows a step is planned no sooner than it can be.
void Season::push_later(Batch& batch, int step) {
  for (std::size_t i = static_cast<std::size_t>(std::max(step + 1, batch.picks)); i < batch.steps.size(); ++i) {
    Step& next = batch.steps[i];
    if (next.done) continue;
    Time end = 0;
    for (std::size_t b = static_cast<int>(i) == batch.picks ? 0 : i - 1; b < i; ++b) {
      const Step& before = batch.steps[b];
      end = std::max(end, before.done ? before.end : before.planned + before.length);
    }
    const Time lag = static_cast<int>(i) > batch.picks ? next.spec->lag_min : 0;
    next.planned = std::max(next.planned, end + lag);
  }
}

void Season::do_work(Work& work, Time at, Time until) {
  work.over = true;
  const auto o = static_cast<std::size_t>(work.other);
  if (work_done_[o] >= 0) return;
  const OtherSpec& spec = base_.other[o];
  Ask ask{.spec = &spec.stage, .good = days_.good_for_work(work.other), .from = std::max(at, spec.from)};
  ask.unbroken = true;
  ask.expected = work.span.to - work.span.from;
  const Time all = length_of(spec.stage, work.team, work_left_true_[o]);
  ask.length = work.last || !h_.other[o].can_split ? all : std::min(all, ask.expected);
  ask.latest = until - kGrain;
  const Slot slot = find(ask, work.team);
  if (slot.start == kNever) {
    otherwise_ = true;
    return;
  }
  hold(slot, ask, false);
  double usable = 1;
  for (std::size_t p = 0; p < h_.hands.size(); ++p)
    if ((work.team >> p & 1U) != 0) usable = std::min(usable, h_.hands[p].usable_share);
  const double done = (slot.end - slot.start) * usable;
  work_left_true_[o] = ask.length == all ? 0 : std::max(0.0, work_left_true_[o] - done);
  work_left_[o] = std::max(0.0, work_left_[o] - done);
  if (work_left_true_[o] <= 1e-6) work_done_[o] = slot.end;
  otherwise_ = otherwise_ || slot.start != work.span.from || slot.end != work.span.to;
  for (auto& other : plan_.other)
    if (other.key == h_.other[o].key) std::erase(other.spans, work.span);
}

void Season::do_trip(Errand& trip, Time at, Time until) {
  trip.over = true;
  const Plan::Trip& planned = plan_.trips[trip.index];
  Ask ask{.spec = &base_.trip, .good = nullptr, .from = at};
  ask.expected = planned.span.to - planned.span.from;
  ask.length = grain_length(ask.expected *
                            luck_.factor(options_.spreads.stages * kTripSpread, Chance::stage, "trip", day_of(at)));
  ask.latest = until - kGrain;
  Windows open;
  if (h_.shopping && !h_.shopping->open.empty()) {
    open = clipped(h_, h_.shopping->open);
    ask.good = &open;
  }
  const Slot slot = find(ask, mask_of(h_, {planned.hand}));
  if (slot.start == kNever) {
    otherwise_ = true;
    return;
  }
  hold(slot, ask, true);
  for (const auto& bought : planned.bought) {
    spent_ += bought.cost;
    for (StockLevel& level : known_.stock)
      if (level.item == bought.item) level.arriving.push_back({slot.end, bought.amount});
  }
  otherwise_ = otherwise_ || slot.start != planned.span.from || slot.end != planned.span.to;
  plan_.trips[trip.index].hand.clear();  // made
}

void Season::do_move(Errand& move, Time at) {
  move.over = true;
  PlannedHold& hold = plan_.holds[move.index];
  const int index = food_of(hold.lot);
  if (index < 0) return;
  Food& food = foods_[static_cast<std::size_t>(index)];
  if (food.ready > at || food.standing) {
    otherwise_ = true;
    return;
  }
  food.here = true;
  food.live_until(at);
  for (std::size_t p = 0; p < h_.places.size(); ++p) {
    if (h_.places[p].key != hold.place) continue;
    change_room(food.place, -food.kg);
    food.place = static_cast<int>(p);
    food.seen.place = hold.place;
    change_room(food.place, food.kg);
  }
  hold.lot.clear();  // done
}

/// What is done, or begun, is no longer planned.
void Season::take_out_what_began() {
  for (const Batch& batch : batches_)
    if (batch.begun) std::erase_if(plan_.batches, [&](const PlannedBatch& b) { return b.key == batch.plan_key; });
  std::erase_if(batches_, [](const Batch& b) {
    return !b.begun || std::all_of(b.steps.begin(), b.steps.end(), [](const Step& s) { return s.done; });
  });
  for (Batch& batch : batches_) batch.plan_key.clear();
  std::erase_if(plan_.other, [](const Plan::OtherPlaced& o) { return o.spans.empty(); });
  std::erase_if(plan_.trips, [](const Plan::Trip& t) { return t.hand.empty(); });
  std::erase_if(plan_.holds, [](const PlannedHold& hold) { return hold.lot.empty(); });
}

}  // namespace stillroom::planning::detail
