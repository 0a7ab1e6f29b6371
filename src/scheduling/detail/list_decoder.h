#pragma once

#include <vector>

#include "scheduling/detail/mode_choice.h"

namespace stillroom::scheduling {

/// Serial schedule generation on a dense profile: the activities of a list, one after another, each at the earliest
/// period where its predecessors have finished and its demand is free.
/// The profile is kept as a stack of placed activities, so that a list that differs from the last one only from some
/// position on is generated from there. No allocation after construction; only touched periods are written.
class ListDecoder {
 public:
  /// What decode() is to follow. `start` and `mode` are the incumbent's, per activity.
  struct Task {
    const std::vector<int>& order;
    ModeChoice& choice;
    const std::vector<Time>& start;
    const std::vector<int>& mode;
    int from = 0;            ///< first position at which order or modes differ from the incumbent
    int to = 0;              ///< last such position
    Time limit = 0;          ///< gives up as soon as the makespan is certain to exceed this
    bool improving = false;  ///< an activity takes the mode that finishes first, if the non-renewables allow
  };
  enum class Outcome { finished, same, too_long };

  explicit ListDecoder(const CompiledProject& project);

  /// Outcome::same: from `to` on everything comes out as in the incumbent, whose makespan this is.
  Outcome decode(const Task& task);
  /// Right-justifies the incumbent: generation on the mirrored network, latest finish first. Writes the activities by
  /// their new starts to `order`. Does not touch the stack.
  void justify_right(std::vector<int>& order, ModeChoice& choice, const std::vector<Time>& start, bool improving);
  /// Activities by key, ties by number (a topological order). Range: 0 <= key <= 2 x horizon.
  void sort_by_key(const std::vector<Time>& key, std::vector<int>& order);

  /// The incumbent has changed to what is placed now.
  void adopt(std::vector<Time>& start, std::vector<int>& mode);
  /// The incumbent has changed to something else.
  void forget() { unchanged_ = 0; }

  [[nodiscard]] Time makespan() const { return latest_[depth_]; }
  [[nodiscard]] Time finish(int activity) const { return finish_[activity]; }

 private:
  using Word = CompiledProject::Word;
  struct Found {
    Time start;
    int mode;
  };
  [[nodiscard]] Time fit(const Word* free, Time from, int mode) const;
  [[nodiscard]] Found best_fit(const Word* free, Time from, int activity, const ModeChoice& choice) const;
  void place(int activity, int mode, Time at);
  void unplace_to(int depth);

  const CompiledProject& p_;
  int n_;
  std::vector<Word> free_, mirror_;
  std::vector<Time> finish_, mirror_finish_, key_;
  std::vector<int> stack_activity_, stack_mode_, bucket_;
  std::vector<Time> stack_start_, latest_;  ///< latest_[k]: latest finish among the first k placed
  int depth_ = 0;                           ///< activities placed
  int unchanged_ = 0;                       ///< of these, the first so many stand as in the incumbent
};

}  // namespace stillroom::scheduling
