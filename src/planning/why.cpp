#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "planning/plan.h"

// Why a lot stands where it stands: every figure is a difference between plans made again, with the same seeds and step
// budget, one thing changed.
namespace stillroom::planning {
namespace {

constexpr int kSeeds = 3;

/// Totals of plans made with a few seeds.
struct Solved {
  std::vector<double> totals;
  Plan best;
};

Solved solve(const Household& h, const PlanOptions& options) {
  Solved s;
  for (int i = 0; i < kSeeds; ++i) {
    PlanOptions one = options;
    one.seed = options.seed + static_cast<std::uint64_t>(i);
    one.on_better = nullptr;
    auto plan = make_plan(h, one);
    if (!plan) continue;
    s.totals.push_back(plan->terms.total());
    if (s.totals.size() == 1 || plan->terms.total() > s.best.terms.total()) s.best = std::move(*plan);
  }
  return s;
}

struct Difference {
  double mean = 0, noise = 0;
};

/// Seed by seed, so that what both share drops out; the noise is the spread of the differences over its root of n.
Difference less(const Solved& base, const Solved& other) {
  const std::size_t n = std::min(base.totals.size(), other.totals.size());
  if (n == 0) return {};
  std::vector<double> d(n);
  for (std::size_t i = 0; i < n; ++i) d[i] = base.totals[i] - other.totals[i];
  const double mean = std::accumulate(d.begin(), d.end(), 0.0) / static_cast<double>(n);
  double squares = 0;
  for (const double x : d) squares += (x - mean) * (x - mean);
  return {mean, n > 1 ? std::sqrt(squares / static_cast<double>(n - 1) / static_cast<double>(n)) : 0.0};
}

Lot* find(Household& h, const std::string& id) {
  const auto it = std::find_if(h.lots.begin(), h.lots.end(), [&](const Lot& l) { return l.id == id; });
  return it == h.lots.end() ? nullptr : &*it;
}

double temperature_of(const Household& h, const std::string& place) {
  for (const HoldPlace& p : h.places) {
    if (p.key == place) return p.temp_c;
  }
  return 20.0;
}

/// The same household, the lot not to be touched for so many days, fading meanwhile where it lies.
Household waiting(const Household& h, const std::string& id, int days) {
  Household later = h;
  Lot& lot = *find(later, id);
  const Minute wait = days * 1440;
  if (lot.pick_by == 0 && lot.model) {
    lot.belief = keeping::advance(*lot.model, lot.belief, measure::days(days),
                                  measure::Temperature::celsius(temperature_of(h, lot.place)));
  }
  lot.ready = std::max(lot.ready, h.now) + wait;
  return later;
}

/// One thing more of whatever might bind, in words.
struct Probe {
  std::string words;     ///< "two more hours of a grown-up's time a day"
  std::string short_of;  ///< "hands"
  Household household;
};

std::vector<Probe> probes_of(const Household& h) {
  std::vector<Probe> probes;
  const auto grown = std::find_if(h.hands.begin(), h.hands.end(), [](const Hand& x) { return x.age >= 18; });
  if (grown != h.hands.end()) {
    Probe p{"one more grown-up on the days ahead", "hands", h};
    Hand helper = *grown;
    helper.key = "helper";
    helper.name = "a helper";
    p.household.hands.push_back(std::move(helper));
    probes.push_back(std::move(p));
  }
  for (std::size_t i = 0; i < h.equipment.size(); ++i) {
    const std::string& key = h.equipment[i].key;
    if (key != "boiling_water_canner" && key != "pressure_canner" && key != "dryer_tray" && key != "burner" &&
        key != "slow_cooker")
      continue;
    std::string name = key;
    std::replace(name.begin(), name.end(), '_', ' ');
    Probe p{"one more " + name, "the " + name, h};
    p.household.equipment[i].count += key == "dryer_tray" ? 6 : 1;
    probes.push_back(std::move(p));
  }
  bool jars = false;
  Probe stock{"a box of jars and lids", "jars and lids", h};
  for (StockLevel& level : stock.household.stock) {
    if (!level.item.starts_with("jar") && level.item != "lid") continue;
    level.amount += 24;
    jars = true;
  }
  if (jars) probes.push_back(std::move(stock));
  for (std::size_t i = 0; i < h.rooms.size(); ++i) {
    if (!h.rooms[i].room.starts_with("freezer")) continue;
    Probe p{"more freezer room", "freezer room", h};
    for (RoomLevel& room : p.household.rooms) room.capacity *= room.room.starts_with("freezer") ? 1.5 : 1.0;
    probes.push_back(std::move(p));
    break;
  }
  return probes;
}

const LotOutlook* outlook_of(const Plan& plan, const std::string& lot) {
  const auto it = std::find_if(plan.lots.begin(), plan.lots.end(), [&](const auto& o) { return o.lot == lot; });
  return it == plan.lots.end() ? nullptr : &*it;
}

std::string route_name(const Household& h, const std::string& key) {
  for (const almanac::Route& r : h.routes) {
    if (r.key == key) return r.name;
  }
  return key;
}

/// The route most of the lot goes by; empty when none.
std::string main_route(const Plan& plan, const std::string& lot) {
  std::string route;
  double most = 0;
  for (const PlannedBatch& b : plan.batches) {
    for (const auto& part : b.parts) {
      if (part.lot != lot || part.kg <= most) continue;
      most = part.kg;
      route = b.route;
    }
  }
  return route;
}

void add_waiting(const Household& h, const PlanOptions& options, const Solved& base, Why& why) {
  for (int days = 1; days <= 3 && days < h.days; ++days) {
    const Difference d = less(base, solve(waiting(h, why.lot, days), options));
    why.waiting.push_back({days, std::max(0.0, d.mean), d.noise});
  }
}

void add_binding(const Household& h, const PlanOptions& options, const Solved& base, const LotOutlook& outlook,
                 Why& why) {
  const bool let_go = outlook.kg_let_go > 0.05 * outlook.kg;
  double best = 0, saved_most = 0;
  for (const Probe& probe : probes_of(h)) {
    const Solved more = solve(probe.household, options);
    const Difference d = less(more, base);
    if (d.mean > best + d.noise) {
      best = d.mean;
      why.binding = probe.short_of;
    }
    const LotOutlook* then = outlook_of(more.best, why.lot);
    const double saved = then == nullptr ? 0 : outlook.kg_let_go - then->kg_let_go;
    if (let_go && saved > std::max(saved_most, 0.25 * outlook.kg_let_go)) {
      saved_most = saved;
      why.would_save = probe.words;
    }
  }
  if (!why.binding.empty()) {
    why.sentences.push_back(fmt::format(
        "What is shortest now is {}: with more of it the plan would be worth about ${:.0f} more.", why.binding, best));
  }
  if (!why.would_save.empty())
    why.sentences.push_back(fmt::format("With {}, most of what is let go would be saved.", why.would_save));
  if (let_go && why.would_save.empty())
    why.sentences.emplace_back(
        "Nothing tried alone saves it: not another helper, canner, box of jars or freezer room.");
}

void add_next_best(const Household& h, const PlanOptions& options, const Solved& base, const std::string& route,
                   Why& why) {
  Household without = h;
  std::erase_if(without.routes, [&](const almanac::Route& r) { return r.key == route; });
  const Solved other = solve(without, options);
  const std::string second = main_route(other.best, why.lot);
  why.next_best = second.empty() ? "leave it" : route_name(h, second);
  why.next_best_loss = std::max(0.0, less(base, other).mean);
  why.sentences.push_back(
      fmt::format("The next best would be to {}, worth about ${:.2f} less.", why.next_best, why.next_best_loss));
}

}  // namespace

measure::Result<Why> why(const Household& h, const Plan& plan, const std::string& lot, const PlanOptions& options) {
  const LotOutlook* outlook = outlook_of(plan, lot);
  Household copy = h;
  if (outlook == nullptr || find(copy, lot) == nullptr) {
    return measure::refuse("unknown_lot", "This lot is not in the plan.", {"stillroom today lists the lots that are."});
  }
  Why why{.lot = lot, .sentences = {}, .waiting = {}};
  const std::string route = main_route(plan, lot);
  if (!route.empty()) {
    why.sentences.push_back(fmt::format("The plan is to {}: {:.1f} of {:.1f} kg put by.", route_name(h, route),
                                        outlook->kg_put_by, outlook->kg));
  } else if (outlook->kg_let_go > 0.05 * outlook->kg) {
    why.sentences.push_back("The plan lets it go: " +
                            (outlook->let_go_reason.empty() ? "nothing better was found" : outlook->let_go_reason) +
                            ".");
  } else {
    why.sentences.emplace_back("The plan lets it wait: it keeps, and other lots fade faster.");
  }
  const Solved base = solve(h, options);
  add_waiting(h, options, base, why);
  if (!why.waiting.empty()) {
    const Why::Wait& one = why.waiting.front();
    why.sentences.push_back(
        one.cost <= 2 * one.noise + 0.05
            ? std::string("Waiting one day costs next to nothing.")
            : fmt::format("Waiting one day would cost about ${:.2f}, give or take ${:.2f}.", one.cost, one.noise));
  }
  add_binding(h, options, base, *outlook, why);
  if (!route.empty()) add_next_best(h, options, base, route, why);
  return why;
}

}  // namespace stillroom::planning
