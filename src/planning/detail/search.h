#pragma once

#include <vector>

#include "measure/id.h"
#include "planning/detail/appraise.h"
#include "planning/detail/objective.h"
#include "scheduling/search_types.h"

namespace stillroom::planning::detail {

/// The candidate of one worker (scheduling/search_types.h says what each function means): a schedule of which a move
/// takes a few jobs out and puts the food, work and holds back in another way. Cost is minus the plan's worth in USD,
/// and a few cents that prefer fewer and earlier jobs.
class PlanSearch {
 public:
  using Snapshot = Schedule::Snapshot;
  /// What is taken out: all of a lot, what lies close in time, what is of one crop, a few at random, one job (put back
  /// at another time), the hold of a lot with all that follows from it, nothing (fill up), what stands in the way of a
  /// lot, other work with what is around it, a shopping trip, one batch (put back in another size, with what another
  /// one had), everything when there is little.
  enum Move {
    lot_anew,
    window_anew,
    crop_anew,
    few_anew,
    retime,
    hold_anew,
    fill,
    make_way,
    work_anew,
    trip_anew,
    resize,
    all_anew,
    kMoves
  };
  static constexpr int kMoveKinds = kMoves;

  explicit PlanSearch(const Project& project);

  scheduling::Evaluation start(measure::Random& rng);
  int propose(measure::Random& rng, double progress);
  scheduling::Evaluation evaluate(double limit);
  void accept();
  void reject();
  void save(Snapshot& out) const { schedule_.save(out); }
  void load(const Snapshot& in);

  /// Puts a list in, in order, and gives its cost.
  double fill_with(const JobList& list);
  double fill_with(const PinnedList& list);
  /// Puts in every lot and all other work that is still out, best first; gives the cost.
  double fill_up(measure::Random& rng);
  [[nodiscard]] const Schedule& schedule() const { return schedule_; }
  [[nodiscard]] Schedule& schedule() { return schedule_; }
  [[nodiscard]] const Objective& objective() const { return objective_; }
  [[nodiscard]] const Appraiser& appraiser() const { return appraiser_; }
  /// Cost of what stands in the schedule.
  double weigh();
  [[nodiscard]] long schedules() const { return schedules_; }

 private:
  // search.cpp: putting back
  void put_back(measure::Random& rng);
  void order_lots(measure::Random& rng);
  void place_lot(int lot, measure::Random& rng);
  bool place_best(int lot, measure::Random& rng);
  void place_work(int other, measure::Random& rng);
  int sample_options(int lot, measure::Random& rng, int most);
  [[nodiscard]] bool make_job(int lot, const Option& option, measure::Random& rng, Job& job) const;
  [[nodiscard]] double left(int lot) const;
  [[nodiscard]] double pool_left(const Option& option) const;
  [[nodiscard]] Time random_moment(int lot, const Option& option, measure::Random& rng) const;

  // moves.cpp: taking out
  bool try_move(Move move, measure::Random& rng);
  void take_out(int id);
  void want(int lot);
  [[nodiscard]] int random_id(JobKind kind, measure::Random& rng) const;
  [[nodiscard]] int random_lot_left(measure::Random& rng);
  void take_near(Time start, Time reach, int most, measure::Random& rng);
  bool move_lot(measure::Random& rng);
  bool move_window(measure::Random& rng);
  bool move_crop(measure::Random& rng);
  bool move_few(measure::Random& rng);
  bool move_retime(measure::Random& rng);
  bool move_hold(measure::Random& rng);
  bool move_fill(measure::Random& rng);
  bool move_make_way(measure::Random& rng);
  bool move_work(measure::Random& rng);
  bool move_trip(measure::Random& rng);
  bool move_resize(measure::Random& rng);
  bool move_all();
  [[nodiscard]] double another_size(const Placed& batch, measure::Random& rng) const;
  void merge_into(Job& job, int lot, double most, measure::Random& rng);

  const Project& project_;
  Appraiser appraiser_;
  Schedule schedule_;
  Objective objective_;
  Schedule::Mark mark_{};
  double cost_ = 0, now_ = 0;  ///< of the incumbent, of the candidate as far as it is put back
  int accepted_ = 0;
  long schedules_ = 0;
  std::vector<int> lots_, work_;  ///< to put back
  bool keep_order_ = false;       ///< the first of lots_ goes first
  std::vector<double> urgency_;   ///< per lot, scratch
  std::vector<int> scratch_, closure_;
  struct Scored {
    const Option* option;
    double score;  ///< to choose by
    double net;    ///< USD per kg at its best; infinite where only trying tells
  };
  std::vector<Scored> options_;  ///< scratch
  Schedule::Trial trial_;        ///< scratch: the best so far of a lot
};

}  // namespace stillroom::planning::detail
