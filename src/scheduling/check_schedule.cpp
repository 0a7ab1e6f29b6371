#include <fmt/core.h>

#include <map>

#include "scheduling/project.h"

/// Independent of the decoders: looks only at the project and at the answer, period by period where something changes.
namespace stillroom::scheduling {

namespace {

void check_modes(const Project& p, const Schedule& s, std::vector<std::string>& wrong) {
  for (std::size_t i = 0; i < p.activities.size(); ++i) {
    const auto modes = static_cast<int>(p.activities[i].modes.size());
    if (s.mode[i] < 0 || s.mode[i] >= modes)
      wrong.push_back(fmt::format("activity {} has no mode {} (modes 0 to {})", i, s.mode[i], modes - 1));
    if (s.start[i] < 0) wrong.push_back(fmt::format("activity {} starts at {}, before 0", i, s.start[i]));
  }
}

void check_lags(const Project& p, const Schedule& s, std::vector<std::string>& wrong) {
  for (const Lag& l : p.lags) {
    Time earliest = s.start[l.from] + l.lag;
    if (l.kind == Lag::Kind::finish_to_start) earliest += p.activities[l.from].modes[s.mode[l.from]].duration;
    if (s.start[l.to] < earliest)
      wrong.push_back(fmt::format("activity {} starts at {}, but activity {} lets it start at {} at the earliest", l.to,
                                  s.start[l.to], l.from, earliest));
  }
}

void check_renewable(const Project& p, const Schedule& s, std::size_t resource, std::vector<std::string>& wrong) {
  std::map<Time, long> change;
  for (std::size_t i = 0; i < p.activities.size(); ++i) {
    const Mode& m = p.activities[i].modes[s.mode[i]];
    change[s.start[i]] += m.renewable[resource];
    change[s.start[i] + m.duration] -= m.renewable[resource];
  }
  long in_use = 0;
  for (const auto& [when, delta] : change) {
    in_use += delta;
    if (in_use > p.renewable[resource])
      wrong.push_back(fmt::format("renewable resource {}: {} in use in period {}, capacity {}", resource, in_use, when,
                                  p.renewable[resource]));
  }
}

void check_nonrenewable(const Project& p, const Schedule& s, std::size_t resource, std::vector<std::string>& wrong) {
  long drawn = 0;
  for (std::size_t i = 0; i < p.activities.size(); ++i)
    drawn += p.activities[i].modes[s.mode[i]].nonrenewable[resource];
  if (drawn > p.nonrenewable[resource])
    wrong.push_back(
        fmt::format("non-renewable resource {}: {} drawn, total {}", resource, drawn, p.nonrenewable[resource]));
}

}  // namespace

std::vector<std::string> check_schedule(const Project& project, const Schedule& schedule) {
  std::vector<std::string> wrong;
  const std::size_t n = project.activities.size();
  if (schedule.mode.size() != n || schedule.start.size() != n) {
    wrong.push_back(
        fmt::format("{} activities, but {} modes and {} starts", n, schedule.mode.size(), schedule.start.size()));
    return wrong;
  }
  check_modes(project, schedule, wrong);
  if (!wrong.empty()) return wrong;
  check_lags(project, schedule, wrong);
  for (std::size_t r = 0; r < project.renewable.size(); ++r) check_renewable(project, schedule, r, wrong);
  for (std::size_t r = 0; r < project.nonrenewable.size(); ++r) check_nonrenewable(project, schedule, r, wrong);
  return wrong;
}

}  // namespace stillroom::scheduling
