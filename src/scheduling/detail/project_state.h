#pragma once

#include <utility>
#include <vector>

#include "scheduling/detail/list_decoder.h"
#include "scheduling/search_types.h"

namespace stillroom::scheduling {

/// A multi-mode project as anneal() searches it: activity list and mode vector, decoded by ListDecoder; the incumbent
/// always fits the non-renewable limits. Cost is the makespan. The guide adds how tightly the schedule hangs together
/// (activities near the longest path) and, if `crowding_weight` > 0, how much the work alone crowds the makespan: what
/// has to give before a shorter makespan is possible at all.
class ProjectState {
 public:
  enum Move { kShift, kMode, kJustify, kImprove, kMoveKinds };
  struct Snapshot {
    std::vector<int> order, mode;  ///< compiled numbers
    std::vector<Time> start;
    Time makespan = 0;
  };

  /// Holds the address of the project, which must outlive it.
  ProjectState(const CompiledProject& project, double crowding_weight);

  Evaluation start(measure::Random& rng);
  /// With crowding, and if the work of `best` nearly fills its makespan: chooses all modes anew, as if the work could
  /// be spread evenly over one period less, and keeps them, so that from here on only the list is searched; every
  /// choice looked at counts as a schedule. Else: goes on from `best`.
  Evaluation restart(const Snapshot& best, measure::Random& rng);
  int propose(measure::Random& rng, double progress);
  Evaluation evaluate(double limit);
  void accept();
  void reject();
  void save(Snapshot& out) const;
  void load(const Snapshot& in);

 private:
  struct ListMove {
    int from = 0, to = 0;
  };
  bool propose_one(measure::Random& rng, bool mode_first);
  bool propose_shift(measure::Random& rng);
  bool propose_mode(measure::Random& rng);
  bool repair_draw(measure::Random& rng);
  bool repair_once(measure::Random& rng, int keep);
  void change_mode(int activity, int mode);
  void undo_modes();
  void propose_whole(Move kind);
  void move_in_list(ListMove move);
  [[nodiscard]] bool shares_time(int activity, Time from, Time to) const;
  void choose_modes(measure::Random& rng, Time target);
  [[nodiscard]] double averaged_cost(Time target);
  [[nodiscard]] double guide();
  [[nodiscard]] double crowding() const;
  [[nodiscard]] bool surely_longer(Time longest);

  const CompiledProject& p_;
  int n_;
  ListDecoder decoder_;

  // The candidate: the incumbent with one change in place.
  std::vector<int> order_, position_;
  ModeChoice choice_;
  Move kind_ = kShift;
  bool improving_ = false;
  int first_ = 0, last_ = 0;  ///< positions that differ from the incumbent
  ListMove moved_;
  std::vector<std::pair<int, int>> mode_undo_;  ///< activity, mode before
  std::vector<int> order_before_, mode_before_;
  ListDecoder::Outcome outcome_ = ListDecoder::Outcome::finished;

  // The incumbent.
  std::vector<Time> start_;
  std::vector<int> mode_;
  Time makespan_ = 0, shortest_ = 0;  ///< its makespan; the shortest seen
  double guide_ = 0, candidate_guide_ = 0, crowding_weight_;
  bool modes_stand_ = false;       ///< no move may change a mode
  bool justified_ = false;         ///< nothing has changed since the last forward-backward pass
  int refused_ = 0;                ///< changes refused since a schedule was last generated
  std::vector<double> closeness_;  ///< by slack
  std::vector<Time> key_, earliest_finish_;
};

}  // namespace stillroom::scheduling
