#pragma once

#include <vector>

#include "measure/result.h"
#include "scheduling/detail/lanes.h"
#include "scheduling/project.h"

namespace stillroom::scheduling {

/// A multi-mode project with plain precedence, reduced and laid out for the decoder: flat arrays of small integers.
/// Activities are in topological order; those at the ends that take no time are left out; modes that can never run or
/// are dominated and resources that can never bind are dropped (Sprecher, Hartmann, Drexl, OR Spektrum 19 (1997)
/// 195-203); implied precedences are dropped.
struct CompiledProject {
  using Word = Lanes::Word;

  int activities = 0;
  std::vector<int> original;       ///< activity of the project
  std::vector<int> mode_begin;     ///< activities + 1 entries; modes of i are [mode_begin[i], mode_begin[i + 1])
  std::vector<int> mode_original;  ///< number of the mode in the project's activity
  std::vector<Time> duration;      ///< per mode
  std::vector<Word> demand;        ///< per mode
  Word guard = 0, full = 0;        ///< full = capacities with every guard bit set
  int nonrenewables = 0;           ///< that can bind
  std::vector<Amount> draw;        ///< per mode: `nonrenewables` entries
  std::vector<Amount> total;       ///< per non-renewable
  int renewables = 0;              ///< that can bind
  std::vector<Amount> capacity;    ///< per renewable
  std::vector<Amount> work;        ///< per mode: `renewables` entries, duration x demand
  std::vector<int> pred_begin, pred, succ_begin, succ;  ///< direct precedences
  std::vector<Time> head, tail;  ///< longest path before the start / after the finish, shortest modes
  std::vector<int> fitting;      ///< a mode per activity that fits the non-renewables
  Time horizon = 0;              ///< no schedule built here is longer
  Time lower_bound = 0;          ///< critical path, and least work over capacity

  /// True if an activity has more than one mode left.
  [[nodiscard]] bool has_choice() const { return static_cast<int>(duration.size()) > activities; }
  /// Refuses (code "no_schedule") a project that explain_infeasible rejects; (code "too_wide") renewable resources that
  /// do not fit 64 bits together; (code "not_plain") lags other than plain precedence.
  [[nodiscard]] static measure::Result<CompiledProject> compile(const Project& project);
  /// Back to the project's own numbering; activities left out start with the latest finish before them.
  [[nodiscard]] Schedule expand(const Project& project, const std::vector<int>& mode,
                                const std::vector<Time>& start) const;
};

}  // namespace stillroom::scheduling
