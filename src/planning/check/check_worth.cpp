#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "planning/check/calendar.h"
#include "planning/check/facts.h"

// Section 9 of docs/science/planning_model.md: what the plan says it is worth, worked out again.
namespace stillroom::planning::check {
namespace {

constexpr double kMoney = 0.01;

/// W of one worth row.
double worth_of(const ProductWorth& row, double amount) {
  const double t1 = std::max(0.0, row.need_kg - row.have_kg);
  const double t2 = std::max(t1, 1.5 * row.need_kg - row.have_kg);
  return row.per_kg * (std::min(amount, t1) + row.second_share * std::min(std::max(amount - t1, 0.0), t2 - t1) +
                       row.tail_share * std::max(amount - t2, 0.0));
}

/// Slope of W / per_kg to the right of `amount`.
double slope_right(const ProductWorth& row, double amount) {
  const double t1 = std::max(0.0, row.need_kg - row.have_kg);
  const double t2 = std::max(t1, 1.5 * row.need_kg - row.have_kg);
  return amount < t1 ? 1.0 : amount < t2 ? row.second_share : row.tail_share;
}

const ProductWorth* row_of(const Household& h, const almanac::Route& r) {
  for (const ProductWorth& row : h.worth) {
    if (row.food == r.product_food && row.form == r.product_form) return &row;
  }
  if (named_leaving(r)) return nullptr;
  for (const ProductWorth& row : h.worth) {
    if (row.food == r.product_food && row.form.empty()) return &row;
  }
  return nullptr;
}

class WorthCheck {
 public:
  explicit WorthCheck(Facts& f) : f_(f), h_(f.h) {}

  void run() {
    ObjectiveTerms t;
    t.put_by = put_by();
    t.still_sound = still_sound();
    for (const BatchFacts& b : f_.batches) {
      t.materials += b.batch->kg_in * b.route->materials_cost_per_kg;
      t.energy += b.batch->kg_in * b.route->energy_cost_per_kg;
    }
    t.effort = effort();
    t.lateness = lateness();
    t.change = change();
    const ObjectiveTerms& said = f_.plan.terms;
    compare("put by", said.put_by, t.put_by);
    compare("still sound", said.still_sound, t.still_sound);
    compare("materials", said.materials, t.materials);
    compare("energy", said.energy, t.energy);
    compare("effort", said.effort, t.effort);
    compare("lateness", said.lateness, t.lateness);
    compare("change", said.change, t.change);
  }

 private:
  void compare(const char* term, double said, double found) {
    if (std::abs(said - found) > kMoney + 1e-5 * std::abs(found))
      f_.fault(fmt::format("{}: the plan says {:.4f} USD, it is {:.4f}", term, said, found));
  }

  double put_by() {
    double no_row = 0;
    for (const BatchFacts& b : f_.batches) {
      const almanac::Route& r = *b.route;
      double a = 0, out = 0, main_kg = 0, main_quality = 0;
      for (const PartFacts& p : b.parts) {
        out += p.kg * p.share * r.yield_kg_per_kg;
        if (!p.main) continue;
        main_kg += p.kg;
        main_quality += p.kg * p.quality * p.pool_quality;
      }
      const double q_main = main_kg > 0 ? main_quality / main_kg : 0;
      for (const PartFacts& p : b.parts) {
        const double q = p.main ? p.quality * p.pool_quality : q_main;
        a += p.kg * q * p.share * r.yield_kg_per_kg;
      }
      const ProductWorth* row = r.is_hold ? nullptr : row_of(h_, r);
      const double own = r.yield_kg_per_kg > 0 ? r.worth_per_kg_in * a / r.yield_kg_per_kg : 0;
      check_fields(b, a, out, r.is_hold ? 0 : row != nullptr ? row->per_kg * a : own);
      if (r.is_hold) continue;
      if (row != nullptr) {
        amount_[row] += a;
      } else {
        no_row += own;
      }
    }
    double sum = no_row;
    for (const auto& [row, amount] : amount_) sum += worth_of(*row, amount);
    return sum;
  }

