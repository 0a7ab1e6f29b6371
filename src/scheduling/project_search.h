#pragma once

#include <functional>
#include <optional>

#include "scheduling/infeasibility.h"
#include "scheduling/project.h"
#include "scheduling/search_types.h"

namespace stillroom::scheduling {

struct ProjectSearchOptions {
  std::uint64_t seed = 1;
  long schedules = 50'000;                               ///< in all; 0 = no limit, then `seconds` must be set
  double seconds = 0;                                    ///< 0 = no limit; needs `elapsed`
  int threads = 2;                                       ///< never changes the result of a schedule budget
  std::function<double()> elapsed;                       ///< seconds since the start; called from every thread
  std::function<bool()> cancelled;                       ///< may be empty
  std::function<void(const Schedule&, Time)> on_better;  ///< anytime; one call at a time; may be empty
};

struct ProjectSearchResult {
  std::optional<Schedule> best;             ///< nothing: none found
  Time makespan = 0;                        ///< of best
  Time lower_bound = 0;                     ///< proved; best is optimal if it meets it
  std::optional<Infeasibility> impossible;  ///< a proof that there is no schedule
  SearchStatistics statistics;              ///< statistics.schedules: complete schedules generated
};

/// Shortest schedule found for a project: plain precedence with any number of modes, or start-to-start lags (minimum
/// and maximum) with one mode per activity. Two logical workers; same seed and schedule budget, same answer on any
/// thread count. Every schedule returned keeps every constraint (check_schedule.cpp). Stops early at the lower bound.
/// Refuses (code "bad_project") an invalid project; (code "too_wide", "unsupported_lags") what the engine cannot hold.
/// Page docs/science/scheduling.md; held by tests/scheduling/project_search_test.cpp.
[[nodiscard]] measure::Result<ProjectSearchResult> search_project(const Project& project,
                                                                  const ProjectSearchOptions& options);

}  // namespace stillroom::scheduling
