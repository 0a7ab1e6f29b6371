#pragma once

#include <algorithm>
#include <limits>
#include <optional>
#include <vector>

#include "measure/id.h"
#include "scheduling/project.h"

/// Small projects with known answers, random ones, and exact answers by trying everything. Shared by the tests of the
/// project engine; uses nothing of it but the project's own type and the checker.
namespace stillroom::scheduling::test {

inline Lag follows(int from, int to) { return {from, to, 0, Lag::Kind::finish_to_start}; }
inline Lag start_lag(int from, int to, Time lag) { return {from, to, lag, Lag::Kind::start_to_start}; }

/// One mode, one renewable demand.
inline Activity fixed(Time duration, Amount demand) { return {{{duration, {demand}, {}}}}; }

struct RandomShape {
  int activities = 5, modes = 3, longest = 5;
  Amount renewable = 6, demand = 4;
  double nonrenewable_share = 0.5;  ///< total = least + share x (most - least); 1 = never binds
  double arc_share = 0.3;
};

inline Project random_project(measure::Random& rng, const RandomShape& shape) {
  const auto up_to = [&](int most) { return 1 + static_cast<int>(rng.below(static_cast<unsigned>(most))); };
  Project p;
  p.renewable = {shape.renewable, shape.renewable};
  p.nonrenewable = {0};
  Amount least = 0, most = 0;
  for (int i = 0; i < shape.activities; ++i) {
    Activity a;
    for (int m = 0; m < shape.modes; ++m)
      a.modes.push_back({up_to(shape.longest), {up_to(shape.demand) - 1, up_to(shape.demand)}, {up_to(9)}});
    const auto [low, high] = std::minmax_element(a.modes.begin(), a.modes.end(), [](const Mode& x, const Mode& y) {
      return x.nonrenewable[0] < y.nonrenewable[0];
    });
    least += low->nonrenewable[0];
    most += high->nonrenewable[0];
    p.activities.push_back(a);
    for (int h = 0; h < i; ++h)
      if (rng.uniform() < shape.arc_share) p.lags.push_back(follows(h, i));
  }
  p.nonrenewable[0] = least + static_cast<Amount>(shape.nonrenewable_share * (most - least));
  return p;
}

/// Shortest makespan by trying every choice of modes and every start up to the horizon; nothing if there is no
/// schedule. For a handful of activities.
class Exhaustive {
 public:
  explicit Exhaustive(const Project& p) : p_(p), n_(p.activities.size()) {
    for (const Activity& a : p.activities) {
      Time longest = 0;
      for (const Mode& m : a.modes) longest = std::max(longest, m.duration);
      horizon_ += longest;
    }
    for (const Lag& l : p.lags) horizon_ += std::max(0, l.lag);
    best_ = horizon_ + 1;
    schedule_.mode.assign(n_, 0);
    schedule_.start.assign(n_, 0);
  }
  std::optional<Time> shortest() {
    choose(0, 0);
    return best_ > horizon_ ? std::nullopt : std::optional<Time>(best_);
  }

 private:
  /// Activities in their own order; each is checked against those before it.
  void choose(std::size_t i, Time last) {
    if (last >= best_) return;
    if (i == n_) {
      best_ = last;
      return;
    }
    for (int m = 0; m < static_cast<int>(p_.activities[i].modes.size()); ++m) {
      const Time d = p_.activities[i].modes[m].duration;
      for (Time t = 0; t + d < best_; ++t) {
        schedule_.mode[i] = m;
        schedule_.start[i] = t;
        if (holds(i)) choose(i + 1, std::max(last, t + d));
      }
    }
  }
  [[nodiscard]] bool holds(std::size_t last) const {
    const auto mode = [&](std::size_t i) -> const Mode& { return p_.activities[i].modes[schedule_.mode[i]]; };
    for (const Lag& l : p_.lags) {
      if (l.from > static_cast<int>(last) || l.to > static_cast<int>(last)) continue;
      const Time d = l.kind == Lag::Kind::finish_to_start ? mode(l.from).duration : 0;
      if (schedule_.start[l.to] < schedule_.start[l.from] + d + l.lag) return false;
    }
    for (std::size_t k = 0; k < p_.nonrenewable.size(); ++k) {
      Amount drawn = 0;
      for (std::size_t i = 0; i <= last; ++i) drawn += mode(i).nonrenewable[k];
      if (drawn > p_.nonrenewable[k]) return false;
    }
    for (std::size_t r = 0; r < p_.renewable.size(); ++r)
      for (Time t = schedule_.start[last]; t < schedule_.start[last] + mode(last).duration; ++t) {
        Amount used = 0;
        for (std::size_t i = 0; i <= last; ++i)
          if (schedule_.start[i] <= t && t < schedule_.start[i] + mode(i).duration) used += mode(i).renewable[r];
        if (used > p_.renewable[r]) return false;
      }
    return true;
  }

  const Project& p_;
  std::size_t n_;
  Time horizon_ = 0, best_ = 0;
  Schedule schedule_;
};

}  // namespace stillroom::scheduling::test
