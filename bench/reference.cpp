#include "bench/reference.h"

#include <map>

#include "planning/detail/bound_program.h"
#include "planning/detail/project.h"

namespace stillroom::bench {
namespace {

using namespace planning::detail;  // NOLINT: this page is about its types
constexpr double kPlenty = 1e6;    // kg
constexpr double kMostPerKg = 4;   // kg of a pool from a kg of the lot; broth counts its water

/// A linear program: kg of each lot by each way, pieces of each worth row.
class FullWorth {
 public:
  explicit FullWorth(const planning::Household& h) : project_(h) {}

  double value() {
    for (const WorthSpec& row : project_.worth) worth_rows_.push_back(worth_row(row));
    for (std::size_t lot = 0; lot < project_.lots.size(); ++lot)
      if (comes_in(project_.lots[lot])) add_lot(static_cast<int>(lot));
    return program_.solve(0).bound;
  }

 private:
  [[nodiscard]] bool comes_in(const LotSpec& lot) const {
    return lot.from < project_.horizon && (!lot.standing || lot.pick_by > lot.from);
  }

  int worth_row(const WorthSpec& worth) {
    const int row = program_.row(-LinearProgram::kFree, 0);
    const auto piece = [&](double most, double share) {
      const int column = program_.column(std::max(0.0, most));
      program_.price(column, Term::put_by, worth.per_kg * share);
      program_.add(row, column, 1);
    };
    piece(worth.full_until, 1);
    piece(worth.second_until - worth.full_until, worth.second_share);
    piece(kPlenty, worth.tail_share);
    return row;
  }

  [[nodiscard]] static int first_condition(const LotSpec& lot) {
    return lot.fade.condition_at(lot.standing ? 0 : lot.from);
  }
  [[nodiscard]] static double sound(const LotSpec& lot) { return lot.fade.usable_at(lot.standing ? 0 : lot.from); }
  /// Best quality from the condition on; what has no model stays as it is.
  [[nodiscard]] static double best_quality(const LotSpec& lot, const RouteSpec& route) {
    const auto first = static_cast<std::size_t>(first_condition(lot));
    double best = route.source->quality[first];
    if (lot.fade.model != nullptr)
      for (std::size_t c = first; c < route.source->quality.size(); ++c)
        best = std::max(best, route.source->quality[c]);
    return best;
  }

  /// A column of kg going into a route, with its cost; its product goes to the worth row.
  int way(const RouteSpec& route, const LotSpec& lot, bool from_lot, double most, double quality_and_share) {
    const almanac::Route& source = *route.source;
    const int column = program_.column(most);
    double hours = route.hours_per_kg;
    if (lot.standing && from_lot) hours += lot.source->pick_min_per_kg / 60;
    program_.price(column, Term::materials, source.materials_cost_per_kg);
    program_.price(column, Term::energy, source.energy_cost_per_kg);
    program_.price(column, Term::effort, project_.h.effort_per_hour * hours);
    if (route.worth >= 0) {
      program_.add(worth_rows_[static_cast<std::size_t>(route.worth)], column,
                   -quality_and_share * source.yield_kg_per_kg);
    } else if (!source.is_hold) {
      program_.price(column, Term::put_by, quality_and_share * source.worth_per_kg_in);
    }
    return column;
  }

  void add_lot(int index) {
    const LotSpec& lot = project_.lots[static_cast<std::size_t>(index)];
    const int all = lot_row(index);
    for (const Option& option : lot.options) {
      const RouteSpec& route = project_.routes[static_cast<std::size_t>(option.route)];
      const almanac::Route& source = *route.source;
      const double quality = option.source == Source::by_product
                                 ? source.quality[static_cast<std::size_t>(almanac::Condition::firm)]
                                 : best_quality(lot, route);
      if (route.barred != Barred::no || quality <= 0) continue;
      if (option.source != Source::by_product && sound(lot) < route.floor) continue;
      const double share = option.source == Source::lot ? sound(lot) : 1;
      const int column = way(route, lot, option.source == Source::lot, lot.source->kg * kMostPerKg, quality * share);
      if (option.source == Source::lot) {
        program_.add(all, column, 1);
        if (!source.is_hold) add_seconds(option.route, column);
      } else {
        program_.add(pool_row(option.pool), column, 1);
      }
      fill_pools(index, route, column);
    }
  }

  int lot_row(int lot) {
    const auto [at, is_new] = lot_rows_.try_emplace(lot, 0);
    if (is_new)
      at->second = program_.row(-LinearProgram::kFree, project_.lots[static_cast<std::size_t>(lot)].source->kg);
    return at->second;
  }
  int pool_row(int pool) {
    const auto [at, is_new] = pool_rows_.try_emplace(pool, 0);
    if (is_new) at->second = program_.row(-LinearProgram::kFree, 0);
    return at->second;
  }

  /// What a hold or a by-product makes of the lot.
  void fill_pools(int lot, const RouteSpec& route, int column) {
    const almanac::Route& source = *route.source;
    for (std::size_t pool = 0; pool < project_.pools.size(); ++pool) {
      const PoolSpec& spec = project_.pools[pool];
      if (spec.lot != lot) continue;
      if (spec.source == Source::held && source.is_hold && spec.form == source.product_form)
        program_.add(pool_row(static_cast<int>(pool)), column, -source.yield_kg_per_kg);
      if (spec.source == Source::by_product)
        for (const almanac::ByProduct& by : source.also_yields)
          if (spec.crop == by.food && spec.form == by.form)
            program_.add(pool_row(static_cast<int>(pool)), column, -by.kg_per_kg);
    }
  }

  /// The other crops of a recipe, in its proportions.
  void add_seconds(int route_index, int main) {
    const RouteSpec& route = project_.routes[static_cast<std::size_t>(route_index)];
    for (std::size_t j = 0; j < route.seconds.size(); ++j) {
      const auto [at, is_new] = second_rows_.try_emplace({route_index, j}, 0);
      if (is_new) {
        at->second = program_.row(0, 0);
        double best = 0;
        for (const double q : route.source->quality) best = std::max(best, q);
        for (const int lot : route.seconds[j]) {
          const LotSpec& spec = project_.lots[static_cast<std::size_t>(lot)];
          if (!comes_in(spec)) continue;
          const int column = way(route, spec, true, spec.source->kg, best * sound(spec));
          program_.add(at->second, column, 1);
          program_.add(lot_row(lot), column, 1);
        }
      }
      program_.add(at->second, main, -route.source->many_lot_kg[j]);
    }
  }

  Project project_;
  LinearProgram program_;
  std::vector<int> worth_rows_;
  std::map<int, int> lot_rows_, pool_rows_;
  std::map<std::pair<int, std::size_t>, int> second_rows_;
};

}  // namespace

double full_worth(const planning::Household& h) { return FullWorth(h).value(); }

}  // namespace stillroom::bench
