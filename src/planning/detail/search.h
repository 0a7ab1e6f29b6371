#pragma once

#include <memory>
#include <vector>

#include "measure/id.h"
#include "planning/detail/construct.h"
#include "planning/detail/objective.h"
#include "scheduling/search_types.h"

namespace stillroom::planning::detail {

/// The candidate of one worker: an ordered list of jobs, changed a little at a time (scheduling/search_types.h says
/// what each function means). Cost is minus the plan's worth in USD.
class PlanSearch {
 public:
  using Snapshot = JobList;
  enum Move { shift, swap, reroute, resize, split, merge, drop, add, when, hold, rebuild, trip, kMoves };
  static constexpr int kMoveKinds = kMoves;

  /// `first` is where the search starts.
  PlanSearch(const Project& project, JobList first);

  scheduling::Evaluation start(measure::Random& rng);
  int propose(measure::Random& rng, double progress);
  scheduling::Evaluation evaluate(double limit);
  void accept();
  void reject();
  void save(Snapshot& out) const { out = incumbent_; }
  void load(const Snapshot& in);

  /// Decodes and weighs any list.
  double cost_of(const JobList& list);
  [[nodiscard]] const Decoder& decoder() const { return decoder_; }
  [[nodiscard]] Objective& objective() { return objective_; }

 private:
  /// What is remembered of the incumbent's schedule, by position.
  struct Seen {
    Time start = kNever;
    double kg = 0;
  };
  void remember();
  bool try_move(Move move, measure::Random& rng, double progress);
  bool move_shift(measure::Random& rng);
  bool move_swap(measure::Random& rng);
  bool move_reroute(measure::Random& rng);
  bool move_resize(measure::Random& rng);
  bool move_split(measure::Random& rng);
  bool move_merge(measure::Random& rng);
  bool move_drop(measure::Random& rng);
  bool move_add(measure::Random& rng);
  bool move_when(measure::Random& rng);
  bool move_hold(measure::Random& rng);
  bool move_rebuild(measure::Random& rng, double progress);
  bool move_trip(measure::Random& rng);

  [[nodiscard]] int random_batch(measure::Random& rng) const;
  [[nodiscard]] int random_lot_with_left(measure::Random& rng);
  [[nodiscard]] const Option* random_option(int lot, measure::Random& rng, bool sharp) const;
  [[nodiscard]] bool pool_is_fed(const PoolSpec& pool) const;
  [[nodiscard]] bool make_job(int lot, const Option& option, measure::Random& rng, Job& job) const;
  [[nodiscard]] Time random_moment(int lot, Time start, measure::Random& rng) const;
  void insert_at(std::size_t position, const Job& job) {
    candidate_.insert(candidate_.begin() + static_cast<std::ptrdiff_t>(position), job);
  }
  void erase_at(std::size_t position) { candidate_.erase(candidate_.begin() + static_cast<std::ptrdiff_t>(position)); }
  /// Takes a job out of the candidate and gives its food back to `left_`.
  void take_out(std::size_t position);
  void charge(const Job& job);

  const Project& project_;
  Appraiser appraiser_;
  Decoder decoder_;
  Objective objective_;
  JobList incumbent_, candidate_;
  std::vector<Seen> seen_;              ///< of the incumbent
  std::vector<double> left_, left_of_;  ///< kg of each lot not used: candidate, incumbent
  std::vector<double> put_by_;          ///< of the incumbent
  JobList pending_;                     ///< jobs evaluate() is to insert where they do best
  std::uint64_t trials_ = 1;            ///< stream for the places it tries
  std::vector<int> scratch_;
  double cost_ = 0;
};

}  // namespace stillroom::planning::detail
