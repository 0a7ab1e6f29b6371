#include "planning/outlook.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace stillroom::planning {
namespace {

constexpr double kUsable = 0.5;  // least share a route takes, docs/science/planning_model.md section 3

const almanac::Route* route_of(const Household& h, const std::string& key) {
  const auto it = std::find_if(h.routes.begin(), h.routes.end(), [&](const almanac::Route& r) { return r.key == key; });
  return it == h.routes.end() ? nullptr : &*it;
}

bool serves(const almanac::Route& r, const Lot& lot) {
  const bool crop = lot.crop == r.crop || lot.crop.starts_with(r.crop + "/");
  const bool left_out = std::find(r.not_for.begin(), r.not_for.end(), lot.crop) != r.not_for.end();
  return crop && !left_out && r.accepts_form == lot.form;
}

measure::Temperature place_temp(const Household& h, const std::string& key) {
  for (const HoldPlace& p : h.places) {
    if (p.key == key) return measure::Temperature::celsius(p.temp_c);
  }
  return measure::Temperature::celsius(20);
}

/// USD one kg is worth at full quality by a route: its product's price, else the route's own figure.
double worth_per_kg(const Household& h, const almanac::Route& r) {
  for (const ProductWorth& row : h.worth) {
    if (row.food == r.product_food && (row.form == r.product_form || row.form.empty())) {
      const double open = std::max(0.0, row.need_kg - row.have_kg);
      return row.per_kg * r.yield_kg_per_kg * (open > 0 ? 1.0 : row.second_share);
    }
  }
  return r.worth_per_kg_in;
}

/// The best use of a lot in a state; nothing when no route takes it.
struct BestUse {
  double usd = 0;
  bool any = false;
};
BestUse best_use(const Household& h, const Lot& lot, const keeping::Belief& belief) {
  BestUse best;
  const double share = lot.model ? keeping::usable_share(*lot.model, belief.age) : 1.0;
  const auto condition = static_cast<std::size_t>(keeping::condition_of(belief));
  for (const almanac::Route& r : h.routes) {
    if (r.is_hold || !serves(r, lot) || r.quality[condition] <= 0) continue;
    const bool leaves = r.method == "given away" || r.method == "fed to stock";
    if (share < (leaves ? 0.2 : kUsable)) continue;
    best.any = best.any || !leaves;
    best.usd =
        std::max(best.usd, lot.kg * share * r.quality[condition] * (leaves ? r.worth_per_kg_in : worth_per_kg(h, r)));
  }
  return best;
}

struct Taken {
  double put_by = 0, left = 0;  ///< kg into routes that keep it; kg given away or fed
  std::optional<Minute> first;
  std::string move;
};

void note(Taken& t, Minute at, std::string move) {
  if (t.first && *t.first <= at) return;
  t.first = at;
  t.move = std::move(move);
}

std::map<std::string, Taken> takes_of(const Household& h, const Plan& plan) {
  std::map<std::string, Taken> out;
  for (const PlannedHold& hold : plan.holds) {
    const auto place =
        std::find_if(h.places.begin(), h.places.end(), [&](const HoldPlace& p) { return p.key == hold.place; });
    note(out[hold.lot], hold.from, "Move to the " + (place == h.places.end() ? hold.place : place->name));
  }
  for (const PlannedBatch& batch : plan.batches) {
    const almanac::Route* r = route_of(h, batch.route);
    if (r == nullptr || batch.stages.empty()) continue;
    const bool leaves = r->method == "given away" || r->method == "fed to stock";
    for (const auto& part : batch.parts) {
      Taken& t = out[part.lot];
      const bool from_pool = std::any_of(h.lots.begin(), h.lots.end(),
                                         [&](const Lot& l) { return l.id == part.lot && l.form != r->accepts_form; });
      // What went through a hold first is counted where it entered the hold.
      if (!from_pool) (leaves ? t.left : t.put_by) += part.kg;
      std::string move = r->name;
      if (!move.empty()) move.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(move.front())));
      note(t, batch.stages.front().span.from, move);
    }
  }
  return out;
}

std::string reason_for(const Household& h, const Lot& lot, double hours_left_hazard, bool any_use) {
  if (!any_use) return "no way of keeping it takes it as it is now";
  if (lot.hazard_by && hours_left_hazard <= 0) return "its time out of the cold is over: discard it";
  if (h.hands.empty()) return "nobody is there to do it";
  return "the hands and the kitchen earn more on other lots before it is past use";
}

