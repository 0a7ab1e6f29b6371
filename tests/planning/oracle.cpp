#include "planning/oracle.h"

#include <algorithm>
#include <coin/CbcModel.hpp>
#include <coin/CbcSolver.hpp>
#include <coin/CoinPackedMatrix.hpp>
#include <coin/OsiClpSolverInterface.hpp>
#include <functional>
#include <map>

#include "measure/id.h"
#include "planning/small.h"

namespace stillroom::planning::test {
namespace {

constexpr double kNoLimit = 1e30;
constexpr int kSlotsAfter = 4;  // an unattended canner may run on after the horizon

// ---- the household --------------------------------------------------------------------------------------------------

class Hourly {
 public:
  explicit Hourly(std::uint64_t seed) : random_(seed * 0x9E3779B9ULL + 5) {}

  Household make() {
    const int days = 1 + below(2);
    h_ = household(days);
    h_.effort_per_hour = below(3);
    h_.hands.clear();
    person("ann", 40);
    if (days == 1 && below(3) > 0) person("ben", 15);
    h_.equipment = {{"boiling_water_canner", 1}};
    h_.stock = {{"jar_quart", 4.0 + below(12), {}}};
    if (below(3) == 0) h_.stock[0].arriving.push_back({at(days - 1, 10), 4.0 + below(6)});
    h_.rooms = {{"freezer_l", 3.0 + below(10)}};
    h_.lots.clear();
    h_.routes.clear();
    const int lots = 3 + (below(4) == 0 ? 1 + below(2) : 0);
    for (int i = 0; i < lots; ++i) a_lot(i);
    for (const std::string crop : {"a", "b", "c"})
      if (std::any_of(h_.lots.begin(), h_.lots.end(), [&](const Lot& l) { return l.crop == crop; })) routes_of(crop);
    if (below(2) == 1) other_work();
    return std::move(h_);
  }

 private:
  int below(int n) { return static_cast<int>(random_.below(static_cast<std::uint32_t>(n))); }

  void person(const std::string& key, int age) {
    static const std::vector<std::vector<Span>> kDays = {
        {{480, 660}}, {{480, 600}, {840, 900}}, {{540, 660}, {900, 960}}, {{960, 1140}}};
    Hand p{
        .key = key, .name = key, .age = age, .skills = {}, .free = {}, .usable_share = 1, .most_minutes_per_day = 240};
    for (int d = 0; d < h_.days; ++d)
      for (const Span& s : kDays[static_cast<std::size_t>(below(4))])
        p.free.push_back({at(d, 0) + s.from, at(d, 0) + s.to});
    h_.hands.push_back(std::move(p));
  }

  void a_lot(int i) {
    Lot l = lot("l" + std::to_string(i), std::string(1, static_cast<char>('a' + below(3))), 2.0 + below(10));
    if (below(3) == 0) l.ready = at(0, 9 + below(6));
    if (below(2) == 0) l.model = fading();
    l.hazard_by = h_.days * kDay;  // worth nothing at the horizon: only what is put by counts
    h_.lots.push_back(std::move(l));
  }

  void routes_of(const std::string& crop) {
    const double worth = 3.0 + below(10);
    almanac::Route jar =
        route(crop + "/jar", {stage("prepare", 60), stage("process", 0, almanac::Attention::unattended)});
    jar.stages[0].least_age = below(2) == 0 ? 18 : 0;
    jar.stages[0].stock = {{"jar_quart", {0, 1, 0}}};
    jar.stages[1].duration_min = {0, 0, 60};
    jar.stages[1].lag_max_min = 60;
    jar.stages[1].equipment = {{"boiling_water_canner", {1, 0, 0}}};
    jar.load_kg = 4;
    jar.batch_max_kg = 8;
    jar.worth_per_kg_in = worth;
    h_.routes.push_back(jar);
    almanac::Route jam = route(crop + "/jam", {stage("prepare", 60), stage("cook", 60, almanac::Attention::nearby)});
    jam.stages[1].nearby_share = 0.5;
    jam.stages[1].lag_max_min = 60;
    jam.stages[1].equipment = {{"boiling_water_canner", {1, 0, 0}}};
    jam.batch_max_kg = 4;
    jam.worth_per_kg_in = worth + below(6);
    if (below(2) == 0) h_.routes.push_back(jam);
    almanac::Route freeze = route(crop + "/freeze", {stage("pack", 60)});
    freeze.stages[0].room = {{"freezer_l", {0, 1, 0}}};
    freeze.batch_max_kg = 6;
    freeze.worth_per_kg_in = worth - 1;
    h_.routes.push_back(freeze);
    almanac::Route give = route(crop + "/give", {stage("hand_over", 60)});
    give.method = "given away";
    give.product_form = "given away";
    give.worth_per_kg_in = 0.5;
    h_.routes.push_back(give);
    h_.worth.push_back({.food = crop, .form = "jar", .per_kg = worth, .need_kg = 2.0 + below(8)});
    if (below(2) == 0) h_.worth.push_back({.food = crop, .form = "", .per_kg = worth - 0.5, .need_kg = 2.0 + below(8)});
  }

