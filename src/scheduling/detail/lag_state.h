#pragma once

#include <vector>

#include "scheduling/detail/lag_project.h"
#include "scheduling/search_types.h"

namespace stillroom::scheduling {

/// A project with minimum and maximum lags as anneal() searches it: an activity list, generated serially. When an
/// activity finds no place before its latest start, the activities whose maximum lags hold it back are taken out again
/// and started later by what was missing (Franck, Neumann, Schwindt, OR Spektrum 23 (2001) 297-324); a generation that
/// does this too often is given up. A list without a schedule costs kInfeasible and one more for every activity that
/// is left over, so that the walk leads towards feasible lists.
class LagState {
 public:
  static constexpr int kMoveKinds = 1;  ///< one activity goes to another place in the list
  static constexpr double kInfeasible = 1e8;
  struct Snapshot {
    std::vector<int> order;
    std::vector<Time> start;
    Time makespan = -1;  ///< negative: no schedule
  };

  /// Holds the address of the project, which must outlive it.
  explicit LagState(const LagProject& project);

  Evaluation start(measure::Random& rng);
  int propose(measure::Random& rng, double progress);
  Evaluation evaluate(double limit);
  void accept();
  void reject();
  void save(Snapshot& out) const;
  void load(const Snapshot& in);

 private:
  void generate(Time limit);
  [[nodiscard]] bool place_next(int activity);
  bool make_room(int activity, Time missing);
  void place(int activity, Time at);
  void unplace(int activity);
  void move_in_list(int from, int to);
  [[nodiscard]] double cost() const;

  const LagProject& p_;
  int n_;
  std::vector<Lanes::Word> free_;
  // Starts of the placed; far in the past (past_) or future (future_) for the others, so that maxima and minima over
  // all activities need no test.
  std::vector<Time> past_, future_;
  std::vector<Time> raised_;  ///< earliest starts, raised where room had to be made
  std::vector<int> order_, position_, order_before_;
  int placed_ = 0, most_placed_ = 0;
  Time makespan_ = 0;
  bool complete_ = false;

  std::vector<Time> start_;  ///< incumbent
  Time incumbent_makespan_ = -1;
};

}  // namespace stillroom::scheduling
