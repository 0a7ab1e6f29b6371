#include "planning/check/facts.h"

#include <fmt/format.h>

#include <algorithm>

namespace stillroom::planning::check {
namespace {

bool at_or_under(const std::string& crop, const std::string& ancestor) {
  return crop == ancestor || crop.starts_with(ancestor + "/");
}

measure::Temperature temp_of(const HoldPlace* place) {
  return measure::Temperature::celsius(place == nullptr ? 20.0 : place->temp_c);
}

constexpr double kFrozenC = -5;

/// Moves a belief through one stay; nothing moves where it is frozen.
void stay(const keeping::KeepingModel& model, keeping::Belief& belief, double& age, Minute minutes,
          measure::Temperature temp) {
  if (minutes <= 0 || temp.in_celsius() <= kFrozenC) return;
  age += minutes / 1440.0 * keeping::ageing_per_day(model, temp);
  belief = keeping::advance(model, belief, measure::minutes(minutes), temp);
}

}  // namespace

bool serves(const almanac::Route& route, const std::string& crop) {
  if (!at_or_under(crop, route.crop)) return false;
  return std::none_of(route.not_for.begin(), route.not_for.end(),
                      [&](const auto& bad) { return at_or_under(crop, bad); });
}

bool named_leaving(const almanac::Route& route) {
  return route.method == "given away" || route.method == "fed to stock" || route.method == "composted";
}

double least_share(const almanac::Route& route) {
  const bool poor = route.method == "fed to stock" || route.method == "composted";
  return route.accepts_decay_trimmed || poor ? 0.2 : 0.5;
}

bool barred(const almanac::Route& route, const std::vector<std::string>& facts) {
  const bool canned = route.method == "canned" || route.process.has_value();
  for (const std::string& fact : facts) {
    if (fact == "mould") return true;
    if (fact == "decay") {
      if (!route.accepts_decay_trimmed) return true;
    } else if (fact == "frozen_raw") {
      const bool hot = route.process && route.process->style_of_pack == "hot";
      const bool cooked = route.method == "juiced" || route.method == "jellied" || route.method == "simmered to broth";
      if (!hot && !cooked && !named_leaving(route) && route.accepts_form != "frozen_whole") return true;
    } else if (canned) {
      return true;
    }
  }
  return false;
}

std::string named(const BatchFacts& b) { return "batch " + b.batch->key + " (" + b.batch->route + ")"; }

Facts::Facts(const Household& household, const Plan& the_plan)
    : h(household), plan(the_plan), horizon(household.days * kDay) {
  batches.reserve(plan.batches.size());
  for (const PlannedBatch& batch : plan.batches) read_batch(batch);
  read_parts();
}

const Lot* Facts::lot(const std::string& id) const {
  const auto it = std::find_if(h.lots.begin(), h.lots.end(), [&](const Lot& l) { return l.id == id; });
  return it == h.lots.end() ? nullptr : &*it;
}

const Hand* Facts::hand(const std::string& key) const {
  const auto it = std::find_if(h.hands.begin(), h.hands.end(), [&](const Hand& x) { return x.key == key; });
  return it == h.hands.end() ? nullptr : &*it;
}

const HoldPlace* Facts::place(const std::string& key) const {
  const auto it = std::find_if(h.places.begin(), h.places.end(), [&](const HoldPlace& p) { return p.key == key; });
  return it == h.places.end() ? nullptr : &*it;
}

const HoldPlace* Facts::hold_place(const almanac::Route& route) const {
  const auto it = std::find_if(h.places.begin(), h.places.end(), [&](const HoldPlace& p) {
    return p.kind == route.hold_place || p.key == route.hold_place;
  });
  return it == h.places.end() ? nullptr : &*it;
}

Minute Facts::available_from(const Lot& l) const { return std::max(h.now, l.ready); }

Waiting Facts::waiting(const Lot& l, Minute from, Minute at) const {
  if (!l.model) return {1.0, keeping::condition_of(l.belief)};
  std::vector<const PlannedHold*> moves;
  for (const PlannedHold& hold : plan.holds) {
    if (hold.lot == l.id) moves.push_back(&hold);
  }
  std::stable_sort(moves.begin(), moves.end(), [](const auto* a, const auto* b) { return a->from < b->from; });
  keeping::Belief belief = l.belief;
  double age = l.belief.age;
  Minute t = from;
  measure::Temperature temp = temp_of(l.place.empty() ? nullptr : place(l.place));
  for (const PlannedHold* move : moves) {
    if (move->from >= at) break;
    stay(*l.model, belief, age, move->from - t, temp);
    t = std::max(t, move->from);
    temp = temp_of(place(move->place));
  }
  stay(*l.model, belief, age, at - t, temp);
  return {keeping::usable_share(*l.model, age), keeping::condition_of(belief)};
}

Waiting Facts::pool_waiting(const BatchFacts& hold, Minute at) const {
  const PartFacts& part = hold.parts.front();
  const Lot& l = *part.lot;
  Waiting w{1.0, part.condition.value_or(almanac::Condition::firm)};
  if (!l.model) return w;
  // Rebuilt from the lot: as it was when the hold began, then standing still, then at the hold's place.
  const Minute from = l.pick_by > 0 ? hold.batch->stages[hold.picks - 1].span.to : available_from(l);
  keeping::Belief belief = l.belief;
  double age = l.belief.age;
  {
    std::vector<const PlannedHold*> moves;
    for (const PlannedHold& move : plan.holds) {
      if (move.lot == l.id) moves.push_back(&move);
    }
    std::stable_sort(moves.begin(), moves.end(), [](const auto* a, const auto* b) { return a->from < b->from; });
    Minute t = from;
    measure::Temperature temp = temp_of(l.place.empty() ? nullptr : place(l.place));
    for (const PlannedHold* move : moves) {
      if (move->from >= part.begin) break;
      stay(*l.model, belief, age, move->from - t, temp);
      t = std::max(t, move->from);
      temp = temp_of(place(move->place));
    }
    stay(*l.model, belief, age, part.begin - t, temp);
  }
  const double at_start = keeping::usable_share(*l.model, age);
  const Minute ready = hold.batch->stages.back().span.to;
  stay(*l.model, belief, age, at - ready, temp_of(hold_place(*hold.route)));
  w.share = at_start <= 0 ? 0 : keeping::usable_share(*l.model, age) / at_start;
  w.condition = keeping::condition_of(belief);
  return w;
}

double Facts::pool_mass(const BatchFacts& hold) const {
  const PartFacts& part = hold.parts.front();
  return part.kg * part.share * hold.route->yield_kg_per_kg;
}

const BatchFacts* Facts::hold_of(const std::string& lot_id, const std::string& form) const {
  for (const BatchFacts& b : batches) {
    if (b.route != nullptr && b.route->is_hold && b.route->product_form == form && b.parts.size() == 1 &&
        b.parts[0].lot != nullptr && b.parts[0].lot->id == lot_id) {
      return &b;
    }
  }
  return nullptr;
}

void Facts::read_batch(const PlannedBatch& batch) {
  BatchFacts b{.batch = &batch, .route = nullptr, .parts = {}};
  const auto route =
      std::find_if(h.routes.begin(), h.routes.end(), [&](const auto& r) { return r.key == batch.route; });
  if (route == h.routes.end()) {
    fault("batch " + batch.key + " runs an unknown route " + batch.route);
    return;
  }
  b.route = &*route;
  std::size_t standing = 0;
  for (const PlannedBatch::Part& part : batch.parts) {
    PartFacts p{.lot = lot(part.lot), .kg = part.kg};
    if (p.lot == nullptr) {
      fault(named(b) + " takes from an unknown lot " + part.lot);
      return;
    }
    standing += p.lot->pick_by > 0 ? 1 : 0;
    p.main = serves(*b.route, p.lot->crop);
    b.parts.push_back(p);
  }
  // A part that comes from a pool of a standing lot is not picked again.
  for (const PartFacts& p : b.parts) {
    if (p.lot->pick_by > 0 && p.main && b.route->accepts_form != p.lot->form) --standing;
  }
  b.picks = standing;
  if (b.parts.empty() || batch.stages.size() <= b.picks) {
    fault(named(b) + " has no part or no stage of its own");
    return;
  }
  b.placed_own = batch.stages.size() - b.picks;
  for (PartFacts& p : b.parts) {
    p.begin = batch.stages[b.picks].span.from;
    p.take = p.begin;
  }
  batches.push_back(std::move(b));
}

void Facts::read_parts() {
  // Holds first: what other batches take may come out of them.
  for (const bool holds : {true, false}) {
    for (BatchFacts& b : batches) {
      if (b.route->is_hold != holds) continue;
      std::size_t pick = 0;
      for (PartFacts& p : b.parts) {
        const bool second = !p.main && !b.route->many_lot_with.empty();
        const bool own = second || b.route->accepts_form == p.lot->form;
        if (own) {
          p.source = Source::lot;
          Minute from = available_from(*p.lot);
          if (p.lot->pick_by > 0) {
            p.take = b.batch->stages[pick].span.from;
            from = b.batch->stages[pick].span.to;
            ++pick;
          }
          p.moves_from = from;
          const Waiting w = waiting(*p.lot, from, p.begin);
          p.share = w.share;
          p.condition = w.condition;
          p.quality = b.route->quality[static_cast<std::size_t>(w.condition)];
          continue;
        }
        if (const BatchFacts* hold = hold_of(p.lot->id, b.route->accepts_form); hold != nullptr && hold != &b) {
          p.source = Source::held_pool;
          p.hold = hold->batch;
          const Waiting w = pool_waiting(*hold, p.begin);
          p.share = w.share;
          p.condition = w.condition;
          p.pool_quality = hold->parts[0].quality;
          p.quality = b.route->quality[static_cast<std::size_t>(w.condition)];
        } else {
          // A by-product pool is named by the lot it came from, whatever crop that was.
          p.source = Source::by_product;
          p.main = true;
          p.condition = almanac::Condition::firm;
          p.quality = b.route->quality[static_cast<std::size_t>(almanac::Condition::firm)];
        }
      }
    }
  }
}

}  // namespace stillroom::planning::check
