#pragma once

#include <vector>

#include "planning/detail/schedule.h"
#include "planning/plan.h"

namespace stillroom::planning::detail {

/// Worth of a schedule, term by term (docs/science/planning_model.md, section 9). Scratch lives inside: no
/// allocation once warm.
class Objective {
 public:
  explicit Objective(const Project& project);

  /// The terms of what stands in the schedule.
  const ObjectiveTerms& weigh(const Schedule& schedule);

  [[nodiscard]] const ObjectiveTerms& terms() const { return terms_; }
  /// Of the last weighing: what stands in the schedule, apart from its worth.
  struct Tally {
    int jobs = 0, moves = 0;  ///< moves: holds
    double minutes = 0;       ///< from now to their starts, in all
  };
  [[nodiscard]] const Tally& tally() const { return tally_; }
  /// Of the last weighing: quality-weighted kg put by per worth row.
  [[nodiscard]] const std::vector<double>& put_by() const { return put_by_; }
  /// Of the last weighing: kg of each lot itself still counted at the horizon.
  [[nodiscard]] const std::vector<double>& still_kg() const { return still_kg_; }
  /// Gross kg of the lot itself left at the horizon, and eaten by then.
  struct Left {
    double kg = 0, eaten = 0;
  };
  [[nodiscard]] static Left left_over(const Schedule& schedule, int lot);

 private:
  /// A route by which a lot, or what a pool holds of it, could be put by after the horizon.
  struct Later {
    int worth;            ///< row, or -1
    double floor;         ///< least usable share
    double yield;         ///< kg of product per kg
    double worth_per_kg;  ///< without a worth row: USD per kg
    double cost, hours;   ///< USD and hands-on hours per kg
    std::array<double, almanac::kConditions> quality;
  };
  /// The best of them for a lot or a pool as it then is, as long as no row of worth changes its slope.
  struct Choice {
    bool known = false;
    int condition = 0;
    double usable = 0, quality = 0;
    const Later* way = nullptr;   ///< null: none gains
    double gain = 0, per_kg = 0;  ///< USD; quality-weighted product (or food) per kg
  };
  struct Item {
    int lot;  ///< -1: of a pool
    const Choice* choice;
    double kg;
  };
  struct Turn {
    double rate;  ///< gain in USD per hour of hands
    int item;
  };
  void add_jobs(const Schedule& schedule);
  void add_batch(const Placed& batch);
  void add_put_by();
  void add_effort(const Schedule& schedule);
  void add_lateness();
  void add_change(const Schedule& schedule);
  void add_still_sound(const Schedule& schedule);
  void consider(int lot, std::size_t holder, double kg, int condition, double usable, double pool_quality);

  const Project& project_;
  ObjectiveTerms terms_;
  Tally tally_;
  std::vector<double> put_by_, with_still_, still_kg_, finished_, changed_;
  std::vector<std::size_t> rows_, rows_before_;       ///< of put_by_ that are not 0, now and at the weighing before
  std::vector<double> price_;                         ///< of each row: USD that one kg more brings
  std::vector<std::vector<std::size_t>> holders_of_;  ///< of each row: whose choice hangs on its price
  std::vector<int> waiting_;                          ///< lots that may still be there at the horizon
  std::vector<Item> items_;
  std::vector<Turn> turns_;
  std::vector<Choice> choices_;          ///< by holder, as later_from_
  std::vector<Later> later_;             ///< of the lots themselves, then of the pools
  std::vector<std::size_t> later_from_;  ///< lot, or number of lots + pool: its first in later_; one more ends
};

}  // namespace stillroom::planning::detail