  void other_work() {
    OtherJob job;
    job.key = job.name = "fence";
    job.minutes = 60 * (1 + below(2));
    job.can_split = false;
    job.least_age = below(2) == 0 ? 0 : 18;
    job.deadline = below(2) == 0 ? 0 : at(0, 12);
    job.importance = 1.0 + below(6);
    h_.other.push_back(std::move(job));
  }

  measure::Random random_;
  Household h_;
};

// ---- the program ----------------------------------------------------------------------------------------------------

/// A whole placement of one batch (or of the other work).
struct Placement {
  int route = -1, other = -1, loads = 1;
  std::vector<PlacedStage> stages;
};

class Program {
 public:
  explicit Program(const Household& h) : h_(h), slots_(h.days * 24 + kSlotsAfter) {}

  OraclePlan solve() {
    for (std::size_t r = 0; r < h_.routes.size(); ++r) place_route(static_cast<int>(r));
    for (std::size_t o = 0; o < h_.other.size(); ++o) place_other(static_cast<int>(o));
    capacities();
    worth();
    return run();
  }

 private:
  struct Chosen {
    Placement placement;
    int column;
    std::vector<std::pair<int, int>> kg;  ///< lot, column
  };

  int column(double gain, double most, bool whole) {
    gain_.push_back(gain);
    most_.push_back(most);
    if (whole) whole_.push_back(static_cast<int>(gain_.size()) - 1);
    return static_cast<int>(gain_.size()) - 1;
  }
  int row(double least, double most) {
    row_least_.push_back(least);
    row_most_.push_back(most);
    return static_cast<int>(row_least_.size()) - 1;
  }
  void add(int r, int c, double v) {
    rows_.push_back(r);
    columns_.push_back(c);
    values_.push_back(v);
  }

  [[nodiscard]] bool is_free(const Hand& hand, Minute from, Minute to) const {
    return std::any_of(hand.free.begin(), hand.free.end(), [&](const Span& s) { return s.from <= from && to <= s.to; });
  }

  void place_route(int r) {
    const almanac::Route& route = h_.routes[static_cast<std::size_t>(r)];
    const int most_loads = route.load_kg > 0 ? static_cast<int>(std::ceil(route.batch_max_kg / route.load_kg)) : 1;
    for (int loads = 1; loads <= most_loads; ++loads) {
      Placement p{.route = r, .loads = loads, .stages = {}};
      place_stages(p);
    }
  }

  void place_stages(Placement& p) {
    const almanac::Route& route = h_.routes[static_cast<std::size_t>(p.route)];
    const std::size_t i = p.stages.size();
    if (i == route.stages.size()) {
      take(p);
      return;
    }
    const almanac::Stage& s = route.stages[i];
    const auto length = static_cast<Minute>(s.duration_min.at(0, p.loads));
    const Minute first = i == 0 ? 0 : p.stages.back().span.to;
    const Minute last = i == 0 ? h_.days * kDay : first + static_cast<Minute>(s.lag_max_min.value_or(0));
    for (Minute t = first; t <= last && t < h_.days * kDay; t += kHour) {
      PlacedStage placed{.route = route.key,
                         .stage = s.key,
                         .name = s.name,
                         .span = {t, t + length},
                         .attention = s.attention,
                         .hands = {},
                         .equipment = s.equipment};
      const auto go_on = [&] {
        p.stages.push_back(placed);
        place_stages(p);
        p.stages.pop_back();
      };
      if (s.attention == almanac::Attention::unattended) go_on();
      for (const Hand& hand : h_.hands) {
        if (s.attention == almanac::Attention::unattended || hand.age < s.least_age || !is_free(hand, t, t + length))
          continue;
        placed.hands = {hand.key};
        go_on();
      }
    }
  }

