#include "scheduling/project_search.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "scheduling/anneal.h"
#include "scheduling/detail/lag_state.h"
#include "scheduling/detail/project_state.h"

namespace stillroom::scheduling {

namespace {

constexpr int kWorkers = 2, kBarriers = 50;
/// One worker is drawn towards mode choices that leave room, the other is not: which of the two pays depends on whether
/// the work alone fills the makespan.
constexpr double kCrowdingWeight[kWorkers] = {0.1, 0};
/// Temperatures in mean mode durations: one period down to a twelfth where durations average five and a half. A
/// project of a dozen activities would be frozen long before its budget ends, so it is kept warmer to the end; from
/// kNotSmall activities on the end is cold.
constexpr double kStartTemperature = 0.2, kEndTemperature = 0.015, kEndWhenSmall = 0.07;
/// A long search has a second leg: one worker chooses the modes first and fits the list to them, the other is warmed up
/// again. A short search has no schedules to spare for either.
constexpr long kLongSchedules = 1'500'000;
constexpr double kLongSeconds = 3, kRestartAt = 0.6, kRestartTemperature = 0.05;
constexpr int kSmall = 12, kNotSmall = 20;  // activities

double end_temperature(int activities) {
  const double small = std::clamp(static_cast<double>(kNotSmall - activities) / (kNotSmall - kSmall), 0.0, 1.0);
  return std::lerp(kEndTemperature, kEndWhenSmall, small);
}

double mean_duration(const CompiledProject& p) {
  double sum = 0;
  for (const Time d : p.duration) sum += d;
  return p.duration.empty() || sum == 0 ? 1 : sum / static_cast<double>(p.duration.size());
}

bool is_long(const ProjectSearchOptions& options) {
  return (options.schedules == 0 || options.schedules >= kLongSchedules) &&
         (options.seconds == 0 || options.seconds >= kLongSeconds);
}

SearchOptions driver_options(const ProjectSearchOptions& options, double unit, int activities, Time lower_bound) {
  SearchOptions out;
  out.seed = options.seed;
  out.budget.schedules = options.schedules > 0 ? std::max(1L, options.schedules / kWorkers) : 0;
  out.budget.seconds = options.seconds;
  out.budget.elapsed = options.elapsed;
  out.budget.cancelled = options.cancelled;
  out.budget.good_enough = lower_bound;
  out.workers = kWorkers;
  out.threads = options.threads;
  out.barriers = kBarriers;
  out.start_temperature = kStartTemperature * unit;
  out.restart_temperature = kRestartTemperature * unit;
  out.end_temperature = end_temperature(activities) * unit;
  return out;
}

measure::Result<ProjectSearchResult> search_plain(const Project& project, const ProjectSearchOptions& options) {
  const auto compiled = CompiledProject::compile(project);
  if (!compiled) return tl::unexpected(compiled.error());
  std::vector<ProjectState> states;
  for (const double weight : kCrowdingWeight) states.emplace_back(*compiled, weight);
  const auto expand = [&](const ProjectState::Snapshot& s) { return compiled->expand(project, s.mode, s.start); };
  SearchOptions driver = driver_options(options, mean_duration(*compiled), compiled->activities, compiled->lower_bound);
  if (compiled->has_choice() && is_long(options)) driver.restart_at = kRestartAt;
  const auto found = anneal(std::span(states), driver, [&](const ProjectState::Snapshot& s, double) {
    if (options.on_better) options.on_better(expand(s), s.makespan);
  });
  ProjectSearchResult result;
  result.best = expand(found.best);
  result.makespan = found.best.makespan;
  result.lower_bound = compiled->lower_bound;
  result.statistics = found.statistics;
  return result;
}

measure::Result<ProjectSearchResult> search_lags(const Project& project, const ProjectSearchOptions& options) {
  ProjectSearchResult result;
  const auto compiled = LagProject::compile(project, result.impossible);
  if (!compiled) return tl::unexpected(compiled.error());
  if (result.impossible) return result;
  std::vector<LagState> states(kWorkers, LagState(*compiled));
  double unit = 0;
  for (const Time d : compiled->duration) unit += d;
  unit = std::max(1.0, unit / std::max(1, compiled->activities));
  const auto expand = [](const LagState::Snapshot& s) {
    return Schedule{std::vector<int>(s.start.size(), 0), s.start};
  };
  const auto found = anneal(std::span(states), driver_options(options, unit, kNotSmall, compiled->lower_bound),
                            [&](const LagState::Snapshot& s, double) {
                              if (options.on_better && s.makespan >= 0) options.on_better(expand(s), s.makespan);
                            });
  if (found.best.makespan >= 0) result.best = expand(found.best);
  result.makespan = std::max(0, found.best.makespan);
  result.lower_bound = compiled->lower_bound;
  result.statistics = found.statistics;
  return result;
}

}  // namespace

measure::Result<ProjectSearchResult> search_project(const Project& project, const ProjectSearchOptions& options) {
  if (const auto valid = validate(project); !valid) return tl::unexpected(valid.error());
  if (auto proof = explain_infeasible(project)) {
    ProjectSearchResult result;
    result.impossible = std::move(*proof);
    return result;
  }
  return project.plain_precedence() ? search_plain(project, options) : search_lags(project, options);
}

}  // namespace stillroom::scheduling
