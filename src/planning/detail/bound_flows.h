#pragma once

#include <map>
#include <utility>

#include "planning/detail/bound_program.h"
#include "planning/detail/bound_states.h"
#include "planning/detail/bound_time.h"

/// The linear program of flows behind planning/bound.h; docs/science/bound.md argues every row.
namespace stillroom::planning::detail {

/// Something a flow uses up on one of the days [first, last], as a rate per unit of its column.
struct DayUse {
  int column = 0;
  int first = 0, last = 0;
  double rate = 0;
};

class FlowProgram {
 public:
  explicit FlowProgram(const Project& project);
  [[nodiscard]] const LinearProgram& program() const { return lp_; }

 private:
  /// Batches of one route whose first own stage starts on one day: their kg going in is `column`.
  struct Run {
    int route = 0, day = 0, column = 0;
    std::vector<StageLimits> limits;
    Sizes sizes;
  };
  /// One way food gets into a run.
  struct Inflow {
    int lot = 0;
    Source source = Source::lot;
    int second = -1;                ///< index into many_lot_with; -1 for the route's own crop
    int pool = -1;                  ///< index into pools_
    double most = 0;                ///< kg
    double share = 1, quality = 1;  ///< the best of either
    double good = 1;                ///< the best of quality x share
    double eaten = 0;               ///< kg eaten by then at least
    int column = 0;
  };
  struct Taking {
    int column, day;
    double factor;
  };
  /// Held or by-product food of one lot. `most` is an upper limit of its mass.
  struct Pool {
    int lot = 0;
    Source source = Source::held;
    std::string food, form;
    double most = 0, quality = 0;
    int place = -1;                        ///< held: where
    Time held_from = kNever, held_by = 0;  ///< held: span of possible starts
    std::vector<Taking> made, taken;       ///< made: by day it may first be taken
    int column = 0;
  };
  /// People who may do a kind of work, and how it weighs on them.
  struct Kind {
    bool nearby = false;
    std::uint32_t people = 0;
    int window = -1, hands = 1;
    auto operator<=>(const Kind&) const = default;
  };

  // bound_flows.cpp: food
  void add_pools();
  void add_runs(bool holds);
  void add_run(int route, int day);
  [[nodiscard]] std::vector<Inflow> inflows(const RouteSpec& spec, int route, Time from, Time last) const;
  [[nodiscard]] bool lot_inflow(const RouteSpec& spec, int lot, Time from, Time last, Inflow& in) const;
  [[nodiscard]] bool pool_inflow(const RouteSpec& spec, int pool, Time from, Time last, Inflow& in) const;
  [[nodiscard]] bool in_time(const RouteSpec& spec, int lot, Time from, Time last) const;
  void add_inflow(const Run& run, Inflow& in, double main_quality);
  void add_recipe(const Run& run, const std::vector<Inflow>& in);
  void add_by_products(const Run& run, const Inflow& in);
  void add_still_sound();
  void add_still(const Pool* pool, int lot, const BestState& state);
  void close_food();
  void close_worth(int row, bool with_still);
  void close_picking(int lot);

  // bound_stores.cpp: what runs use up
  void use_stages(const Run& run);
  void use_attended(const Run& run, int stage);
  void close_batches();
  void close_stock();
  void close_rooms();
  void close_equipment();

  // bound_people.cpp
  void close_people();
  void close_other_work();
  void close_days();
  int minutes_column(int person, int day, double most, bool of_batches);

  [[nodiscard]] double day_minutes(int day) const;
  [[nodiscard]] bool can_run(const RouteSpec& spec) const;

  const Project& project_;
  FreeTimes free_;
  LinearProgram lp_;
  std::vector<Pool> pools_;
  /// What a flow brings to a worth row; `route` -1 for what is only still sound.
  struct Product {
    int column;
    double factor;
    int route;
  };
  std::vector<std::vector<Product>> put_, still_;           ///< per worth row
  std::vector<int> batches_;                                ///< per route: how many batches, -1 for none
  std::map<std::pair<int, int>, std::vector<int>> of_lot_;  ///< by (route, lot): flows from the lot itself
  std::vector<int> lot_rows_;
  std::vector<std::vector<Taking>> picked_for_;  ///< per standing lot: flows that take it
  int later_row_ = -1;

  std::map<Kind, std::vector<DayUse>> work_;
  std::map<Kind, std::vector<std::pair<int, double>>> whole_work_;  ///< of whole batches and loads, over all days
  std::vector<Run> runs_;
  std::map<std::pair<int, bool>, std::vector<DayUse>> equipment_;  ///< by (piece, attended)
  std::vector<int> beyond_;  ///< minutes a use of a piece may run beyond the horizon
  std::map<int, std::vector<DayUse>> day_rooms_;
  std::vector<std::vector<DayUse>> stock_, rooms_;  ///< `last`: day by which it is taken at the latest
  struct Minutes {
    int column;
    double hours;  ///< per unit
    bool of_batches;
  };
  std::vector<std::vector<Minutes>> days_;  ///< per person and day
};

}  // namespace stillroom::planning::detail