  [[nodiscard]] double share_at(const Lot& lot, Minute t) const {
    if (!lot.model) return 1;
    const double days = (t - std::max(h_.now, lot.ready)) / 1440.0;
    return keeping::usable_share(*lot.model,
                                 days * keeping::ageing_per_day(*lot.model, measure::Temperature::celsius(20)));
  }

  void take(const Placement& p) {
    const almanac::Route& route = h_.routes[static_cast<std::size_t>(p.route)];
    double hours = 0;
    for (const PlacedStage& s : p.stages) hours += weight(p, s) * (s.span.to - s.span.from) / 60.0;
    const int chosen = column(-h_.effort_per_hour * hours, 1, true);
    placements_.push_back({p, chosen, {}});
    const double most = route.load_kg > 0 ? std::min(route.batch_max_kg, route.load_kg * p.loads) : route.batch_max_kg;
    const int least_row = row(0, kNoLimit), most_row = row(-kNoLimit, 0);
    // Two loads are for more than one load holds.
    add(least_row, chosen, -(p.loads > 1 ? route.load_kg * (p.loads - 1) + 1e-3 : route.batch_min_kg));
    add(most_row, chosen, -most);
    for (std::size_t l = 0; l < h_.lots.size(); ++l) {
      const Lot& lot = h_.lots[l];
      const Minute start = p.stages.front().span.from;
      const double share = start < lot.ready ? 0 : share_at(lot, start);
      if (lot.crop != route.crop || share < 0.5) continue;
      const int row_of = worth_row(route);
      const int part = row(-kNoLimit, 0);
      const int kg = column(row_of < 0 ? route.worth_per_kg_in * share : 0, lot.kg, false);
      placements_.back().kg.emplace_back(static_cast<int>(l), kg);
      add(part, kg, 1);
      add(part, chosen, -std::min(most, lot.kg));
      add(least_row, kg, 1);
      add(most_row, kg, 1);
      if (row_of >= 0) product_[row_of].emplace_back(kg, share);
    }
    if (const int row_of = worth_row(route); row_of >= 0) makers_[row_of].push_back(chosen);
  }

  [[nodiscard]] int worth_row(const almanac::Route& route) const {
    for (std::size_t w = 0; w < h_.worth.size(); ++w)
      if (h_.worth[w].food == route.product_food && h_.worth[w].form == route.product_form) return static_cast<int>(w);
    if (route.method == "given away") return -1;
    for (std::size_t w = 0; w < h_.worth.size(); ++w)
      if (h_.worth[w].food == route.product_food && h_.worth[w].form.empty()) return static_cast<int>(w);
    return -1;
  }

  [[nodiscard]] double weight(const Placement& p, const PlacedStage& s) const {
    if (p.other >= 0 || s.attention == almanac::Attention::hands_on) return 1;
    if (s.attention == almanac::Attention::unattended) return 0;
    for (const almanac::Stage& own : h_.routes[static_cast<std::size_t>(p.route)].stages)
      if (own.key == s.stage) return own.nearby_share;
    return 1;
  }

  void place_other(int o) {
    const OtherJob& job = h_.other[static_cast<std::size_t>(o)];
    const Minute due = due_of(job);
    const double undone = undone_cost(job);
    constant_ -= undone;
    const int once = row(-kNoLimit, 1);
    for (const Hand& hand : h_.hands)
      for (Minute t = 0; t + job.minutes <= h_.days * kDay; t += kHour) {
        if (hand.age < job.least_age || !is_free(hand, t, t + job.minutes)) continue;
        Placement p{.other = o, .stages = {{.span = {t, t + job.minutes}, .hands = {hand.key}, .equipment = {}}}};
        const double late = job.importance * std::max(0, t + job.minutes - due) / 1440.0;
        const int chosen = column(undone - late, 1, true);
        add(once, chosen, 1);
        placements_.push_back({p, chosen, {}});
      }
  }

