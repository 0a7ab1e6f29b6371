#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "planning/check/facts.h"

// Section 7 of docs/science/planning_model.md: equipment, stock, room and shopping.
namespace stillroom::planning::check {
namespace {

/// Something that changes an amount at a minute.
struct Change {
  Minute at = 0;
  double by = 0;
};

void check_equipment(Facts& f) {
  std::map<std::string, double> owned;
  for (const EquipmentPiece& e : f.h.equipment) owned[e.key] += e.count;
  struct Use {
    Span span;
    double amount;
    bool planned;
    std::string what;
  };
  std::map<std::string, std::vector<Use>> uses;
  for (const Committed& c : f.h.committed) {
    for (const almanac::EquipmentUse& e : c.equipment) uses[e.key].push_back({c.span, e.amount.fixed, false, c.name});
  }
  for (const BatchFacts& b : f.batches) {
    for (std::size_t i = 0; i < b.placed_own && i < b.route->stages.size(); ++i) {
      const PlacedStage& s = b.batch->stages[b.picks + i];
      std::map<std::string, double> said, wanted;
      for (const almanac::EquipmentUse& e : s.equipment) said[e.key] += e.amount.fixed;
      for (const almanac::EquipmentUse& e : b.route->stages[i].equipment) {
        const double amount = e.amount.at(b.batch->kg_in, b.batch->loads);
        wanted[e.key] += amount;
        if (amount > 0) uses[e.key].push_back({s.span, amount, true, named(b) + ", " + s.stage});
      }
      for (const auto& [key, amount] : wanted) {
        if (std::abs(said[key] - amount) > kEps * std::max(1.0, amount))
          f.fault(fmt::format("{}, {}: says {} {} where it takes {}", named(b), s.stage, said[key], key, amount));
      }
    }
  }
  for (const auto& [key, list] : uses) {
    for (const Use& at : list) {
      double sum = 0;
      bool planned = false;
      for (const Use& other : list) {
        if (other.span.from > at.span.from || other.span.to <= at.span.from) continue;
        sum += other.amount;
        planned = planned || other.planned;
      }
      if (planned && sum > owned[key] + kEps) {
        f.fault(fmt::format("{:.3f} of {} in use at minute {} where there are {} ({})", sum, key, at.span.from,
                            owned[key], at.what));
        break;
      }
    }
  }
}

/// Every taking of a stock item or filling of a room by the plan's batches; what lies beyond the horizon counts at it.
template <class Uses>
void each_use(const Facts& f, const Uses& uses, const auto& take) {
  for (const BatchFacts& b : f.batches) {
    for (std::size_t i = 0; i < b.route->stages.size(); ++i) {
      const bool placed = i < b.placed_own;
      const Span span = placed ? b.batch->stages[b.picks + i].span : Span{f.horizon, f.horizon};
      for (const auto& use : b.route->stages[i].*uses)
        take(use, span, use.amount.at(b.batch->kg_in, b.batch->loads), placed);
    }
  }
}

void check_stock(Facts& f) {
  for (const StockLevel& level : f.h.stock) {
    std::vector<Change> changes;
    for (const auto& a : level.arriving) changes.push_back({a.at, a.amount});
    for (const Plan::Trip& trip : f.plan.trips) {
      for (const auto& bought : trip.bought) {
        if (bought.item == level.item) changes.push_back({trip.span.to, bought.amount});
      }
    }
    each_use(f, &almanac::Stage::stock, [&](const almanac::StockUse& use, const Span& span, double amount, bool) {
      if (use.item == level.item) changes.push_back({span.from, -amount});
    });
    std::sort(changes.begin(), changes.end(),
              [](const Change& a, const Change& b) { return a.at != b.at ? a.at < b.at : a.by > b.by; });
    double left = level.amount;
    for (const Change& c : changes) {
      left += c.by;
      if (left < -1e-5 && c.by < 0) {
        f.fault(fmt::format("{} runs short by {:.4f} at minute {}", level.item, -left, c.at));
        break;
      }
    }
  }
}

/// Mass of a lot itself over time, and which room it is in.
void add_lots(const Facts& f, const std::string& room, double factor, std::vector<Change>& changes) {
  for (const Lot& lot : f.h.lots) {
    if (lot.pick_by > 0) continue;
    struct Move {
      Minute at;
      std::string room;
    };
    const auto room_of = [&](const std::string& key) {
      const HoldPlace* place = f.place(key);
      return place == nullptr ? std::string() : place->room;
    };
    // A lot still to come counts in no room until a hold puts it there.
    std::vector<Move> moves = {{f.h.now, lot.ready <= f.h.now ? room_of(lot.place) : std::string()}};
    std::vector<const PlannedHold*> holds;
    for (const PlannedHold& hold : f.plan.holds) {
      if (hold.lot == lot.id) holds.push_back(&hold);
    }
    std::stable_sort(holds.begin(), holds.end(), [](const auto* a, const auto* b) { return a->from < b->from; });
    for (const PlannedHold* hold : holds) moves.push_back({hold->from, room_of(hold->place)});
    std::vector<Change> takes;
    for (const BatchFacts& b : f.batches) {
      for (const PartFacts& p : b.parts) {
        if (p.lot == &lot && p.source == Source::lot) takes.push_back({p.take, p.kg});
      }
    }
    const auto mass_at = [&](Minute t) {
      double kg = lot.kg;
      for (const Change& take : takes) kg -= take.at <= t ? take.by : 0;
      return kg;
    };
    const auto in_room = [&](Minute t) {
      const Move* where = nullptr;
      for (const Move& m : moves) where = m.at <= t ? &m : where;
      return where != nullptr && where->room == room;
    };
    // The change from now on: what comes in, goes out, or is taken while it is there.
    double before = in_room(f.h.now) ? lot.kg : 0.0;
    std::vector<Minute> events;
    for (const Move& m : moves) events.push_back(m.at);
    for (const Change& t : takes) events.push_back(t.at);
    std::sort(events.begin(), events.end());
    for (const Minute t : events) {
      const double after = in_room(t) ? mass_at(t) : 0.0;
      if (std::abs(after - before) > 1e-12) changes.push_back({t, factor * (after - before)});
      before = after;
    }
  }
}

void check_rooms(Facts& f) {
  for (const RoomLevel& room : f.h.rooms) {
    const bool daily = room.room.ends_with("_per_day");
    std::vector<Change> changes;
    each_use(f, &almanac::Stage::room, [&](const almanac::RoomUse& use, const Span& span, double amount, bool placed) {
      if (use.room != room.room) return;
      if (daily && (!placed || span.to > f.horizon)) return;
      changes.push_back({placed ? std::min(span.to, f.horizon) : f.horizon, amount});
    });
    if (daily) {
      std::map<int, double> by_day;
      for (const Change& c : changes) by_day[c.at / kDay] += c.by;
      for (const auto& [day, sum] : by_day) {
        if (sum > room.capacity + 1e-5)
          f.fault(fmt::format("{}: {:.3f} on day {} where {} fit", room.room, sum, day, room.capacity));
      }
      continue;
    }
    add_lots(f, room.room, room.room.ends_with("_l") ? 1.6 : 1.0, changes);
    std::sort(changes.begin(), changes.end(),
              [](const Change& a, const Change& b) { return a.at != b.at ? a.at < b.at : a.by < b.by; });
    double taken = 0;
    for (const Change& c : changes) {
      if (c.at > f.horizon) break;
      taken += c.by;
      if (c.by > 0 && taken > room.capacity + 1e-5) {
        f.fault(fmt::format("{}: {:.3f} taken by minute {} where {} are free", room.room, taken, c.at, room.capacity));
        break;
      }
    }
  }
}

void check_shopping(Facts& f) {
  std::map<int, double> by_week;
  for (const Plan::Trip& trip : f.plan.trips) {
    for (const auto& bought : trip.bought) {
      const auto level =
          std::find_if(f.h.stock.begin(), f.h.stock.end(), [&](const StockLevel& s) { return s.item == bought.item; });
      if (level == f.h.stock.end() || !level->can_buy) {
        f.fault(bought.item + " cannot be bought");
        continue;
      }
      const double steps = bought.amount / level->buy_step;
      if (bought.amount <= 0 || std::abs(steps - std::round(steps)) > 1e-6)
        f.fault(fmt::format("{} {} is not a whole number of packages", bought.amount, bought.item));
      if (std::abs(bought.cost - bought.amount * level->price) > 0.01)
        f.fault(bought.item + ": another cost than its price");
      by_week[trip.span.from / (7 * kDay)] += bought.cost;
    }
  }
  if (f.h.money_per_week <= 0) return;
  for (const auto& [week, cost] : by_week) {
    if (cost > f.h.money_per_week + 0.01)
      f.fault(fmt::format("{:.2f} USD spent in week {} where {:.2f} are there", cost, week + 1, f.h.money_per_week));
  }
}

}  // namespace

void check_stores(Facts& f) {
  check_equipment(f);
  check_stock(f);
  check_rooms(f);
  check_shopping(f);
}

}  // namespace stillroom::planning::check
