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
  /// What a lot or a pool holds that could go that way.
  struct Item {
    int lot;  ///< -1: of a pool
    const Later* way;
    double kg, per_kg;  ///< left, quality-weighted product (or worth without a row) per kg
  };
  struct Turn {
    double rate;  ///< gain in USD per hour of hands
    int item;
  };
  void add_batches(const Schedule& schedule);
  void add_effort(const Schedule& schedule);
  void add_lateness(const Schedule& schedule);
  void add_change(const Schedule& schedule);
  void add_still_sound(const Schedule& schedule);
  void consider(int lot, std::size_t holder, double kg, int condition, double usable, double pool_quality);

  const Project& project_;
  ObjectiveTerms terms_;
  std::vector<double> put_by_, with_still_, still_kg_, finished_, changed_;
  std::vector<Item> items_;
  std::vector<Turn> turns_;
  std::vector<Later> later_;             ///< of the lots themselves, then of the pools
  std::vector<std::size_t> later_from_;  ///< lot, or number of lots + pool: its first in later_; one more ends
};

}  // namespace stillroom::planning::detail