  void capacities() {
    std::map<std::string, std::vector<int>> of_person;
    for (const Hand& hand : h_.hands)
      for (int s = 0; s < slots_; ++s) of_person[hand.key].push_back(row(-kNoLimit, 1));
    std::vector<int> canner;
    for (int s = 0; s < slots_; ++s) canner.push_back(row(-kNoLimit, 1));
    std::vector<int> jars;  // by hour: taken up to it against what is there by then
    for (int s = 0; s < slots_; ++s) {
      double there = h_.stock[0].amount;
      for (const auto& a : h_.stock[0].arriving) there += a.at <= s * kHour ? a.amount : 0;
      jars.push_back(row(-kNoLimit, there));
    }
    const int freezer = row(-kNoLimit, h_.rooms[0].capacity);
    std::vector<int> lots;
    for (const Lot& lot : h_.lots) lots.push_back(row(-kNoLimit, lot.kg));
    for (const Chosen& c : placements_) {
      for (const PlacedStage& s : c.placement.stages)
        for (int slot = s.span.from / kHour; slot < s.span.to / kHour && slot < slots_; ++slot) {
          for (const std::string& hand : s.hands)
            add(of_person[hand][static_cast<std::size_t>(slot)], c.column, weight(c.placement, s));
          if (!s.equipment.empty()) add(canner[static_cast<std::size_t>(slot)], c.column, 1);
        }
      if (c.placement.route < 0) continue;
      const almanac::Route& route = h_.routes[static_cast<std::size_t>(c.placement.route)];
      for (const auto& [lot, kg] : c.kg) {
        add(lots[static_cast<std::size_t>(lot)], kg, 1);
        if (!route.stages[0].room.empty()) add(freezer, kg, 1);
        if (route.stages[0].stock.empty()) continue;
        for (int s = c.placement.stages[0].span.from / kHour; s < slots_; ++s)
          add(jars[static_cast<std::size_t>(s)], kg, 1);
      }
    }
  }

  void worth() {
    for (const auto& [w, products] : product_) {
      const ProductWorth& row_of = h_.worth[static_cast<std::size_t>(w)];
      const double full = std::max(0.0, row_of.need_kg - row_of.have_kg);
      const double second = std::max(full, 1.5 * row_of.need_kg - row_of.have_kg);
      const int sum = row(-kNoLimit, 0);
      for (const auto& [slope, length] :
           {std::pair{1.0, full}, {row_of.second_share, second - full}, {row_of.tail_share, 100.0}}) {
        const int piece = column(row_of.per_kg * slope, length, false);
        add(sum, piece, 1);
        const int some = row(-kNoLimit, 0);  // no piece without a batch: said again, it helps the solver
        add(some, piece, 1);
        for (const int chosen : makers_[w]) add(some, chosen, -length);
      }
      for (const auto& [kg, share] : products) add(sum, kg, -share);
    }
  }

  OraclePlan run() {
    CoinPackedMatrix matrix(true, rows_.data(), columns_.data(), values_.data(), static_cast<int>(values_.size()));
    matrix.setDimensions(static_cast<int>(row_least_.size()), static_cast<int>(gain_.size()));
    std::vector<double> zero(gain_.size(), 0.0), cost;
    for (const double g : gain_) cost.push_back(-g);
    OsiClpSolverInterface solver;
    solver.messageHandler()->setLogLevel(0);
    solver.getModelPtr()->messageHandler()->setLogLevel(0);
    solver.loadProblem(matrix, zero.data(), most_.data(), cost.data(), row_least_.data(), row_most_.data());
    for (const int c : whole_) solver.setInteger(c);
    CbcModel model(solver);
    model.setLogLevel(0);
    model.messageHandler()->setLogLevel(0);
    model.solver()->messageHandler()->setLogLevel(0);
    // The solver's own settings, with its preprocessing; limits by nodes, so that runs are alike.
    CbcMain0(model);
    const char* words[] = {"oracle", "-log", "0", "-maxNodes", "20000", "-allowableGap", "0.004", "-solve", "-quit"};
    CbcMain1(static_cast<int>(std::size(words)), words, model);
    OraclePlan out;
    out.proven = model.isProvenOptimal();
    if (!out.proven) return out;
    write(model.bestSolution(), out.plan);
    out.value = constant_ - model.getObjValue();
    return out;
  }

