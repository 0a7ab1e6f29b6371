#include "scheduling/infeasibility.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

namespace stillroom::scheduling {

namespace {

bool runs(const Project& p, const Mode& mode, const std::vector<int>& renewable) {
  return std::all_of(renewable.begin(), renewable.end(), [&](int r) { return mode.renewable[r] <= p.renewable[r]; });
}

/// A partial choice of modes: what it draws, its last mode and the choice it extends.
struct Choice {
  std::vector<Amount> drawn;
  int mode = 0;
  int before = 0;
};

bool dominates(const Choice& a, const Choice& b) {
  for (std::size_t k = 0; k < a.drawn.size(); ++k)
    if (a.drawn[k] > b.drawn[k]) return false;
  return true;
}

/// Keeps the choices that no other one undercuts in every resource.
void keep_undominated(std::vector<Choice>& choices) {
  std::sort(choices.begin(), choices.end(), [](const Choice& a, const Choice& b) { return a.drawn < b.drawn; });
  std::vector<Choice> kept;
  for (Choice& c : choices) {
    // In lexicographic order only an earlier choice can dominate; with two resources the last kept one decides.
    const bool pair = c.drawn.size() <= 2;
    const bool beaten = pair ? !kept.empty() && dominates(kept.back(), c)
                             : std::any_of(kept.begin(), kept.end(), [&](const Choice& k) { return dominates(k, c); });
    if (!beaten) kept.push_back(std::move(c));
  }
  choices = std::move(kept);
}

std::string names(const std::vector<int>& resources) {
  std::vector<int> numbers(resources);
  for (int& r : numbers) ++r;
  return fmt::format("{}", fmt::join(numbers, " and "));
}

std::vector<int> all_of_them(std::size_t count) {
  std::vector<int> out(count);
  std::iota(out.begin(), out.end(), 0);
  return out;
}

/// Calls `use` with every subset of {0..count-1} of the given size until it returns true.
template <class Use>
bool any_subset(int count, int size, std::vector<int>& chosen, int from, const Use& use) {
  if (static_cast<int>(chosen.size()) == size) return use(chosen);
  for (int r = from; r < count; ++r) {
    chosen.push_back(r);
    if (any_subset(count, size, chosen, r + 1, use)) return true;
    chosen.pop_back();
  }
  return false;
}

/// Least total of one resource over all choices of modes that may run.
long least_total(const Project& p, int resource, const std::vector<int>& renewable) {
  long total = 0;
  for (const Activity& a : p.activities) {
    Amount least = std::numeric_limits<Amount>::max();
    for (const Mode& m : a.modes)
      if (runs(p, m, renewable)) least = std::min(least, m.nonrenewable[resource]);
    total += least;
  }
  return total;
}

std::optional<Infeasibility> activity_too_large(const Project& p) {
  for (std::size_t i = 0; i < p.activities.size(); ++i) {
    const auto& modes = p.activities[i].modes;
    std::vector<int> in_the_way;
    for (const Mode& m : modes) {
      int exceeded = -1;
      for (std::size_t r = 0; r < p.renewable.size() && exceeded < 0; ++r)
        if (m.renewable[r] > p.renewable[r]) exceeded = static_cast<int>(r);
      if (exceeded < 0) {
        in_the_way.clear();
        break;
      }
      in_the_way.push_back(exceeded);
    }
    if (in_the_way.empty()) continue;
    std::sort(in_the_way.begin(), in_the_way.end());
    in_the_way.erase(std::unique(in_the_way.begin(), in_the_way.end()), in_the_way.end());
    return Infeasibility{"activity_too_large",
                         fmt::format("Activity {} asks for more of renewable resource {} than exists, in every mode.",
                                     i + 1, names(in_the_way)),
                         in_the_way,
                         {},
                         {static_cast<int>(i)}};
  }
  return std::nullopt;
}

std::optional<Infeasibility> modes_do_not_fit(const Project& p) {
  const auto count_r = static_cast<int>(p.renewable.size()), count_n = static_cast<int>(p.nonrenewable.size());
  if (fitting_modes(p, all_of_them(p.nonrenewable.size()), all_of_them(p.renewable.size()))) return std::nullopt;
  // Smallest set of limits that clash: fewest non-renewables first, then fewest renewables that bar modes.
  for (int size = 1; size <= count_n + count_r; ++size)
    for (int of_n = std::min(size, count_n); of_n >= 1; --of_n) {
      std::optional<Infeasibility> found;
      std::vector<int> chosen_n;
      any_subset(count_n, of_n, chosen_n, 0, [&](const std::vector<int>& n) {
        std::vector<int> chosen_r;
        return any_subset(count_r, size - of_n, chosen_r, 0, [&](const std::vector<int>& r) {
          if (fitting_modes(p, n, r)) return false;
          std::string message =
              n.size() == 1
                  ? fmt::format("Non-renewable resource {} cannot be met: even the least demanding modes draw {} of {}",
                                n[0] + 1, least_total(p, n[0], r), p.nonrenewable[n[0]])
                  : fmt::format(
                        "Non-renewable resources {} cannot be met together: no choice of modes fits all of them",
                        names(n));
          if (!r.empty()) message += fmt::format(", since renewable resource {} rules out some modes", names(r));
          found = Infeasibility{"nonrenewable_exceeded", message + ".", r, n, {}};
          return true;
        });
      });
      if (found) return found;
    }
  return std::nullopt;
}

/// Longest-path labels that still grow after n rounds have a circle behind them; walks back to find it.
std::optional<Infeasibility> circle(const Project& p) {
  const std::size_t n = p.activities.size();
  const long least_step = p.plain_precedence() ? 1 : 0;  // a circle of activities that take no time is still a circle
  std::vector<long> label(n, 0);
  std::vector<int> came_from(n, -1);
  int grown = -1;
  for (std::size_t round = 0; round <= n; ++round) {
    grown = -1;
    for (const Lag& l : p.lags) {
      long shortest = 0;
      if (l.kind == Lag::Kind::finish_to_start) {
        const auto& modes = p.activities[l.from].modes;
        shortest = std::min_element(modes.begin(), modes.end(), [](const Mode& a, const Mode& b) {
                     return a.duration < b.duration;
                   })->duration;
        shortest = std::max(shortest, least_step);
      }
      if (label[l.to] >= label[l.from] + shortest + l.lag) continue;
      label[l.to] = label[l.from] + shortest + l.lag;
      came_from[l.to] = l.from;
      grown = l.to;
    }
    if (grown < 0) return std::nullopt;
  }
  for (std::size_t k = 0; k < n; ++k) grown = came_from[grown];  // now surely on the circle
  std::vector<int> members{grown};
  for (int i = came_from[grown]; i != grown; i = came_from[i]) members.push_back(i);
  std::reverse(members.begin(), members.end());
  std::vector<int> numbers(members);
  for (int& i : numbers) ++i;
  return Infeasibility{p.plain_precedence() ? "circular_precedence" : "positive_cycle",
                       fmt::format("The lags among activities {} go round in a circle that takes longer than no time.",
                                   fmt::join(numbers, ", ")),
                       {},
                       {},
                       members};
}

}  // namespace

std::optional<std::vector<int>> fitting_modes(const Project& p, const std::vector<int>& nonrenewable_considered,
                                              const std::vector<int>& renewable_considered) {
  const std::size_t n = p.activities.size(), width = nonrenewable_considered.size();
  // least_after[i][k]: what activities i.. draw at least, to drop choices that cannot be completed.
  std::vector<std::vector<long>> least_after(n + 1, std::vector<long>(width, 0));
  for (std::size_t i = n; i-- > 0;) {
    std::vector<Amount> least(width, std::numeric_limits<Amount>::max());
    bool any = false;
    for (const Mode& m : p.activities[i].modes) {
      if (!runs(p, m, renewable_considered)) continue;
      any = true;
      for (std::size_t k = 0; k < width; ++k) least[k] = std::min(least[k], m.nonrenewable[nonrenewable_considered[k]]);
    }
    if (!any) return std::nullopt;
    for (std::size_t k = 0; k < width; ++k) least_after[i][k] = least_after[i + 1][k] + least[k];
  }
  std::vector<std::vector<Choice>> layers(n + 1);
  layers[0].push_back({std::vector<Amount>(width, 0), 0, 0});
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t before = 0; before < layers[i].size(); ++before)
      for (std::size_t m = 0; m < p.activities[i].modes.size(); ++m) {
        const Mode& mode = p.activities[i].modes[m];
        if (!runs(p, mode, renewable_considered)) continue;
        Choice next{layers[i][before].drawn, static_cast<int>(m), static_cast<int>(before)};
        bool fits = true;
        for (std::size_t k = 0; k < width && fits; ++k) {
          const int r = nonrenewable_considered[k];
          next.drawn[k] += mode.nonrenewable[r];
          fits = next.drawn[k] + least_after[i + 1][k] <= p.nonrenewable[r];
        }
        if (fits) layers[i + 1].push_back(std::move(next));
      }
    keep_undominated(layers[i + 1]);
    if (layers[i + 1].empty()) return std::nullopt;
  }
  std::vector<int> modes(n);
  int at = 0;
  for (std::size_t i = n; i > 0; --i) {
    modes[i - 1] = layers[i][at].mode;
    at = layers[i][at].before;
  }
  return modes;
}

std::optional<Infeasibility> explain_infeasible(const Project& project) {
  if (auto found = circle(project)) return found;
  if (auto found = activity_too_large(project)) return found;
  return modes_do_not_fit(project);
}

}  // namespace stillroom::scheduling