  void check_fields(const BatchFacts& b, double a, double out, double worth) {
    const PlannedBatch& said = *b.batch;
    const almanac::Route& r = *b.route;
    const auto differs = [](double x, double y) { return std::abs(x - y) > 1e-5 * std::max(1.0, std::abs(y)); };
    if (differs(said.kg_out, out)) f_.fault(fmt::format("{}: kg_out {} where it is {}", named(b), said.kg_out, out));
    const double per_pack = r.yield_kg_per_kg * r.kg_in_per_pack;
    const double packs = per_pack > 0 ? std::ceil(out / per_pack - 1e-9) : 0;
    if (std::abs(said.packs - packs) > 1 + 1e-9 ||
        (differs(said.packs, packs) &&
         std::abs(out / std::max(per_pack, 1e-12) - std::round(out / std::max(per_pack, 1e-12))) > 1e-5)) {
      f_.fault(fmt::format("{}: {} packs where there are {}", named(b), said.packs, packs));
    }
    const double quality = said.kg_in * r.yield_kg_per_kg > 0 ? a / (said.kg_in * r.yield_kg_per_kg) : 0;
    if (differs(said.quality, quality))
      f_.fault(fmt::format("{}: quality {} where it is {}", named(b), said.quality, quality));
    if (std::abs(said.worth - worth) > kMoney)
      f_.fault(fmt::format("{}: worth {} where it is {}", named(b), said.worth, worth));
  }

  // ---- what is left at the horizon ------------------------------------------------------------------------------

  struct Left {
    const Lot* lot;
    std::string form;
    double kg;
    Waiting state;
    double pool_quality = 1;
    bool pool = false;
    const almanac::Route* best = nullptr;
    double gain = 0, hours = 0, unit = 0;  ///< g, h; q S y per kg
  };

  std::vector<Left> left_over() const {
    std::vector<Left> out;
    const Minute end = f_.horizon;
    for (const Lot& lot : h_.lots) {
      double takes = 0;
      for (const BatchFacts& b : f_.batches) {
        for (const PartFacts& p : b.parts) takes += p.lot == &lot && p.source == Source::lot ? p.kg : 0;
      }
      const Minute t0 = f_.available_from(lot);
      const bool clock_over = lot.hazard_by && *lot.hazard_by <= end;
      const bool counts = t0 < end && (lot.pick_by == 0 || lot.pick_by > end) && !clock_over;
      const double eaten = std::min(lot.eaten_kg_per_day * std::max(0, end - t0) / 1440.0, lot.kg - takes);
      const double kg = std::max(0.0, lot.kg - takes - eaten);
      if (counts && kg > 0) {
        const Waiting w = lot.pick_by > 0 ? Waiting{lot.model ? keeping::usable_share(*lot.model, lot.belief.age) : 1.0,
                                                    keeping::condition_of(lot.belief)}
                                          : f_.waiting(lot, t0, std::max(t0, end));
        out.push_back({&lot, lot.form, kg, w});
      }
      for (const almanac::Route& route : h_.routes) {
        if (!route.is_hold) continue;
        for (const BatchFacts& hold : f_.batches) {
          if (hold.route != &route || hold.parts.size() != 1 || hold.parts[0].lot != &lot) continue;
          const HoldPlace* place = f_.hold_place(route);
          if (clock_over && (place == nullptr || place->temp_c > -5)) continue;
          double pool_takes = 0;
          for (const BatchFacts& b : f_.batches) {
            for (const PartFacts& p : b.parts) pool_takes += p.hold == hold.batch ? p.kg : 0;
          }
          const double pool_kg = std::max(0.0, f_.pool_mass(hold) - pool_takes);
          if (pool_kg > 0)
            out.push_back({&lot, route.product_form, pool_kg, f_.pool_waiting(hold, end), hold.parts[0].quality, true});
        }
      }
    }
    return out;
  }

  /// Whether this household could ever run the route, calendars aside.
  bool could_run(const almanac::Route& r) const {
    if (r.stages.empty()) return false;
    for (std::size_t i = 0; i < r.stages.size(); ++i) {
      const almanac::Stage& s = r.stages[i];
      for (const almanac::EquipmentUse& e : s.equipment) {
        double count = 0;
        for (const EquipmentPiece& piece : h_.equipment) count += piece.key == e.key ? piece.count : 0;
        if (e.amount.at(r.batch_min_kg, 1) > count + 1e-9) return false;
      }
      if (s.attention != almanac::Attention::unattended && !enough_people(s)) return false;
      if (i == 0 || !s.lag_max_min) continue;
      const double first = std::ceil(s.lag_min_min / kPiece - 1e-9) * kPiece;
      if (first > *s.lag_max_min + 1e-9) return false;
    }
    return true;
  }