  void write(const double* x, Plan& plan) const {
    std::vector<double> amounts(h_.worth.size(), 0.0);
    std::vector<bool> done(h_.other.size());
    for (const Chosen& c : placements_) {
      if (x[c.column] < 0.5) continue;
      if (c.placement.other >= 0) {
        const PlacedStage& s = c.placement.stages.front();
        const OtherJob& job = h_.other[static_cast<std::size_t>(c.placement.other)];
        plan.other.push_back({job.key, {s.span}, s.hands});
        plan.terms.lateness += job.importance * std::max(0, s.span.to - due_of(job)) / 1440.0;
        done[static_cast<std::size_t>(c.placement.other)] = true;
      } else {
        write_batch(c, x, amounts, plan);
      }
    }
    for (std::size_t o = 0; o < done.size(); ++o)
      if (!done[o]) plan.terms.lateness += undone_cost(h_.other[o]);
    for (std::size_t w = 0; w < amounts.size(); ++w) {
      const ProductWorth& row_of = h_.worth[w];
      const double full = row_of.need_kg, second = 1.5 * row_of.need_kg, a = amounts[w];
      plan.terms.put_by +=
          row_of.per_kg * (std::min(a, full) + row_of.second_share * std::clamp(a - full, 0.0, second - full) +
                           row_of.tail_share * std::max(0.0, a - second));
    }
  }

  void write_batch(const Chosen& c, const double* x, std::vector<double>& amounts, Plan& plan) const {
    const almanac::Route& route = h_.routes[static_cast<std::size_t>(c.placement.route)];
    PlannedBatch batch{.key = "b" + std::to_string(plan.batches.size()),
                       .route = route.key,
                       .parts = {},
                       .loads = c.placement.loads,
                       .stages = c.placement.stages};
    double amount = 0;
    for (const auto& [l, kg] : c.kg) {
      if (x[kg] < 1e-7) continue;
      const Lot& lot = h_.lots[static_cast<std::size_t>(l)];
      batch.parts.push_back({lot.id, x[kg]});
      batch.kg_in += x[kg];
      amount += x[kg] * share_at(lot, c.placement.stages.front().span.from);
    }
    const int row_of = worth_row(route);
    batch.kg_out = amount;  // every yield and quality is 1
    batch.packs = std::ceil(amount - 1e-9);
    batch.quality = amount / batch.kg_in;
    batch.worth = amount * (row_of < 0 ? route.worth_per_kg_in : h_.worth[static_cast<std::size_t>(row_of)].per_kg);
    if (row_of < 0) plan.terms.put_by += batch.worth;
    if (row_of >= 0) amounts[static_cast<std::size_t>(row_of)] += amount;
    for (PlacedStage& s : batch.stages) {
      s.batch = batch.key;
      plan.terms.effort += h_.effort_per_hour * weight(c.placement, s) * (s.span.to - s.span.from) / 60.0;
    }
    plan.batches.push_back(std::move(batch));
  }

  [[nodiscard]] Minute due_of(const OtherJob& job) const { return job.deadline == 0 ? h_.days * kDay : job.deadline; }
  [[nodiscard]] double undone_cost(const OtherJob& job) const {
    return job.importance * ((h_.days * kDay - due_of(job)) / 1440.0 + 3);
  }

  const Household& h_;
  int slots_;
  double constant_ = 0;
  std::vector<Chosen> placements_;
  std::map<int, std::vector<std::pair<int, double>>> product_;  ///< by worth row: kg columns and shares
  std::map<int, std::vector<int>> makers_;                      ///< by worth row: placements that feed it
  std::vector<double> gain_, most_, row_least_, row_most_, values_;
  std::vector<int> whole_, rows_, columns_;
};

}  // namespace

Household hourly_household(std::uint64_t seed) { return Hourly(seed).make(); }

OraclePlan best_on_the_hour(const Household& h) { return Program(h).solve(); }

}  // namespace stillroom::planning::test
