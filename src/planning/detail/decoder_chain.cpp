#include "planning/detail/decoder.h"

namespace stillroom::planning::detail {
namespace {

constexpr int kMostTries = 120;  // of moving an earlier stage right for a later one

}  // namespace

Board::Demand Decoder::stage_demand(const StageSpec& spec, const PlacedJob& out) const {
  Board::Demand demand;
  demand.spec = &spec;
  demand.kg = out.kg;
  demand.loads = out.loads;
  demand.minutes = std::max(0.0, spec.duration.at(out.kg, out.loads));
  demand.counts_as_job = spec.attended() && demand.minutes > kOneJobLeast;
  demand.job = static_cast<int>(jobs_.size()) - 1;
  return demand;
}

bool Decoder::place_batch(const Job& job, PlacedJob& out) {
  const RouteSpec& route = project_.routes[static_cast<std::size_t>(job.what)];
  if (route.barred != Barred::no || !gather_parts(job, route, out)) return false;
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
    if (!place_chain(job, route, out, 0)) return false;
    if (out.picks > 0) {
      // Food picked long before it is used fades for nothing: pick later when the start stays as good.
      const Time start = out.start;
      Time picked = 0;
      for (int i = 0; i < out.size; ++i) picked = std::max(picked, out.parts[static_cast<std::size_t>(i)].picked);
      if (start - picked > kDayMinutes) {
        board_.rollback(bought);
        slots_.resize(static_cast<std::size_t>(out.first_slot));
        if (!place_chain(job, route, out, start - kDayMinutes) || out.start > start) {
          board_.rollback(bought);
          slots_.resize(static_cast<std::size_t>(out.first_slot));
          if (!place_chain(job, route, out, 0)) return false;
        }
      }
    }
    if (enough_left(route, out)) {
      settle_parts(route, out);
      take_parts(job, route, out);
      return true;
    }
    board_.rollback(bought);
    slots_.resize(static_cast<std::size_t>(out.first_slot));
    if (out.kg <= 0) return false;
  }
  return false;
}

bool Decoder::place_chain(const Job& job, const RouteSpec& route, PlacedJob& out, Time pick_from) {
  out.picks = out.stages = 0;
  Time lower = std::max(project_.now, grain_up(job.not_before)), picked = 0;
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
  if (!place_picks(out, pick_from, picked)) return false;
  return place_stages(route, out, std::max(lower, picked));
}

bool Decoder::place_picks(PlacedJob& out, Time pick_from, Time& picked) {
  for (int i = 0; i < out.size; ++i) {
    PlacedPart& part = out.parts[static_cast<std::size_t>(i)];
    const LotSpec& lot = project_.lots[static_cast<std::size_t>(part.lot)];
    part.picked = 0;
    if (!lot.standing || part.source != Source::lot) continue;
    Board::Demand demand;
    demand.spec = &lot.pick;
    demand.kg = part.kg;
    demand.minutes = lot.pick.duration.at(part.kg, 1);
    demand.counts_as_job = demand.minutes > kOneJobLeast;
    demand.job = static_cast<int>(jobs_.size()) - 1;
    Board::Slot slot;
    if (pick_from > lot.from) slot = board_.earliest(demand, grain_up(pick_from), lot.pick_by);
    if (!slot.fits() || slot.end > lot.pick_by) slot = board_.earliest(demand, lot.from, lot.pick_by);
    if (!slot.fits() || slot.end > lot.pick_by) return false;
    board_.reserve(demand, slot);
    slots_.push_back(slot);
    ++out.picks;
    part.picked = slot.end;
    part.taken = slot.start;
    picked = std::max(picked, slot.end);
  }
  return true;
}

Time Decoder::accepted_from(const RouteSpec& route, const PlacedJob& out, Time start) const {
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

Time Decoder::hazard_limit(const PlacedJob& out) const {
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

bool Decoder::place_stages(const RouteSpec& route, PlacedJob& out, Time lower) {
  const std::size_t n = route.stages.size();
  if (links_.size() < n) links_.resize(n);
  for (std::size_t i = 0; i < n; ++i) {
    links_[i].demand = stage_demand(route.stages[i], out);
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
        if (route.source->is_hold || !place_beyond(route, out, i)) return false;
        out.stages = static_cast<int>(i);
        break;
      }
    }
    link.mark = board_.mark();
    link.slot = board_.earliest(link.demand, from, project_.horizon - kGrain);
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
      // The stage before came too early: move it right and go on from there.
      if (++tries > kMostTries) return false;
      Link& earlier = links_[i - 1];
      board_.rollback(earlier.mark);
      earlier.lower = earlier.slot.start + std::max(kGrain, link.slot.start - spec.lag_max - earlier.slot.end);
      link.lower = std::max(link.lower, link.slot.start);
      --i;
      continue;
    }
    board_.reserve(link.demand, link.slot);
    out.stages = static_cast<int>(++i);
  }
  out.start = links_[0].slot.start;
  for (int i = 0; i < out.stages; ++i) slots_.push_back(links_[static_cast<std::size_t>(i)].slot);
  for (int i = 0; i < out.size; ++i) {
    PlacedPart& part = out.parts[static_cast<std::size_t>(i)];
    if (part.picked == 0) part.taken = out.start;
  }
  return true;
}