  bool enough_people(const almanac::Stage& s) const {
    int people = 0;
    bool skilled = s.skill.empty();
    for (const Hand& hand : h_.hands) {
      if (hand.age < s.least_age) continue;
      ++people;
      skilled = skilled || std::find(hand.skills.begin(), hand.skills.end(), s.skill) != hand.skills.end();
    }
    return people >= std::max(1, s.hands) && skilled;
  }

  void choose_best(Left& item) const {
    for (const almanac::Route& r : h_.routes) {
      if (r.is_hold || named_leaving(r) || !r.many_lot_with.empty()) continue;
      if (!serves(r, item.lot->crop) || r.accepts_form != item.form || barred(r, item.lot->facts)) continue;
      const double quality = r.quality[static_cast<std::size_t>(item.state.condition)];
      if (quality <= 0 || item.state.share < least_share(r)) continue;
      if (!could_run(r)) continue;
      double kg = r.batch_max_kg;
      if (r.load_kg > 0 && std::floor(r.batch_max_kg / r.load_kg + 1e-9) >= 1)
        kg = r.load_kg * std::floor(r.batch_max_kg / r.load_kg + 1e-9);
      const int loads = r.load_kg > 0 ? std::max(1, static_cast<int>(std::ceil(kg / r.load_kg - 1e-9))) : 1;
      double hours = item.lot->pick_by > 0 && !item.pool ? item.lot->pick_min_per_kg / 60 : 0;
      for (const almanac::Stage& s : r.stages) {
        if (s.attention == almanac::Attention::unattended) continue;
        const double w = s.attention == almanac::Attention::nearby ? s.nearby_share : 1.0;
        hours += std::max(1, s.hands) * w * std::max(0.0, s.duration_min.at(kg, loads)) / kg / 60;
      }
      const ProductWorth* row = row_of(h_, r);
      const double q = quality * item.pool_quality;
      const double costs = r.materials_cost_per_kg + r.energy_cost_per_kg + h_.effort_per_hour * hours;
      const double unit = q * item.state.share * r.yield_kg_per_kg;
      const double value = row != nullptr ? unit * row->per_kg * slope_right(*row, amount_of(row))
                                          : q * item.state.share * r.worth_per_kg_in;
      if (item.best == nullptr || value - costs > item.gain + 1e-12) {
        item.best = &r;
        item.gain = value - costs;
        item.hours = hours;
        item.unit = row != nullptr ? unit : q * item.state.share;
      }
    }
  }

  double amount_of(const ProductWorth* row) const {
    const auto it = amount_.find(row);
    return it == amount_.end() ? 0.0 : it->second;
  }

  double still_sound() {
    std::vector<Left> items = left_over();
    for (Left& item : items) choose_best(item);
    std::erase_if(items, [](const Left& i) { return i.best == nullptr || i.gain <= 0; });
    std::stable_sort(items.begin(), items.end(), [](const Left& a, const Left& b) {
      const auto index = [](const Left& x) { return x.hours <= 0 ? 1e300 : x.gain / x.hours; };
      return index(a) > index(b);
    });
    double minutes = 0;
    for (const Hand& hand : h_.hands) {
      if (hand.age < 14) continue;
      for (const Span& s : hand.free)
        minutes += hand.usable_share * std::max(0, std::min(s.to, f_.horizon) - std::max(s.from, h_.now));
    }
    double left = 0.5 * 7 * minutes / ((f_.horizon - h_.now) / 1440.0);
    auto amounts = amount_;
    double sum = 0;
    for (const Left& i : items) {
      const double x = i.hours > 0 ? std::min(i.kg, left / (60 * i.hours)) : i.kg;
      const almanac::Route& r = *i.best;
      const double costs = x * (r.materials_cost_per_kg + r.energy_cost_per_kg + h_.effort_per_hour * i.hours);
      const ProductWorth* row = row_of(h_, r);
      double gain = -costs;
      if (row != nullptr) {
        double& amount = amounts[row];
        gain += worth_of(*row, amount + x * i.unit) - worth_of(*row, amount);
        amount += x * i.unit;
      } else {
        gain += x * i.unit * r.worth_per_kg_in;
      }
      sum += 0.9 * std::max(0.0, gain);
      left -= 60 * i.hours * x;
    }
    return sum;
  }

  // ---- what it costs ---------------------------------------------------------------------------------------------

