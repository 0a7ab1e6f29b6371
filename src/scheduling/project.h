#pragma once

#include <string>
#include <vector>

#include "measure/result.h"
#include "scheduling/steps.h"

namespace stillroom::scheduling {

/// One way of doing an activity. Demands hold in every period from start to finish (renewable) or are drawn once
/// (non-renewable). Range: duration >= 0, demands >= 0, one entry per resource of the project.
struct Mode {
  Time duration = 0;
  std::vector<Amount> renewable, nonrenewable;
  bool operator==(const Mode&) const = default;
};

struct Activity {
  std::vector<Mode> modes;  ///< one or more
  bool operator==(const Activity&) const = default;
};

/// A minimum or maximum time lag between two activities.
/// finish_to_start: start of `to` >= finish of `from` + lag. start_to_start: start of `to` >= start of `from` + lag; a
/// negative lag is a maximum lag seen from the other end ("`from` may start at most -lag after `to`").
struct Lag {
  enum class Kind { finish_to_start, start_to_start };
  int from = 0, to = 0;
  Time lag = 0;
  Kind kind = Kind::finish_to_start;
  bool operator==(const Lag&) const = default;
};

/// A project with constant resources whose makespan is to be as short as possible: the public test sets, and the small
/// problems on which the engine is checked. Time in periods.
struct Project {
  std::vector<Activity> activities;
  std::vector<Lag> lags;
  std::vector<Amount> renewable;     ///< capacity in every period
  std::vector<Amount> nonrenewable;  ///< total
  bool operator==(const Project&) const = default;

  /// True if every lag is finish-to-start with lag 0: plain precedence.
  [[nodiscard]] bool plain_precedence() const;
};

/// Refuses (code "bad_project", naming the activity) wrong sizes, negative values, unknown activities; a circle of
/// plain precedences is left to explain_infeasible (infeasibility.h).
[[nodiscard]] measure::Result<void> validate(const Project& project);

/// Mode and start of every activity, numbered as in the project.
struct Schedule {
  std::vector<int> mode;
  std::vector<Time> start;
  bool operator==(const Schedule&) const = default;
};

/// Last finish less the first possible start (0).
[[nodiscard]] Time makespan(const Project& project, const Schedule& schedule);

/// Every constraint the schedule breaks, one sentence each; empty = it holds. Starts must be >= 0. Written apart from
/// the decoders and sharing no code with them (check_schedule.cpp).
[[nodiscard]] std::vector<std::string> check_schedule(const Project& project, const Schedule& schedule);

/// Longest path with every activity in its shortest mode, resources ignored: a lower bound on the makespan, and the
/// base of published deviations. Refuses (code "positive_cycle") when lags go round in a circle of positive length.
[[nodiscard]] measure::Result<Time> critical_path(const Project& project);

/// The same project run backwards in time (lags reversed). For plain precedence the optimum is the same.
/// Range: plain precedence, or start-to-start lags with one mode per activity; asserts otherwise.
[[nodiscard]] Project mirrored(const Project& project);

}  // namespace stillroom::scheduling
