#include "planning/validate.h"

#include <cmath>
#include <set>

namespace stillroom::planning {
namespace {

constexpr int kMostHands = 30;
constexpr std::size_t kMostStages = 18;
constexpr double kMostAmount = 1e6;

class Checks {
 public:
  std::optional<measure::Refusal> first;
  void want(bool holds, const std::string& field, const std::string& wanted) {
    if (holds || first) return;
    first = measure::Refusal{"bad_snapshot", "The planner cannot use " + field + ": " + wanted + ".", {}};
  }
  void amount(double value, const std::string& field) {
    want(std::isfinite(value) && value >= 0 && value <= kMostAmount, field, "a number from 0 to a million is wanted");
  }
  template <class List, class Key>
  void unique(const List& list, Key key, const std::string& field) {
    std::set<std::string> seen;
    for (const auto& item : list)
      want(!key(item).empty() && seen.insert(key(item)).second, field + " \"" + key(item) + "\"",
           "every key must be there and be there once");
  }
};

void check_hands(const Household& h, Checks& checks) {
  checks.want(h.hands.size() <= kMostHands, "hands", "at most 30 people");
  checks.unique(
      h.hands, [](const Hand& p) { return p.key; }, "hand");
  for (const Hand& hand : h.hands) {
    const std::string who = "hand \"" + hand.key + "\"";
    checks.want(hand.usable_share >= 0.1 && hand.usable_share <= 1, who + " usable_share", "0.1 to 1 is wanted");
    checks.want(hand.most_minutes_per_day >= 0 && hand.most_minutes_per_day <= 1440, who + " most_minutes_per_day",
                "0 to 1440 is wanted");
    for (std::size_t i = 0; i < hand.free.size(); ++i)
      checks.want(hand.free[i].from < hand.free[i].to && (i == 0 || hand.free[i - 1].to <= hand.free[i].from),
                  who + " free", "spans must be sorted and disjoint");
  }
}

void check_lots(const Household& h, Checks& checks) {
  checks.unique(
      h.lots, [](const Lot& lot) { return lot.id; }, "lot");
  std::set<std::string> places;
  for (const HoldPlace& place : h.places) places.insert(place.key);
  for (const Lot& lot : h.lots) {
    const std::string which = "lot \"" + lot.id + "\"";
    checks.amount(lot.kg, which + " kg");
    checks.amount(lot.eaten_kg_per_day, which + " eaten_kg_per_day");
    checks.amount(lot.pick_min_per_kg, which + " pick_min_per_kg");
    checks.want(lot.place.empty() || places.contains(lot.place), which + " place \"" + lot.place + "\"",
                "the place must be one of the household's");
    checks.want(std::isfinite(lot.belief.ripeness) && std::isfinite(lot.belief.age), which + " belief",
                "finite numbers are wanted");
    checks.want(lot.pick_by >= 0, which + " pick_by", "0 or a minute of the plan is wanted");
  }
}

void check_routes(const Household& h, Checks& checks) {
  checks.unique(
      h.routes, [](const almanac::Route& r) { return r.key; }, "route");
  for (const almanac::Route& route : h.routes) {
    const std::string which = "route \"" + route.key + "\"";
    checks.want(route.batch_min_kg > 0 && route.batch_max_kg >= route.batch_min_kg, which + " batch size",
                "0 < least <= most is wanted");
    checks.want(route.many_lot_with.size() == route.many_lot_kg.size() && route.many_lot_with.size() <= 7,
                which + " many_lot_kg", "one amount for each of at most seven other crops is wanted");
    for (double kg : route.many_lot_kg) checks.want(kg > 0, which + " many_lot_kg", "amounts above 0 are wanted");
    checks.want(std::isfinite(route.yield_kg_per_kg) && route.yield_kg_per_kg >= 0, which + " yield_kg_per_kg",
                "a number of at least 0 is wanted");
    checks.want(route.stages.size() <= kMostStages, which + " stages", "at most 18 stages");
    for (const almanac::Stage& stage : route.stages) {
      checks.want(stage.nearby_share > 0 && stage.nearby_share <= 1,
                  which + " stage \"" + stage.key + "\" nearby_share", "a share above 0, up to 1, is wanted");
      checks.want(stage.lag_min_min >= 0 && (!stage.lag_max_min || *stage.lag_max_min >= stage.lag_min_min),
                  which + " stage \"" + stage.key + "\" lags", "0 <= least <= most is wanted");
      checks.want(stage.hazard.empty() || keeping::hazard_clock(stage.hazard) != nullptr,
                  which + " stage \"" + stage.key + "\" hazard \"" + stage.hazard + "\"", "no such hazard clock");
    }
  }
}

void check_supplies(const Household& h, Checks& checks) {
  checks.unique(
      h.equipment, [](const EquipmentPiece& e) { return e.key; }, "equipment");
  checks.unique(
      h.stock, [](const StockLevel& s) { return s.item; }, "stock");
  checks.unique(
      h.rooms, [](const RoomLevel& r) { return r.room; }, "room");
  checks.unique(
      h.places, [](const HoldPlace& p) { return p.key; }, "place");
  checks.unique(
      h.other, [](const OtherJob& o) { return o.key; }, "other work");
  for (const EquipmentPiece& e : h.equipment) checks.amount(e.count, "equipment \"" + e.key + "\" count");
  for (const RoomLevel& r : h.rooms) checks.amount(r.capacity, "room \"" + r.room + "\" capacity");
  for (const StockLevel& s : h.stock) {
    checks.amount(s.amount, "stock \"" + s.item + "\" amount");
    checks.amount(s.price, "stock \"" + s.item + "\" price");
    for (const auto& a : s.arriving) checks.amount(a.amount, "stock \"" + s.item + "\" arriving");
    checks.want(!s.can_buy || s.buy_step > 0, "stock \"" + s.item + "\" buy_step", "a number above 0 is wanted");
  }
  for (const ProductWorth& w : h.worth) {
    checks.amount(w.per_kg, "worth of \"" + w.food + "\" per_kg");
    checks.want(w.second_share <= 1 && w.tail_share <= w.second_share && w.tail_share >= 0,
                "worth of \"" + w.food + "\" shares", "1 >= second >= tail >= 0 is wanted");
  }
  for (const OtherJob& o : h.other)
    checks.want(o.minutes > 0 && o.importance >= 0, "other work \"" + o.key + "\"",
                "minutes above 0 and importance of at least 0 are wanted");
}

}  // namespace

std::optional<measure::Refusal> fault_in(const Household& h) {
  Checks checks;
  checks.want(h.days >= 1 && h.days <= 90, "days", "1 to 90 is wanted");
  checks.want(h.now >= 0 && h.now < h.days * 1440, "now", "a minute inside the horizon is wanted");
  checks.amount(h.effort_per_hour, "effort_per_hour");
  checks.amount(h.change_cost, "change_cost");
  checks.amount(h.money_per_week, "money_per_week");
  check_hands(h, checks);
  check_supplies(h, checks);
  check_lots(h, checks);
  check_routes(h, checks);
  return checks.first;
}

}  // namespace stillroom::planning