void read_loss(const Household& h, const Lot& lot, LotOutlook& o) {
  const double horizon_days = h.days;
  if (lot.hazard_by) {
    const double days = std::max(0.0, (*lot.hazard_by - h.now) / 1440.0);
    o.days_left_low = o.days_left = o.days_left_high = days;
    const BestUse now = best_use(h, lot, lot.belief);
    o.loss_kg_per_day = days < 1 ? lot.kg : 0;
    o.cost_of_waiting = days < 1 ? now.usd : now.usd / days;
    return;
  }
  if (!lot.model) {
    o.days_left_low = o.days_left = o.days_left_high = horizon_days;
    return;
  }
  const measure::Temperature temp = place_temp(h, lot.place);
  const keeping::DaysLeft left = keeping::days_left(*lot.model, lot.belief, temp);
  const double until_ready = std::max(0, lot.ready - h.now) / 1440.0;
  o.days_left_low = left.low + until_ready;
  o.days_left = left.likely + until_ready;
  o.days_left_high = left.high + until_ready;
  if (lot.pick_by > 0) {  // still growing: what it loses is its chance to be picked
    o.cost_of_waiting = lot.pick_by - h.now <= 1440 ? best_use(h, lot, lot.belief).usd : 0;
    return;
  }
  const keeping::Belief tomorrow = keeping::advance(*lot.model, lot.belief, measure::days(1), temp);
  o.loss_kg_per_day = lot.kg * std::max(0.0, keeping::usable_share(*lot.model, lot.belief.age) -
                                                 keeping::usable_share(*lot.model, tomorrow.age));
  o.cost_of_waiting = std::max(0.0, best_use(h, lot, lot.belief).usd - best_use(h, lot, tomorrow).usd);
}

LotOutlook outlook_of(const Household& h, const Lot& lot, const Taken& taken) {
  LotOutlook o{.lot = lot.id, .kg = lot.kg};
  read_loss(h, lot, o);
  const Minute end = h.days * 1440, from = std::max(h.now, lot.ready);
  o.kg_put_by = taken.put_by;
  o.kg_eaten = std::min(lot.eaten_kg_per_day * std::max(0, end - from) / 1440.0,
                        std::max(0.0, lot.kg - taken.put_by - taken.left));
  o.next_at = taken.first;
  o.next_move = taken.move;
  const double rest = std::max(0.0, lot.kg - taken.put_by - taken.left - o.kg_eaten);
  const bool fades = o.days_left * 1440 < end - h.now;
  const bool clock_ends = lot.hazard_by && *lot.hazard_by < end;
  const bool unpicked = lot.pick_by > 0 && lot.pick_by < end;
  if (rest > 0.02 * lot.kg && (fades || clock_ends || unpicked)) {
    o.kg_let_go = rest;
    const double clock_hours = lot.hazard_by ? (*lot.hazard_by - h.now) / 60.0 : 1;
    o.let_go_reason = reason_for(h, lot, clock_hours, best_use(h, lot, lot.belief).any);
  }
  if (o.next_move.empty()) o.next_move = o.kg_let_go > 0 ? "Give away" : "Let it wait";
  return o;
}

}  // namespace

void fill_outlooks(const Household& h, Plan& plan) {
  const std::map<std::string, Taken> takes = takes_of(h, plan);
  plan.lots.clear();
  std::map<std::string, double> cost;
  for (const Lot& lot : h.lots) {
    const auto taken = takes.find(lot.id);
    plan.lots.push_back(outlook_of(h, lot, taken == takes.end() ? Taken{} : taken->second));
    cost[lot.id] = plan.lots.back().cost_of_waiting;
  }
  std::stable_sort(plan.lots.begin(), plan.lots.end(),
                   [](const LotOutlook& a, const LotOutlook& b) { return a.cost_of_waiting > b.cost_of_waiting; });
  for (PlannedBatch& batch : plan.batches) {
    double most = 0;
    for (const auto& part : batch.parts) most = std::max(most, cost[part.lot]);
    for (PlacedStage& stage : batch.stages) {
      stage.why =
          most >= 0.05
              ? fmt::format("Waiting costs about ${:.2f} a day, estimated; the batch is worth about ${:.0f}.", most,
                            batch.worth)
              : fmt::format("It keeps; there is time for it now, and the batch is worth about ${:.0f}.", batch.worth);
    }
  }
}

}  // namespace stillroom::planning
