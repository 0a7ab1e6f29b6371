#include "planning/detail/schedule.h"

namespace stillroom::planning::detail {
namespace {

constexpr int kMostTries = 120;  // of moving an earlier stage right for a later one

}  // namespace

Board::Demand Schedule::stage_demand(int id, const StageSpec& spec, const Placed& out) const {
  Board::Demand demand;
  demand.spec = &spec;
  demand.kg = out.kg;
  demand.loads = out.loads;
  demand.minutes = std::max(0.0, spec.duration.at(out.kg, out.loads));
  demand.counts_as_job = spec.attended() && demand.minutes > kOneJobLeast;
  demand.job = id;
  return demand;
}

Board::Demand Schedule::pick_demand(int id, const PlacedPart& part) const {
  Board::Demand demand;
  demand.spec = &project_.lots[static_cast<std::size_t>(part.lot)].pick;
  demand.kg = part.kg;
  demand.minutes = demand.spec->duration.at(part.kg, 1);
  demand.counts_as_job = demand.minutes > kOneJobLeast;
  demand.job = id;
  return demand;
}

bool Schedule::place_batch(int id, Placed& out) {
  const RouteSpec& route = project_.routes[static_cast<std::size_t>(out.job.what)];
  if (route.barred != Barred::no || !gather_parts(out.job, route, out)) return false;
  if (route.source->is_hold)
    for (std::size_t pool = 0; pool < held_.size(); ++pool)
      if (held_[pool].active && project_.pools[pool].lot == out.parts[0].lot &&
          project_.pools[pool].form == route.source->product_form)
        return false;
  buy_for(route, out);
  const Board::Mark bought = board_.mark();
  constexpr int kMostSizes = 3;  // each time what is left at the time found was less than hoped
  for (int tries = 0; tries < kMostSizes; ++tries) {
    if (!fit_size(route, out)) return false;
    if (!place_chain(id, route, out, 0)) return false;
    if (out.picks > 0 && pins_.empty()) {
      // Food picked long before it is used fades for nothing: pick later when the start stays as good.
      const Time start = out.start;
      Time picked = 0;
      for (int i = 0; i < out.size; ++i) picked = std::max(picked, out.parts[static_cast<std::size_t>(i)].picked);
      if (start - picked > kDayMinutes) {
        board_.rollback(bought);
        if (!place_chain(id, route, out, start - kDayMinutes) || out.start > start) {
          board_.rollback(bought);
          if (!place_chain(id, route, out, 0)) return false;
        }
      }
    }
    if (enough_left(route, out)) {
      settle_parts(route, out);
      apply_food(out, 1);
      return true;
    }
    board_.rollback(bought);
    if (out.kg <= 0) return false;
  }
  return false;
}

bool Schedule::place_chain(int id, const RouteSpec& route, Placed& out, Time pick_from) {
  out.picks = out.stages = 0;
  Time lower = std::max(project_.now, grain_up(out.job.not_before)), picked = 0;
  for (int i = 0; i < out.size; ++i) {
    PlacedPart& part = out.parts[static_cast<std::size_t>(i)];
    const LotSpec& lot = project_.lots[static_cast<std::size_t>(part.lot)];
    if (part.source == Source::held)
      lower = std::max(lower, grain_up(held_[static_cast<std::size_t>(part.pool)].ready));
    if (part.source == Source::by_product) {
      const Time t = by_products_[static_cast<std::size_t>(part.pool)].earliest_take(lower, units_needed(part.kg));
      if (t == kNever) return false;
      lower = std::max(lower, grain_up(t));
    }
    if (!lot.standing) lower = std::max(lower, lot.from);
  }
  if (!place_picks(id, out, pick_from, picked)) return false;
  return place_stages(id, route, out, std::max(lower, picked));
}

bool Schedule::place_picks(int id, Placed& out, Time pick_from, Time& picked) {
  for (int i = 0; i < out.size; ++i) {
    PlacedPart& part = out.parts[static_cast<std::size_t>(i)];
    const LotSpec& lot = project_.lots[static_cast<std::size_t>(part.lot)];
    part.picked = 0;
    if (!lot.standing || part.source != Source::lot) continue;
    const Board::Demand demand = pick_demand(id, part);
    const auto index = static_cast<std::size_t>(out.picks);
    Board::Slot slot;
    if (pick_from > lot.from) slot = slot_for(demand, index, grain_up(pick_from), lot.pick_by);
    if (!slot.fits() || slot.end > lot.pick_by) slot = slot_for(demand, index, lot.from, lot.pick_by);
    if (!slot.fits() || slot.end > lot.pick_by) return false;
    board_.reserve(demand, slot);
    out.slots[static_cast<std::size_t>(out.picks++)] = slot;
    part.picked = slot.end;
    part.taken = slot.start;
    picked = std::max(picked, slot.end);
  }
  return true;
}

Board::Slot Schedule::slot_for(const Board::Demand& demand, std::size_t index, Time from, Time latest) {
  if (index >= pins_.size()) return board_.earliest(demand, from, latest);
  const Pin& pin = pins_[index];
  return pin.start < from || pin.start > latest ? Board::Slot{} : board_.at(demand, pin.start, pin.hands);
}

Time Schedule::accepted_from(const RouteSpec& route, const Placed& out, Time start) const {
  Time t = start;
  for (int i = 0; i < out.size; ++i) {
    const PlacedPart& part = out.parts[static_cast<std::size_t>(i)];
    if (part.main) {
      int c = condition(part, t);
      if (route.source->quality[static_cast<std::size_t>(c)] <= 0) {
        while (c < almanac::kConditions && route.source->quality[static_cast<std::size_t>(c)] <= 0) ++c;
        if (c == almanac::kConditions || part.source == Source::by_product) return kNever;
        const Fade& fade = part.source == Source::held ? held_[static_cast<std::size_t>(part.pool)].fade
                                                       : lots_[static_cast<std::size_t>(part.lot)].fade;
        const Time reached = fade.reached[static_cast<std::size_t>(c)];
        if (reached == kNever) return kNever;
        t = grain_up(std::max(t + 1, reached + part.picked));
        i = -1;  // the others must do at the later time too
        continue;
      }
    }
    if (usable(part, t) < (part.main ? route.floor : kUsableFloor)) return kNever;
  }
  return t;
}

Time Schedule::hazard_limit(const Placed& out) const {
  Time limit = kNever;
  for (int i = 0; i < out.size; ++i) {
    const PlacedPart& part = out.parts[static_cast<std::size_t>(i)];
    if (part.source == Source::held) {
      const auto place = static_cast<std::size_t>(held_[static_cast<std::size_t>(part.pool)].fade.place);
      if (project_.places[place].temp_c <= kFrozenBelowC) continue;
    }
    limit = std::min(limit, project_.lots[static_cast<std::size_t>(part.lot)].hazard_by);
  }
  return limit;
}

bool Schedule::place_stages(int id, const RouteSpec& route, Placed& out, Time lower) {
  const std::size_t n = route.stages.size();
  if (links_.size() < n) links_.resize(n);
  for (std::size_t i = 0; i < n; ++i) {
    links_[i].demand = stage_demand(id, route.stages[i], out);
    links_[i].lower = i == 0 ? lower : 0;
  }
  const Time hazard = hazard_limit(out);
  const auto critical = static_cast<std::size_t>(route.hazard.stage);
  int tries = 0;
  for (std::size_t i = 0; i < n;) {
    Link& link = links_[i];
    const StageSpec& spec = route.stages[i];
    Time from = link.lower, latest_start = kNever;
    if (i > 0) {
      from = std::max(from, links_[i - 1].slot.end + spec.lag_min);
      if (spec.lag_max != kNever) latest_start = links_[i - 1].slot.end + spec.lag_max;
      if (links_[i - 1].slot.end + spec.lag_min >= project_.horizon) {
        if (hazard != kNever && critical >= i) return false;
        if (route.source->is_hold) return false;
        for (std::size_t later = i; later < n; ++later) {
          const Board::Demand demand = stage_demand(id, route.stages[later], out);
          if (!board_.fits_beyond(demand)) return false;
          board_.apply_beyond(demand, 1);
        }
        out.stages = static_cast<int>(i);
        break;
      }
    }
    link.mark = board_.mark();
    link.slot = slot_for(link.demand, static_cast<std::size_t>(out.picks) + i, from, project_.horizon - kGrain);
    if (!link.slot.fits()) return false;
    if (hazard != kNever && critical == i && (route.hazard.by_start ? link.slot.start : link.slot.end) > hazard)
      return false;
    if (i == 0) {
      const Time accepted = accepted_from(route, out, link.slot.start);
      if (accepted == kNever) return false;
      if (accepted > link.slot.start) {
        link.lower = accepted;
        continue;
      }
    }
    if (link.slot.start > latest_start) {
      // The stages before came too early: each goes right as far as it at least must, and on from the first of them.
      if (++tries > kMostTries) return false;
      Time needed = link.lower = std::max(link.lower, link.slot.start);
      for (; i > 0; --i) {
        Link& earlier = links_[i - 1];
        const Time lag_max = route.stages[i].lag_max;
        if (lag_max == kNever || earlier.slot.end >= needed - lag_max) break;
        needed = earlier.lower = earlier.slot.start + std::max(kGrain, needed - lag_max - earlier.slot.end);
      }
      board_.rollback(links_[i].mark);
      continue;
    }
    board_.reserve(link.demand, link.slot);
    out.stages = static_cast<int>(++i);
  }
  out.start = links_[0].slot.start;
  for (int i = 0; i < out.stages; ++i)
    out.slots[static_cast<std::size_t>(out.picks) + static_cast<std::size_t>(i)] =
        links_[static_cast<std::size_t>(i)].slot;
  for (int i = 0; i < out.size; ++i) {
    PlacedPart& part = out.parts[static_cast<std::size_t>(i)];
    if (part.picked == 0) part.taken = out.start;
  }
  return true;
}

}  // namespace stillroom::planning::detail
