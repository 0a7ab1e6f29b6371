#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "planning/check/facts.h"

// Sections 2 to 4 of docs/science/planning_model.md.
namespace stillroom::planning::check {
namespace {

void check_sizes(Facts& f, const BatchFacts& b) {
  const almanac::Route& r = *b.route;
  double kg = 0;
  std::set<const Lot*> seen;
  for (const PartFacts& p : b.parts) {
    kg += p.kg;
    if (!(p.kg > 0)) f.fault(named(b) + ": a part of no mass");
    if (!seen.insert(p.lot).second) f.fault(named(b) + ": lot " + p.lot->id + " appears twice");
  }
  if (std::abs(kg - b.batch->kg_in) > kEps * std::max(1.0, kg)) {
    f.fault(fmt::format("{}: kg_in is {} where its parts add to {}", named(b), b.batch->kg_in, kg));
  }
  if (kg < r.batch_min_kg - kEps || kg > r.batch_max_kg + kEps) {
    f.fault(fmt::format("{}: {} kg is outside {} to {} kg", named(b), kg, r.batch_min_kg, r.batch_max_kg));
  }
  const int loads = r.load_kg > 0 ? std::max(1, static_cast<int>(std::ceil(b.batch->kg_in / r.load_kg - 1e-9))) : 1;
  if (loads != b.batch->loads)
    f.fault(fmt::format("{}: {} loads where {} are needed", named(b), b.batch->loads, loads));
}

void check_crops(Facts& f, const BatchFacts& b) {
  const almanac::Route& r = *b.route;
  if (r.many_lot_with.empty()) {
    for (const PartFacts& p : b.parts) {
      const bool by_product = p.source == Source::by_product;
      if (!by_product && !p.main) f.fault(named(b) + " does not serve " + p.lot->crop);
    }
    return;
  }
  double main = 0;
  std::vector<double> with(r.many_lot_with.size(), 0.0);
  for (const PartFacts& p : b.parts) {
    if (p.main) {
      main += p.kg;
      continue;
    }
    bool fits = false;
    for (std::size_t j = 0; j < with.size() && !fits; ++j) {
      fits = p.lot->crop == r.many_lot_with[j] || p.lot->crop.starts_with(r.many_lot_with[j] + "/");
      if (fits) with[j] += p.kg;
    }
    if (!fits) f.fault(named(b) + ": " + p.lot->crop + " is no part of this recipe");
  }
  if (main <= 0) f.fault(named(b) + ": a recipe without its main crop");
  for (std::size_t j = 0; j < with.size(); ++j) {
    const double wanted = main * r.many_lot_kg[j];
    if (std::abs(with[j] - wanted) > kEps * std::max(1.0, wanted)) {
      f.fault(fmt::format("{}: {} kg of {} where the recipe wants {}", named(b), with[j], r.many_lot_with[j], wanted));
    }
  }
}

void check_hold_batch(Facts& f, const BatchFacts& b) {
  if (!b.route->is_hold) return;
  if (b.parts.size() != 1 || b.parts[0].source != Source::lot)
    f.fault(named(b) + ": a hold takes one part, from the lot itself");
  if (f.hold_place(*b.route) == nullptr) f.fault(named(b) + ": there is no place to hold at");
  if (b.placed_own != b.route->stages.size()) f.fault(named(b) + ": a hold may not run beyond the horizon");
  if (b.batch->stages.back().span.to > f.horizon) f.fault(named(b) + ": a hold may not end beyond the horizon");
  for (const BatchFacts& other : f.batches) {
    const bool same = &other != &b && other.route->is_hold && other.route->product_form == b.route->product_form &&
                      !other.parts.empty() && other.parts[0].lot == b.parts[0].lot;
    if (same) f.fault(named(b) + ": the lot is held in this form twice");
  }
}

/// Does the condition (or the share) hold within 30 minutes either way?
bool accepts_near(const Facts& f, const BatchFacts& b, const PartFacts& p) {
  const double least = p.main ? least_share(*b.route) : 0.5;
  const auto good = [&](const Waiting& w) {
    const bool condition = !p.main || b.route->quality[static_cast<std::size_t>(w.condition)] > 0;
    return condition && w.share >= least - kEps;
  };
  if (p.source == Source::by_product) return b.route->quality[static_cast<std::size_t>(almanac::Condition::firm)] > 0;
  for (const Minute off : {0, -30, 30}) {
    Waiting w;
    if (p.source == Source::held_pool) {
      const BatchFacts* hold = f.hold_of(p.lot->id, b.route->accepts_form);
      w = f.pool_waiting(*hold, std::max(hold->batch->stages.back().span.to, p.begin + off));
    } else {
      w = f.waiting(*p.lot, p.moves_from, std::max(p.moves_from, p.begin + off));
    }
    if (good(w)) return true;
  }
  return false;
}

void check_acceptance(Facts& f, const BatchFacts& b) {
  for (const PartFacts& p : b.parts) {
    if (!accepts_near(f, b, p)) {
      f.fault(
          fmt::format("{}: {} is not accepted as it is when it starts (share {:.3f})", named(b), p.lot->id, p.share));
    }
    if (barred(*b.route, p.lot->facts)) f.fault(named(b) + ": " + p.lot->id + " is barred by what was seen of it");
    if (p.source == Source::held_pool) {
      const BatchFacts* hold = f.hold_of(p.lot->id, b.route->accepts_form);
      if (p.begin < hold->batch->stages.back().span.to) f.fault(named(b) + ": begins before its held pool is ready");
    } else if (p.begin < f.available_from(*p.lot) || p.take < f.available_from(*p.lot)) {
      f.fault(named(b) + ": begins before lot " + p.lot->id + " is in hand");
    }
  }
}

void check_lot_mass(Facts& f, const Lot& lot) {
  struct Take {
    Minute at;
    double kg;
  };
  std::vector<Take> takes;
  for (const BatchFacts& b : f.batches) {
    for (const PartFacts& p : b.parts) {
      if (p.lot == &lot && p.source == Source::lot) takes.push_back({p.take, p.kg});
    }
  }
  std::sort(takes.begin(), takes.end(), [](const Take& a, const Take& b) { return a.at < b.at; });
  const Minute t0 = f.available_from(lot);
  double sum = 0;
  for (const Take& take : takes) {
    sum += take.kg;
    const double eaten = lot.eaten_kg_per_day * (take.at - t0) / 1440.0;
    if (sum + eaten > lot.kg + 1e-5) {
      f.fault(fmt::format("lot {}: {:.4f} kg taken and {:.4f} kg eaten of {:.4f} kg by minute {}", lot.id, sum, eaten,
                          lot.kg, take.at));
      return;
    }
  }
}

void check_held_pools(Facts& f) {
  for (const BatchFacts& hold : f.batches) {
    if (!hold.route->is_hold || hold.parts.size() != 1) continue;
    double taken = 0;
    for (const BatchFacts& b : f.batches) {
      for (const PartFacts& p : b.parts) taken += p.hold == hold.batch ? p.kg : 0;
    }
    const double mass = f.pool_mass(hold);
    if (taken > mass * (1 + 1e-6) + 1e-5)
      f.fault(fmt::format("{}: {:.4f} kg taken of a pool of {:.4f} kg", named(hold), taken, mass));
  }
}

void check_by_products(Facts& f) {
  for (const BatchFacts& b : f.batches) {
    for (const PartFacts& p : b.parts) {
      if (p.source != Source::by_product) continue;
      // All that was added up to this take, less all takes up to it.
      double added = 0, taken = 0;
      for (const BatchFacts& other : f.batches) {
        const bool whole = other.placed_own == other.route->stages.size();
        for (const PartFacts& q : other.parts) {
          if (q.lot != p.lot) continue;
          for (const almanac::ByProduct& made : other.route->also_yields) {
            const bool mine = made.food == b.route->crop && made.form == b.route->accepts_form;
            if (mine && whole && other.batch->stages.back().span.to <= p.take) added += q.kg * made.kg_per_kg;
          }
          const bool same = q.source == Source::by_product && other.route->crop == b.route->crop &&
                            other.route->accepts_form == b.route->accepts_form;
          if (same && q.take <= p.take) taken += q.kg;
        }
      }
      if (taken > added + 1e-5) {
        f.fault(fmt::format("{}: {:.4f} kg of {} {} taken where {:.4f} kg had come out", named(b), taken, b.route->crop,
                            b.route->accepts_form, added));
      }
    }
  }
}

bool uses_heat(const almanac::Stage& s) {
  static const std::set<std::string> kHeat = {
      "burner",      "big_pot", "boiling_water_canner", "pressure_canner", "steam_canner",
      "slow_cooker", "oven",    "dryer_tray",           "smoker"};
  return std::any_of(s.equipment.begin(), s.equipment.end(), [](const auto& e) { return kHeat.contains(e.key); });
}

bool enters_freezer(const almanac::Stage& s) {
  return std::any_of(s.room.begin(), s.room.end(), [](const auto& r) { return r.room.starts_with("freezer"); });
}

void check_hard_clock(Facts& f, const BatchFacts& b) {
  for (const PartFacts& p : b.parts) {
    if (!p.lot->hazard_by) continue;
    if (p.source == Source::held_pool && p.hold != nullptr) {
      const BatchFacts* hold = f.hold_of(p.lot->id, b.route->accepts_form);
      const HoldPlace* place = f.hold_place(*hold->route);
      if (place != nullptr && place->temp_c <= -5) continue;
    }
    const Minute by = *p.lot->hazard_by;
    const auto& stages = b.route->stages;
    const auto placed = [&](std::size_t i) -> const PlacedStage& { return b.batch->stages[b.picks + i]; };
    if (named_leaving(*b.route)) {
      if (placed(0).span.to > by) f.fault(named(b) + ": leaves after the hard clock of " + p.lot->id);
      continue;
    }
    const auto k =
        std::find_if(stages.begin(), stages.end(), [](const auto& s) { return uses_heat(s) || enters_freezer(s); });
    const auto index = static_cast<std::size_t>(k - stages.begin());
    if (k == stages.end()) {
      const bool whole = b.placed_own == stages.size();
      if (!whole || b.batch->stages.back().span.to > by)
        f.fault(named(b) + ": not done by the hard clock of " + p.lot->id);
    } else if (index >= b.placed_own) {
      f.fault(named(b) + ": its heat or cold lies beyond the horizon though " + p.lot->id + " runs on a hard clock");
    } else if (uses_heat(*k) ? placed(index).span.from > by : placed(index).span.to > by) {
      f.fault(named(b) + ": heat or cold comes after the hard clock of " + p.lot->id);
    }
  }
}

void check_moves(Facts& f) {
  for (const PlannedHold& hold : f.plan.holds) {
    const Lot* lot = f.lot(hold.lot);
    const HoldPlace* place = f.place(hold.place);
    if (lot == nullptr || place == nullptr) {
      f.fault("a hold names an unknown lot or place: " + hold.lot + " at " + hold.place);
      continue;
    }
    if (hold.from < f.available_from(*lot)) f.fault("lot " + lot->id + " is moved before it is in hand");
    if (lot->pick_by > 0) f.fault("lot " + lot->id + " is not picked and cannot be moved");
    if (!lot->model) f.fault("lot " + lot->id + " does not fade by a model and is not moved");
    if (place->temp_c < -2) f.fault("lot " + lot->id + " is moved to a freezing place without a stage");
  }
}

}  // namespace

void check_lots(Facts& f) {
  for (const BatchFacts& b : f.batches) {
    check_sizes(f, b);
    check_crops(f, b);
    check_hold_batch(f, b);
    check_acceptance(f, b);
    check_hard_clock(f, b);
  }
  for (const Lot& lot : f.h.lots) check_lot_mass(f, lot);
  check_held_pools(f);
  check_by_products(f);
  check_moves(f);
}

}  // namespace stillroom::planning::check
