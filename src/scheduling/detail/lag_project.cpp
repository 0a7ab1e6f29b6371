#include "scheduling/detail/lag_project.h"

#include <fmt/core.h>

#include <algorithm>

namespace stillroom::scheduling {

namespace {

/// Longest paths between all activities, kept closed while arcs are added.
class Distances {
 public:
  explicit Distances(int n) : n_(n), d_(static_cast<std::size_t>(n) * n, LagProject::kUnrelated) {
    for (int i = 0; i < n; ++i) at(i, i) = 0;
  }
  Time& at(int i, int j) { return d_[static_cast<std::size_t>(i) * n_ + j]; }
  void close() {
    for (int k = 0; k < n_; ++k)
      for (int i = 0; i < n_; ++i) through(i, k);
  }
  /// Adds start of j >= start of i + lag to closed distances.
  void add(int i, int j, Time lag) {
    if (lag <= at(i, j)) return;
    at(i, j) = lag;
    for (int h = 0; h < n_; ++h) {
      if (at(h, i) == LagProject::kUnrelated) continue;
      at(h, j) = std::max(at(h, j), at(h, i) + lag);
      through(h, j);
    }
  }
  std::vector<Time> take() { return std::move(d_); }

 private:
  void through(int i, int k) {
    const Time first = at(i, k);
    if (first == LagProject::kUnrelated) return;
    for (int j = 0; j < n_; ++j)
      if (at(k, j) != LagProject::kUnrelated) at(i, j) = std::max(at(i, j), first + at(k, j));
  }
  int n_;
  std::vector<Time> d_;
};

bool clash(const Project& p, int i, int j) {
  const Mode &a = p.activities[i].modes[0], &b = p.activities[j].modes[0];
  if (a.duration == 0 || b.duration == 0) return false;
  for (std::size_t r = 0; r < p.renewable.size(); ++r)
    if (a.renewable[r] + b.renewable[r] > p.renewable[r]) return true;
  return false;
}

/// Builds the only possible order into every clashing pair, until nothing changes.
std::optional<Infeasibility> settle_pairs(const Project& p, Distances& d) {
  const auto n = static_cast<int>(p.activities.size());
  for (bool changed = true; changed;) {
    changed = false;
    for (int i = 0; i < n; ++i)
      for (int j = i + 1; j < n; ++j) {
        if (!clash(p, i, j)) continue;
        const Time di = p.activities[i].modes[0].duration, dj = p.activities[j].modes[0].duration;
        if (d.at(i, j) >= di || d.at(j, i) >= dj) continue;  // in order already
        const bool i_first = d.at(j, i) + di <= 0, j_first = d.at(i, j) + dj <= 0;
        if (i_first && j_first) continue;
        if (!i_first && !j_first)
          return Infeasibility{"no_room_in_lags",
                               fmt::format("Activities {} and {} need the same resource and cannot run at once, but "
                                           "their lags leave no room for either order.",
                                           i + 1, j + 1),
                               {},
                               {},
                               {i, j}};
        if (i_first)
          d.add(i, j, di);
        else
          d.add(j, i, dj);
        changed = true;
      }
  }
  return std::nullopt;
}

}  // namespace

measure::Result<LagProject> LagProject::compile(const Project& project, std::optional<Infeasibility>& impossible) {
  LagProject c;
  c.activities = static_cast<int>(project.activities.size());
  const int n = c.activities;
  const auto lanes = Lanes::for_capacities(project.renewable);
  if (!lanes)
    return measure::refuse("too_wide", "The renewable resources are too many or too large for the dense profile.",
                           {"use a common divisor of demands and capacity as the unit"});
  c.guard = lanes->guard();
  c.full = lanes->full();
  for (const Activity& a : project.activities) {
    if (a.modes.size() != 1)
      return measure::refuse("unsupported_lags", "Time lags between activities with several modes are not supported.",
                             {"fix one mode per activity"});
    c.duration.push_back(a.modes[0].duration);
    c.demand.push_back(lanes->pack(a.modes[0].renewable));
  }
  Distances d(n);
  std::vector<Time> longest(c.duration);
  for (const Lag& l : project.lags) {
    const Time lag = l.lag + (l.kind == Lag::Kind::finish_to_start ? c.duration[l.from] : 0);
    d.at(l.from, l.to) = std::max(d.at(l.from, l.to), lag);
    longest[l.from] = std::max(longest[l.from], lag);
  }
  d.close();
  impossible = settle_pairs(project, d);
  if (impossible) return c;
  for (const Time t : longest) c.horizon += t;
  c.from_row = d.take();
  c.to_row.assign(c.from_row.size(), 0);
  c.head.assign(n, 0);
  c.tail.assign(n, 0);
  c.before.resize(n);
  c.after.resize(n);
  for (int i = 0; i < n; ++i)
    for (int j = 0; j < n; ++j) {
      const Time there = c.distance(i, j), back = c.distance(j, i);
      c.to_row[j * n + i] = there;
      c.head[j] = std::max(c.head[j], there);
      if (there > kUnrelated) c.tail[i] = std::max(c.tail[i], there + c.duration[j]);
      if (i != j && (there > 0 || (there == 0 && back < 0))) {
        c.before[j].push_back(i);
        c.after[i].push_back(j);
      }
    }
  for (int i = 0; i < n; ++i) c.lower_bound = std::max(c.lower_bound, c.head[i] + c.tail[i]);
  return c;
}

}  // namespace stillroom::scheduling
