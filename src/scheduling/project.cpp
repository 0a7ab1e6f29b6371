#include "scheduling/project.h"

#include <algorithm>
#include <cassert>

namespace stillroom::scheduling {

namespace {

tl::unexpected<measure::Refusal> bad_project(std::string what) {
  return measure::refuse("bad_project", std::move(what), {"correct the project and try again"});
}

bool any_negative(const std::vector<Amount>& amounts) {
  return std::any_of(amounts.begin(), amounts.end(), [](Amount a) { return a < 0; });
}

Time shortest(const Activity& activity) {
  const auto shorter = [](const Mode& a, const Mode& b) { return a.duration < b.duration; };
  return std::min_element(activity.modes.begin(), activity.modes.end(), shorter)->duration;
}

}  // namespace

bool Project::plain_precedence() const {
  return std::all_of(lags.begin(), lags.end(),
                     [](const Lag& l) { return l.kind == Lag::Kind::finish_to_start && l.lag == 0; });
}

measure::Result<void> validate(const Project& project) {
  if (any_negative(project.renewable) || any_negative(project.nonrenewable))
    return bad_project("A resource has a negative capacity.");
  for (std::size_t i = 0; i < project.activities.size(); ++i) {
    const std::string who = "Activity " + std::to_string(i);
    if (project.activities[i].modes.empty()) return bad_project(who + " has no mode.");
    for (const Mode& m : project.activities[i].modes) {
      if (m.renewable.size() != project.renewable.size() || m.nonrenewable.size() != project.nonrenewable.size())
        return bad_project(who + " does not name a demand for every resource.");
      if (m.duration < 0 || any_negative(m.renewable) || any_negative(m.nonrenewable))
        return bad_project(who + " has a negative duration or demand.");
    }
  }
  const int n = static_cast<int>(project.activities.size());
  for (const Lag& l : project.lags)
    if (l.from < 0 || l.to < 0 || l.from >= n || l.to >= n || l.from == l.to)
      return bad_project("A lag joins activities " + std::to_string(l.from) + " and " + std::to_string(l.to) +
                         ", which it cannot.");
  return {};
}

Time makespan(const Project& project, const Schedule& schedule) {
  Time last = 0;
  for (std::size_t i = 0; i < project.activities.size(); ++i)
    last = std::max(last, schedule.start[i] + project.activities[i].modes[schedule.mode[i]].duration);
  return last;
}

measure::Result<Time> critical_path(const Project& project) {
  const std::size_t n = project.activities.size();
  std::vector<Time> start(n, 0);
  for (std::size_t round = 0; round <= n; ++round) {
    bool moved = false;
    for (const Lag& l : project.lags) {
      const Time before = l.kind == Lag::Kind::finish_to_start ? shortest(project.activities[l.from]) : 0;
      if (start[l.to] >= start[l.from] + before + l.lag) continue;
      start[l.to] = start[l.from] + before + l.lag;
      moved = true;
    }
    if (moved) continue;
    Time last = 0;
    for (std::size_t i = 0; i < n; ++i) last = std::max(last, start[i] + shortest(project.activities[i]));
    return last;
  }
  return measure::refuse("positive_cycle", "The lags go round in a circle that takes longer than no time.",
                         {"loosen one of the lags of the circle"});
}

Project mirrored(const Project& project) {
  Project out = project;
  for (Lag& l : out.lags) {
    // Start-to-start over a fixed duration: s_j >= s_i + L mirrors to s_i' >= s_j' + d_j - d_i + L.
    if (l.kind == Lag::Kind::start_to_start) {
      const auto &from = project.activities[l.from].modes, &to = project.activities[l.to].modes;
      assert(from.size() == 1 && to.size() == 1);
      l.lag += to.front().duration - from.front().duration;
    }
    std::swap(l.from, l.to);
  }
  return out;
}

}  // namespace stillroom::scheduling