  double effort() {
    struct Day {
      double plan = 0, other = 0;
    };
    std::map<std::pair<std::string, int>, Day> days;
    const auto add = [&](const std::string& hand, const std::vector<Span>& spans, double weight, bool batch) {
      for (const Span& s : spans) {
        for (Minute m = s.from; m < s.to;) {
          const Minute end = std::min(s.to, (m / kDay + 1) * kDay);
          Day& day = days[{hand, m / kDay}];
          (batch ? day.plan : day.other) += (end - m) / 60.0 * weight;
          m = end;
        }
      }
    };
    double left_out = 0;
    for (const BatchFacts& b : f_.batches) {
      for (const PlacedStage& s : b.batch->stages) {
        if (s.attention == almanac::Attention::unattended) continue;
        const auto stage = std::find_if(b.route->stages.begin(), b.route->stages.end(),
                                        [&](const auto& x) { return x.key == s.stage; });
        const double weight =
            s.attention == almanac::Attention::nearby && stage != b.route->stages.end() ? stage->nearby_share : 1.0;
        almanac::WeatherWindow weather = stage == b.route->stages.end() ? almanac::WeatherWindow{} : stage->weather;
        if (s.stage == "pick") weather = {.daylight = true};
        const auto calendar = working_calendar(f_, s.hands, weather, s.span);
        const Spans minutes = calendar ? merged(both(*calendar, {s.span})) : Spans{s.span};
        for (const std::string& hand : s.hands) add(hand, minutes, weight, true);
      }
      for (std::size_t i = b.placed_own; i < b.route->stages.size(); ++i) {
        const almanac::Stage& s = b.route->stages[i];
        if (s.attention == almanac::Attention::unattended) continue;
        const double w = s.attention == almanac::Attention::nearby ? s.nearby_share : 1.0;
        left_out += h_.effort_per_hour * std::max(1, s.hands) * w *
                    std::max(0.0, s.duration_min.at(b.batch->kg_in, b.batch->loads)) / 60;
      }
    }
    for (const Plan::Trip& t : f_.plan.trips) add(t.hand, {t.span}, 1, true);
    for (const Plan::OtherPlaced& o : f_.plan.other) {
      for (const std::string& hand : o.hands) add(hand, o.spans, 1, false);
    }
    for (const Committed& c : h_.committed) {
      for (const std::string& hand : c.hands) add(hand, {c.span}, 1, false);
    }
    double sum = left_out;
    for (const auto& [key, day] : days) {
      const double all = day.plan + day.other;
      const double over = std::max(0.0, all - 4);
      sum += h_.effort_per_hour * (day.plan + over * over / 8);
    }
    return sum;
  }

  double lateness() const {
    double sum = 0;
    for (const OtherJob& job : h_.other) {
      const Minute limit = job.deadline == 0 ? f_.horizon : job.deadline;
      const auto placed =
          std::find_if(f_.plan.other.begin(), f_.plan.other.end(), [&](const auto& o) { return o.key == job.key; });
      if (placed == f_.plan.other.end() || placed->spans.empty()) {
        sum += job.importance * (std::max(0, f_.horizon - limit) / 1440.0 + 3);
      } else {
        sum += job.importance * std::max(0, placed->spans.back().to - limit) / 1440.0;
      }
    }
    return sum;
  }

  double change() const {
    double sum = 0;
    for (const PlacedBefore& before : h_.in_force) {
      if (before.start < h_.now || before.start >= h_.now + 2880) continue;
      bool matched = false, same_people = false;
      for (const BatchFacts& b : f_.batches) {
        const bool has =
            b.batch->route == before.route &&
            std::any_of(b.parts.begin(), b.parts.end(), [&](const auto& p) { return p.lot->id == before.lot; });
        if (!has) continue;
        for (const PlacedStage& s : b.batch->stages) {
          if (s.stage != before.stage || std::abs(s.span.from - before.start) > 30) continue;
          matched = true;
          std::vector<std::string> now = s.hands, then = before.hands;
          std::sort(now.begin(), now.end());
          std::sort(then.begin(), then.end());
          same_people = same_people || now == then;
        }
      }
      sum += !matched ? h_.change_cost : same_people ? 0 : h_.change_cost / 2;
    }
    return sum;
  }

  Facts& f_;
  const Household& h_;
  std::map<const ProductWorth*, double> amount_;
};

}  // namespace

void check_worth(Facts& f) { WorthCheck(f).run(); }

}  // namespace stillroom::planning::check