bool Decoder::place_beyond(const RouteSpec& route, const PlacedJob& out, std::size_t from_stage) {
  for (std::size_t i = from_stage; i < route.stages.size(); ++i)
    if (!board_.reserve_beyond(stage_demand(route.stages[i], out))) return false;
  return true;
}

bool Decoder::enough_left(const RouteSpec& route, PlacedJob& out) const {
  double share = 1;
  for (int i = 0; i < out.size; ++i) {
    const PlacedPart& part = out.parts[static_cast<std::size_t>(i)];
    const double left = available(part, part.taken);
    if (left < part.kg) share = std::min(share, left / part.kg);
  }
  if (share >= 1 - 1e-9) return true;
  const double target = out.kg * share;
  out.kg = 0;
  for (int i = 0; i < out.size; ++i) {
    double& kg = out.parts[static_cast<std::size_t>(i)].kg;
    kg = route.seconds.empty() ? std::floor(kg * share * 1000) / 1000 : kg * share;
    out.kg += kg;
  }
  return target <= 0;
}

void Decoder::settle_parts(const RouteSpec& route, PlacedJob& out) const {
  double main_kg = 0, main_quality = 0;
  for (int i = 0; i < out.size; ++i) {
    PlacedPart& part = out.parts[static_cast<std::size_t>(i)];
    part.usable = usable(part, out.start);
    if (!part.main) continue;
    part.quality = route.source->quality[static_cast<std::size_t>(condition(part, out.start))];
    if (part.source == Source::held) part.quality *= held_[static_cast<std::size_t>(part.pool)].quality;
    main_kg += part.kg;
    main_quality += part.kg * part.quality;
  }
  out.amount = 0;
  for (int i = 0; i < out.size; ++i) {
    PlacedPart& part = out.parts[static_cast<std::size_t>(i)];
    if (!part.main) part.quality = main_quality / main_kg;
    out.amount += part.kg * part.quality * part.usable * route.source->yield_kg_per_kg;
  }
}

void Decoder::take_parts(const Job& job, const RouteSpec& route, PlacedJob& out) {
  const bool complete = out.stages == static_cast<int>(route.stages.size());
  const Time end = slots_.back().end;
  for (int i = 0; i < out.size; ++i) {
    PlacedPart& part = out.parts[static_cast<std::size_t>(i)];
    if (part.source == Source::lot) {
      lots_[static_cast<std::size_t>(part.lot)].takes.push_back({part.taken, part.kg});
      leave_room(part.lot, part.taken, part.kg);
    } else if (part.source == Source::held) {
      held_[static_cast<std::size_t>(part.pool)].taken += part.kg;
    } else {
      by_products_[static_cast<std::size_t>(part.pool)].take(part.taken, units_needed(part.kg), board_.log());
    }
    if (!complete || part.source != Source::lot) continue;
    for (const almanac::ByProduct& by : route.source->also_yields)
      for (std::size_t pool = 0; pool < project_.pools.size(); ++pool) {
        const PoolSpec& spec = project_.pools[pool];
        if (spec.source == Source::by_product && spec.lot == part.lot && spec.crop == by.food && spec.form == by.form)
          by_products_[pool].put(end, units_there(part.kg * by.kg_per_kg), board_.log());
      }
  }
  if (!route.source->is_hold) return;
  for (std::size_t pool = 0; pool < project_.pools.size(); ++pool) {
    const PoolSpec& spec = project_.pools[pool];
    if (spec.source != Source::held || spec.lot != out.parts[0].lot || spec.form != route.source->product_form)
      continue;
    const PlacedPart& part = out.parts[0];
    const Fade& fade = lots_[static_cast<std::size_t>(part.lot)].fade;
    HeldPool& held = held_[pool];
    held.active = true;
    held.ready = end;
    held.mass = part.kg * part.usable * route.source->yield_kg_per_kg;
    held.taken = 0;
    held.usable_at_start = part.usable;
    held.quality = part.quality;
    held.fade = {.model = fade.model,
                 .from = end,
                 .age = fade.age_at(out.start - part.picked),
                 .ripeness = fade.ripeness_at(out.start - part.picked),
                 .place = route.hold_place};
    held.fade.settle();
  }
  (void)job;
}

void Decoder::leave_room(int lot, Time at, double kg) {
  const LotSpec& spec = project_.lots[static_cast<std::size_t>(lot)];
  if (spec.standing) return;
  const Fade& fade = lots_[static_cast<std::size_t>(lot)].fade;
  const auto release = [&](int place, Time from, Time to) {
    const PlaceSpec& where = project_.places[static_cast<std::size_t>(place)];
    if (where.room >= 0 && from < to)
      board_.room(where.room).release(from, to, units_there(kg * where.room_per_kg), board_.log());
  };
  if (spec.source->ready <= project_.h.now) release(fade.place, at, fade.moved);
  if (fade.moved != kNever) release(fade.second_place, std::max(at, fade.moved), kNever);
}

}  // namespace stillroom::planning::detail
