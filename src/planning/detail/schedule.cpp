#include "planning/detail/schedule.h"

#include <cassert>

namespace stillroom::planning::detail {

Schedule::Schedule(const Project& project) : project_(project), board_(project) {
  lots_.resize(project.lots.size());
  for (int lot = 0; lot < static_cast<int>(lots_.size()); ++lot)
    set_fade(lot, project.lots[static_cast<std::size_t>(lot)].fade);
  held_.resize(project.pools.size());
  for (std::size_t i = 0; i < project.pools.size(); ++i)
    no_by_products_.emplace_back(0, std::span<const scheduling::StockProfile::Arrival>{});
  by_products_ = no_by_products_;
}

void Schedule::set_fade(int lot, const Fade& fade) {
  LotState& state = lots_[static_cast<std::size_t>(lot)];
  state.fade = fade;
  const Time then = project_.lots[static_cast<std::size_t>(lot)].standing ? 0 : project_.horizon;
  state.at_horizon = {fade.condition_at(then), fade.usable_at(then)};
}

int Schedule::free_id() {
  if (free_.empty()) {
    placed_.emplace_back();
    return static_cast<int>(placed_.size()) - 1;
  }
  const int id = free_.back();
  free_.pop_back();
  return id;
}

int Schedule::insert(const Job& job) {
  const int id = free_id();
  Placed& out = placed_[static_cast<std::size_t>(id)];
  out = Placed{};
  out.job = job;
  const Mark before = mark();
  bool fits = false;
  switch (job.kind) {
    case JobKind::batch:
      fits = place_batch(id, out);
      break;
    case JobKind::hold:
      fits = place_hold(out);
      break;
    case JobKind::other:
      fits = place_other(id, out);
      break;
    case JobKind::trip:
      fits = place_trip(id, out);
      break;
  }
  if (!fits) {
    purchases_.resize(before.purchases);
    board_.rollback(before.board);
    free_.push_back(id);
    return -1;
  }
  note(id);
  operations_.push_back({id, true});
  return id;
}

int Schedule::insert_pinned(const PinnedJob& pinned, bool whole) {
  const Mark before = mark();
  pins_ = pinned.pins;
  const int id = insert(pinned.job);
  pins_ = {};
  if (id < 0 || !whole || pinned.job.kind != JobKind::batch || placed(id).kg > pinned.job.kg() - kLeastKg) return id;
  rollback(before);
  return -1;
}

void Schedule::remember(int id, const Mark& before, Trial& out) const {
  out.placed = placed(id);
  out.bought.assign(purchases_.begin() + static_cast<std::ptrdiff_t>(before.purchases), purchases_.end());
}

int Schedule::insert_again(const Trial& trial) {
  const int id = free_id();
  placed_[static_cast<std::size_t>(id)] = trial.placed;
  for (const Purchase& p : trial.bought) {
    board_.stock(p.item).put(placed(p.trip).last().end, p.amount, board_.log());
    purchases_.push_back(p);
  }
  apply(id, 1);
  note(id);
  operations_.push_back({id, true});
  return id;
}

void Schedule::remove(int id) {
  apply(id, -1);
  forget(id);
  operations_.push_back({id, false});
  leaving_.push_back(id);
}

void Schedule::rollback(const Mark& mark) {
  while (operations_.size() > mark.operations) {
    const Operation op = operations_.back();
    operations_.pop_back();
    if (op.inserted) {
      forget(op.id);
      free_.push_back(op.id);
    } else {
      assert(leaving_.back() == op.id);
      leaving_.pop_back();
      note(op.id);
    }
  }
  purchases_.resize(mark.purchases);
  board_.rollback(mark.board);
}

void Schedule::commit() {
  board_.commit();
  operations_.clear();
  free_.insert(free_.end(), leaving_.begin(), leaving_.end());
  leaving_.clear();
}

/// Books that are not on the board: who takes what, where lots lie, which pools there are.
void Schedule::note(int id) {
  ids_.push_back(id);
  const Placed& p = placed(id);
  if (p.job.kind == JobKind::hold) {
    const int lot = p.job.parts[0].lot;
    lots_[static_cast<std::size_t>(lot)].hold = id;
    Fade fade = lots_[static_cast<std::size_t>(lot)].fade;
    fade.moved = p.start;
    fade.second_place = p.job.what;
    fade.settle();
    set_fade(lot, fade);
  }
  if (p.job.kind != JobKind::batch) return;
  for (int i = 0; i < p.size; ++i) {
    const PlacedPart& part = p.parts[static_cast<std::size_t>(i)];
    if (part.source == Source::lot) {
      LotState& lot = lots_[static_cast<std::size_t>(part.lot)];
      lot.takes.push_back({part.taken, part.kg, id});
      lot.sum_up();
    }
    if (part.source == Source::held) held_[static_cast<std::size_t>(part.pool)].taken += part.kg;
  }
  hold_pool(p, true);
}

void Schedule::forget(int id) {
  ids_.erase(std::find(ids_.begin(), ids_.end(), id));
  const Placed& p = placed(id);
  if (p.job.kind == JobKind::hold) {
    const auto lot = static_cast<std::size_t>(p.job.parts[0].lot);
    assert(lots_[lot].takes.empty());
    lots_[lot].hold = -1;
    set_fade(p.job.parts[0].lot, project_.lots[lot].fade);
  }
  if (p.job.kind != JobKind::batch) return;
  hold_pool(p, false);
  for (int i = p.size - 1; i >= 0; --i) {
    const PlacedPart& part = p.parts[static_cast<std::size_t>(i)];
    if (part.source == Source::held) held_[static_cast<std::size_t>(part.pool)].taken -= part.kg;
    if (part.source != Source::lot) continue;
    LotState& lot = lots_[static_cast<std::size_t>(part.lot)];
    lot.takes.erase(std::find_if(lot.takes.begin(), lot.takes.end(), [&](const Take& t) { return t.id == id; }));
    lot.sum_up();
  }
}

/// A batch of a hold route opens or closes its pool.
void Schedule::hold_pool(const Placed& batch, bool active) {
  const RouteSpec& route = project_.routes[static_cast<std::size_t>(batch.job.what)];
  if (!route.source->is_hold) return;
  for (std::size_t pool = 0; pool < project_.pools.size(); ++pool) {
    const PoolSpec& spec = project_.pools[pool];
    if (spec.source != Source::held || spec.lot != batch.parts[0].lot || spec.form != route.source->product_form)
      continue;
    const PlacedPart& part = batch.parts[0];
    const Fade& fade = lots_[static_cast<std::size_t>(part.lot)].fade;
    HeldPool& held = held_[pool];
    held.active = active;
    if (!active) continue;
    held.ready = batch.last().end;
    held.mass = part.kg * part.usable * route.source->yield_kg_per_kg;
    held.taken = 0;
    held.usable_at_start = part.usable;
    held.quality = part.quality;
    held.fade = {.model = fade.model,
                 .from = held.ready,
                 .age = fade.age_at(batch.start - part.picked),
                 .ripeness = fade.ripeness_at(batch.start - part.picked),
                 .place = route.hold_place};
    held.fade.settle();
  }
}

/// What a placed job takes on the board (sign 1), or gives back (-1).
void Schedule::apply(int id, int sign) {
  const Placed& p = placed(id);
  const auto each = [&](const Board::Demand& demand) {
    for (int i = 0; i < p.stages; ++i) sign > 0 ? board_.reserve(demand, p.slot(i)) : board_.release(demand, p.slot(i));
  };
  switch (p.job.kind) {
    case JobKind::batch:
      apply_batch(id, p, sign);
      break;
    case JobKind::hold:
      apply_hold(p, sign);
      break;
    case JobKind::other:
      each(other_demand(id, p.job.what));
      break;
    case JobKind::trip:
      each(trip_demand(id));
      break;
  }
}

/// Takes (sign 1) or gives back (-1) everything a batch holds on the board.
void Schedule::apply_batch(int id, const Placed& batch, int sign) {
  const RouteSpec& route = project_.routes[static_cast<std::size_t>(batch.job.what)];
  const auto apply_slot = [&](const Board::Demand& demand, const Board::Slot& slot) {
    sign > 0 ? board_.reserve(demand, slot) : board_.release(demand, slot);
  };
  int pick = 0;
  for (int i = 0; i < batch.size; ++i)
    if (batch.parts[static_cast<std::size_t>(i)].picked != 0)
      apply_slot(pick_demand(id, batch.parts[static_cast<std::size_t>(i)]), batch.slot(pick++));
  for (int s = 0; s < batch.stages; ++s)
    apply_slot(stage_demand(id, route.stages[static_cast<std::size_t>(s)], batch), batch.slot(batch.picks + s));
  for (std::size_t s = static_cast<std::size_t>(batch.stages); s < route.stages.size(); ++s)
    board_.apply_beyond(stage_demand(id, route.stages[s], batch), sign);
  apply_food(batch, sign);
}

/// What a batch moves besides its stages: food out of its room and pools, by-products into theirs.
void Schedule::apply_food(const Placed& batch, int sign) {
  const RouteSpec& route = project_.routes[static_cast<std::size_t>(batch.job.what)];
  const bool complete = batch.stages == static_cast<int>(route.stages.size());
  for (int i = 0; i < batch.size; ++i) {
    const PlacedPart& part = batch.parts[static_cast<std::size_t>(i)];
    if (part.source == Source::by_product)
      by_products_[static_cast<std::size_t>(part.pool)].take(part.taken, sign * units_needed(part.kg), board_.log());
    if (part.source != Source::lot) continue;
    leave_room(part, sign);
    if (!complete) continue;
    for (const almanac::ByProduct& by : route.source->also_yields)
      for (std::size_t pool = 0; pool < project_.pools.size(); ++pool) {
        const PoolSpec& spec = project_.pools[pool];
        if (spec.source == Source::by_product && spec.lot == part.lot && spec.crop == by.food && spec.form == by.form)
          by_products_[pool].put(batch.last().end, sign * units_there(part.kg * by.kg_per_kg), board_.log());
      }
  }
}

void Schedule::apply_hold(const Placed& hold, int sign) {
  const LotSpec& spec = project_.lots[static_cast<std::size_t>(hold.job.parts[0].lot)];
  const PlaceSpec& to = project_.places[static_cast<std::size_t>(hold.job.what)];
  const PlaceSpec& old = project_.places[static_cast<std::size_t>(spec.place)];
  if (old.room >= 0 && spec.source->ready <= project_.h.now)
    board_.room(old.room).release(hold.start, kNever, sign * units_there(spec.source->kg * old.room_per_kg),
                                  board_.log());
  if (to.room >= 0)
    board_.room(to.room).keep(hold.start, kNever, sign * units_needed(spec.source->kg * to.room_per_kg), board_.log());
}

/// Food that is taken leaves the room where its lot waits.
void Schedule::leave_room(const PlacedPart& part, int sign) {
  const LotSpec& spec = project_.lots[static_cast<std::size_t>(part.lot)];
  if (spec.standing) return;
  const Fade& fade = lots_[static_cast<std::size_t>(part.lot)].fade;
  const auto leave = [&](int place, Time from, Time to) {
    const PlaceSpec& where = project_.places[static_cast<std::size_t>(place)];
    if (where.room >= 0 && from < to)
      board_.room(where.room).release(from, to, sign * units_there(part.kg * where.room_per_kg), board_.log());
  };
  if (spec.source->ready <= project_.h.now) leave(fade.place, part.taken, fade.moved);
  if (fade.moved != kNever) leave(fade.second_place, std::max(part.taken, fade.moved), kNever);
}

void Schedule::dependents(int id, std::vector<int>& out) const {
  const Placed& p = placed(id);
  const auto add = [&](int other) {
    if (other != id && std::find(out.begin(), out.end(), other) == out.end()) out.push_back(other);
  };
  if (p.job.kind == JobKind::hold) {
    for (int other : ids_)
      if (placed(other).job.kind == JobKind::batch && placed(other).draws_on(p.job.parts[0].lot)) add(other);
    return;
  }
  if (p.job.kind != JobKind::batch) return;
  const almanac::Route& route = *project_.routes[static_cast<std::size_t>(p.job.what)].source;
  if (!route.is_hold && route.also_yields.empty()) return;
  const Source made = route.is_hold ? Source::held : Source::by_product;
  for (int other : ids_) {
    const Placed& taker = placed(other);
    if (taker.job.kind != JobKind::batch) continue;
    for (int i = 0; i < taker.size; ++i)
      for (int k = 0; k < p.size; ++k)
        if (taker.parts[static_cast<std::size_t>(i)].source == made &&
            taker.parts[static_cast<std::size_t>(i)].lot == p.parts[static_cast<std::size_t>(k)].lot)
          add(other);
  }
}

void Schedule::tidy() {
  commit();
  board_.reset();
  by_products_ = no_by_products_;
  for (int id : ids_) apply(id, 1);
  trim_purchases();
  board_.commit();
}

/// Puts purchases back on the emptied board, each only as far as it is still needed.
void Schedule::trim_purchases() {
  for (const Purchase& p : purchases_) board_.stock(p.item).put(placed(p.trip).last().end, p.amount, board_.log());
  for (Purchase& p : purchases_) {
    const StockLevel& item = project_.h.stock[static_cast<std::size_t>(p.item)];
    const Amount step = std::max<Amount>(1, units_there(item.buy_step));
    const Amount spare = std::min(p.amount, board_.stock(p.item).available_from(placed(p.trip).last().end));
    const Amount back = std::max<Amount>(0, spare / step * step);
    if (back == 0) continue;
    board_.stock(p.item).take(placed(p.trip).last().end, back, board_.log());
    p.amount -= back;
    p.cost = static_cast<double>(p.amount) / kWhole * item.price;
  }
  std::erase_if(purchases_, [](const Purchase& p) { return p.amount == 0; });
}

void Schedule::clear() {
  while (!ids_.empty()) {
    const int id = ids_.back();
    ids_.pop_back();
    free_.push_back(id);
  }
  free_.insert(free_.end(), leaving_.begin(), leaving_.end());
  leaving_.clear();
  operations_.clear();
  purchases_.clear();
  for (std::size_t l = 0; l < lots_.size(); ++l) {
    set_fade(static_cast<int>(l), project_.lots[l].fade);
    lots_[l].takes.clear();
    lots_[l].sum_up();
    lots_[l].hold = -1;
  }
  for (HeldPool& pool : held_) pool = {};
  by_products_ = no_by_products_;
  board_.reset();
}

void Schedule::fill(const JobList& list) {
  clear();
  for (const Job& job : list) insert(job);
  commit();
}

void Schedule::fill(const PinnedList& list) {
  // Moves fill rooms that batches empty, and batches want the moves of their lots in first. So at first moves do not
  // ask for room; when there is too little in the end, they do, in the order of time.
  for (const bool moves_ask : {false, true}) {
    clear();
    std::vector<const PinnedJob*> waiting;
    for (const PinnedJob& pinned : list) waiting.push_back(&pinned);
    if (!moves_ask) {
      board_.relaxed.room = true;
      std::erase_if(waiting,
                    [&](const PinnedJob* p) { return p->job.kind == JobKind::hold && insert_pinned(*p, true) >= 0; });
      board_.relaxed.room = false;
    }
    for (std::size_t before = waiting.size() + 1; waiting.size() < before;) {
      before = waiting.size();
      insert_pinned(waiting, true);
    }
    insert_pinned(waiting, false);
    for (const bool hold : {true, false})
      for (const PinnedJob* pinned : waiting)
        if ((pinned->job.kind == JobKind::hold) == hold) insert(pinned->job);
    if (board_.rooms_hold()) break;
  }
  commit();
}

/// Puts in what fits where it is pinned, `whole` or smaller too, and leaves the others. A lot is not touched before its
/// move is in.
void Schedule::insert_pinned(std::vector<const PinnedJob*>& waiting, bool whole) {
  const auto is_touched_by = [](const PinnedJob* move, const Job& job) {
    return move->job.kind == JobKind::hold && job.kind == JobKind::batch && job.has(move->job.parts[0].lot);
  };
  std::vector<const PinnedJob*> left;
  for (std::size_t i = 0; i < waiting.size(); ++i) {
    const auto bars = [&](const PinnedJob* other) { return is_touched_by(other, waiting[i]->job); };
    const bool barred = std::any_of(left.begin(), left.end(), bars) ||
                        std::any_of(waiting.begin() + static_cast<std::ptrdiff_t>(i), waiting.end(), bars);
    if (barred || insert_pinned(*waiting[i], whole) < 0) left.push_back(waiting[i]);
  }
  waiting = std::move(left);
}

void Schedule::save(Snapshot& out) const {
  out.placed.clear();
  for (int id : ids_) out.placed.push_back(placed(id));
  out.purchases = purchases_;
  for (Purchase& p : out.purchases)
    p.trip = static_cast<int>(std::find(ids_.begin(), ids_.end(), p.trip) - ids_.begin());
}

void Schedule::load(const Snapshot& in) {
  clear();
  // Holds and what makes pools come first: the books of the others look at them.
  const auto first = [&](const Placed& p) {
    return p.job.kind != JobKind::batch || project_.routes[static_cast<std::size_t>(p.job.what)].source->is_hold;
  };
  std::vector<int> id_of(in.placed.size());
  for (const bool want : {true, false})
    for (std::size_t i = 0; i < in.placed.size(); ++i) {
      if (first(in.placed[i]) != want) continue;
      const int id = id_of[i] = free_id();
      placed_[static_cast<std::size_t>(id)] = in.placed[i];
    }
  for (const bool stage_less : {true, false})
    for (std::size_t i = 0; i < in.placed.size(); ++i)
      if ((in.placed[i].job.kind == JobKind::hold) == stage_less && first(in.placed[i])) note(id_of[i]);
  for (std::size_t i = 0; i < in.placed.size(); ++i)
    if (!first(in.placed[i])) note(id_of[i]);
  purchases_ = in.purchases;
  for (Purchase& p : purchases_) p.trip = id_of[static_cast<std::size_t>(p.trip)];
  tidy();
}

Time Schedule::probe(const Job& job, const Relaxed& relaxed) {
  const Mark before = mark();
  board_.relaxed = relaxed;
  const int id = insert(job);
  const Time start = id < 0 ? kNever : placed(id).start;
  board_.relaxed = {};
  rollback(before);
  return start;
}

}  // namespace stillroom::planning::detail
