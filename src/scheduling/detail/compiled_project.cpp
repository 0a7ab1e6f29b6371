#include "scheduling/detail/compiled_project.h"

#include <algorithm>
#include <numeric>

#include "scheduling/infeasibility.h"

namespace stillroom::scheduling {

namespace {

/// Which modes and resources are left. Shrinks until nothing more goes.
class Reducer {
 public:
  explicit Reducer(const Project& p)
      : p_(p), renewable_(p.renewable.size(), true), nonrenewable_(p.nonrenewable.size(), true) {
    for (const Activity& a : p.activities) kept_.emplace_back(a.modes.size(), true);
    while (drop_impossible_modes() || drop_idle_resources() || drop_dominated_modes()) {
    }
  }
  [[nodiscard]] bool kept(std::size_t activity, std::size_t mode) const { return kept_[activity][mode]; }
  [[nodiscard]] std::vector<int> renewable() const { return indices(renewable_); }
  [[nodiscard]] std::vector<int> nonrenewable() const { return indices(nonrenewable_); }

 private:
  static std::vector<int> indices(const std::vector<bool>& flags) {
    std::vector<int> out;
    for (std::size_t k = 0; k < flags.size(); ++k)
      if (flags[k]) out.push_back(static_cast<int>(k));
    return out;
  }

  /// Least (or greatest) total of a non-renewable over the modes left.
  template <class Better>
  [[nodiscard]] Amount extreme(std::size_t i, std::size_t k, Better better) const {
    bool first = true;
    Amount best = 0;
    for (std::size_t m = 0; m < kept_[i].size(); ++m) {
      if (!kept_[i][m]) continue;
      const Amount a = p_.activities[i].modes[m].nonrenewable[k];
      if (first || better(a, best)) best = a;
      first = false;
    }
    return best;
  }

  bool drop_impossible_modes() {
    bool changed = false;
    const std::size_t n = kept_.size(), resources = nonrenewable_.size();
    std::vector<long> least(resources, 0);
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t k = 0; k < resources; ++k) least[k] += extreme(i, k, std::less<>());
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t m = 0; m < kept_[i].size(); ++m) {
        if (!kept_[i][m]) continue;
        const Mode& mode = p_.activities[i].modes[m];
        bool possible = true;
        for (std::size_t r = 0; r < p_.renewable.size(); ++r) possible &= mode.renewable[r] <= p_.renewable[r];
        for (std::size_t k = 0; k < resources; ++k)
          possible &= least[k] - extreme(i, k, std::less<>()) + mode.nonrenewable[k] <= p_.nonrenewable[k];
        if (possible) continue;
        kept_[i][m] = false;
        return true;  // the least totals have moved
      }
    return changed;
  }

  bool drop_idle_resources() {
    bool changed = false;
    for (std::size_t k = 0; k < nonrenewable_.size(); ++k) {
      long most = 0;
      for (std::size_t i = 0; i < kept_.size(); ++i) most += extreme(i, k, std::greater<>());
      if (!nonrenewable_[k] || most > p_.nonrenewable[k]) continue;
      nonrenewable_[k] = false;
      changed = true;
    }
    for (std::size_t r = 0; r < renewable_.size(); ++r) {
      long most = 0;
      for (std::size_t i = 0; i < kept_.size(); ++i) {
        Amount largest = 0;
        for (std::size_t m = 0; m < kept_[i].size(); ++m)
          if (kept_[i][m]) largest = std::max(largest, p_.activities[i].modes[m].renewable[r]);
        most += largest;
      }
      if (!renewable_[r] || most > p_.renewable[r]) continue;
      renewable_[r] = false;
      changed = true;
    }
    return changed;
  }

  [[nodiscard]] bool dominates(const Mode& a, const Mode& b) const {
    bool no_worse = a.duration <= b.duration;
    for (std::size_t r = 0; r < renewable_.size(); ++r) no_worse &= !renewable_[r] || a.renewable[r] <= b.renewable[r];
    for (std::size_t k = 0; k < nonrenewable_.size(); ++k)
      no_worse &= !nonrenewable_[k] || a.nonrenewable[k] <= b.nonrenewable[k];
    return no_worse;
  }

  bool drop_dominated_modes() {
    bool changed = false;
    for (std::size_t i = 0; i < kept_.size(); ++i)
      for (std::size_t m = 0; m < kept_[i].size(); ++m)
        for (std::size_t other = 0; other < kept_[i].size() && kept_[i][m]; ++other) {
          if (other == m || !kept_[i][other]) continue;
          if (!dominates(p_.activities[i].modes[other], p_.activities[i].modes[m])) continue;
          kept_[i][m] = false;
          changed = true;
        }
    return changed;
  }

  const Project& p_;
  std::vector<std::vector<bool>> kept_;
  std::vector<bool> renewable_, nonrenewable_;
};

/// Direct precedences among the activities that take part, without the implied ones, in topological order.
class Network {
 public:
  explicit Network(const Project& p) : successors_(p.activities.size()), inner_(p.activities.size(), true) {
    const std::size_t n = p.activities.size();
    std::vector<std::vector<int>> raw(n), raw_pred(n);
    std::vector<int> waiting(n, 0);
    for (const Lag& l : p.lags) {
      raw[l.from].push_back(l.to);
      raw_pred[l.to].push_back(l.from);
      ++waiting[l.to];
    }
    for (std::size_t i = 0; i < n; ++i)
      if (waiting[i] == 0) order_.push_back(static_cast<int>(i));
    for (std::size_t at = 0; at < order_.size(); ++at)
      for (const int next : raw[order_[at]])
        if (--waiting[next] == 0) order_.push_back(next);
    drop_timeless_ends(p, raw, raw_pred);
    reduce(raw);
  }
  [[nodiscard]] const std::vector<int>& order() const { return order_; }
  [[nodiscard]] const std::vector<int>& successors(int i) const { return successors_[i]; }

 private:
  void drop_timeless_ends(const Project& p, const std::vector<std::vector<int>>& raw,
                          const std::vector<std::vector<int>>& raw_pred) {
    const auto timeless = [&](int i) {
      const auto& modes = p.activities[i].modes;
      return modes.size() == 1 && modes[0].duration == 0 &&
             std::all_of(modes[0].nonrenewable.begin(), modes[0].nonrenewable.end(), [](Amount a) { return a == 0; });
    };
    const auto none_inner = [&](const std::vector<int>& v) {
      return std::none_of(v.begin(), v.end(), [&](int j) { return static_cast<bool>(inner_[j]); });
    };
    for (const int i : order_)
      if (timeless(i) && none_inner(raw_pred[i])) inner_[i] = false;
    for (auto it = order_.rbegin(); it != order_.rend(); ++it)
      if (timeless(*it) && none_inner(raw[*it])) inner_[*it] = false;
    order_.erase(std::remove_if(order_.begin(), order_.end(), [&](int i) { return !inner_[i]; }), order_.end());
  }

  void reduce(const std::vector<std::vector<int>>& raw) {
    const std::size_t n = raw.size();
    std::vector<std::vector<bool>> reach(n, std::vector<bool>(n, false));
    std::vector<int> place(n, 0);
    for (std::size_t k = 0; k < order_.size(); ++k) place[order_[k]] = static_cast<int>(k);
    for (auto it = order_.rbegin(); it != order_.rend(); ++it) {
      std::vector<int> next;
      for (const int j : raw[*it])
        if (inner_[j]) next.push_back(j);
      std::sort(next.begin(), next.end(), [&](int a, int b) { return place[a] < place[b]; });
      for (const int j : next) {
        if (reach[*it][j]) continue;  // implied by an earlier successor, or a repeat
        successors_[*it].push_back(j);
        reach[*it][j] = true;
        for (std::size_t k = 0; k < n; ++k)
          if (reach[j][k]) reach[*it][k] = true;
      }
    }
  }

  std::vector<int> order_;
  std::vector<std::vector<int>> successors_;
  std::vector<bool> inner_;
};

void lay_out_network(const Network& net, CompiledProject& c) {
  const auto n = static_cast<std::size_t>(c.activities);
  std::vector<int> number(*std::max_element(c.original.begin(), c.original.end()) + 1, -1);
  for (std::size_t i = 0; i < n; ++i) number[c.original[i]] = static_cast<int>(i);
  std::vector<std::vector<int>> preds(n);
  for (std::size_t i = 0; i < n; ++i) {
    c.succ_begin.push_back(static_cast<int>(c.succ.size()));
    for (const int j : net.successors(c.original[i])) {
      c.succ.push_back(number[j]);
      preds[number[j]].push_back(static_cast<int>(i));
    }
  }
  c.succ_begin.push_back(static_cast<int>(c.succ.size()));
  for (std::size_t i = 0; i < n; ++i) {
    c.pred_begin.push_back(static_cast<int>(c.pred.size()));
    c.pred.insert(c.pred.end(), preds[i].begin(), preds[i].end());
  }
  c.pred_begin.push_back(static_cast<int>(c.pred.size()));
}

/// False if the renewable capacities do not fit one word.
bool lay_out_modes(const Project& p, const Reducer& left, CompiledProject& c) {
  const std::vector<int> renewable = left.renewable(), nonrenewable = left.nonrenewable();
  for (const int r : renewable) c.capacity.push_back(p.renewable[r]);
  const auto lanes = Lanes::for_capacities(c.capacity);
  if (!lanes) return false;
  c.guard = lanes->guard();
  c.full = lanes->full();
  std::vector<Amount> demand(renewable.size());
  for (const int original : c.original) {
    c.mode_begin.push_back(static_cast<int>(c.duration.size()));
    const auto& modes = p.activities[original].modes;
    std::vector<int> kept;
    for (std::size_t m = 0; m < modes.size(); ++m)
      if (left.kept(original, m)) kept.push_back(static_cast<int>(m));
    std::stable_sort(kept.begin(), kept.end(), [&](int a, int b) { return modes[a].duration < modes[b].duration; });
    for (const int m : kept) {
      c.mode_original.push_back(m);
      c.duration.push_back(modes[m].duration);
      for (std::size_t k = 0; k < renewable.size(); ++k) demand[k] = modes[m].renewable[renewable[k]];
      c.demand.push_back(lanes->pack(demand));
      for (const int r : renewable) c.work.push_back(modes[m].duration * modes[m].renewable[r]);
      for (const int k : nonrenewable) c.draw.push_back(modes[m].nonrenewable[k]);
    }
  }
  c.mode_begin.push_back(static_cast<int>(c.duration.size()));
  c.renewables = static_cast<int>(renewable.size());
  c.nonrenewables = static_cast<int>(nonrenewable.size());
  for (const int k : nonrenewable) c.total.push_back(p.nonrenewable[k]);
  return true;
}

void set_bounds(const Project& p, const Reducer& left, CompiledProject& c) {
  const auto n = static_cast<std::size_t>(c.activities);
  c.head.assign(n, 0);
  c.tail.assign(n, 0);
  std::vector<long> work(p.renewable.size(), 0);
  for (std::size_t i = 0; i < n; ++i) {
    const Time shortest = c.duration[c.mode_begin[i]];  // modes are sorted by duration
    c.horizon += c.duration[c.mode_begin[i + 1] - 1];
    for (int s = c.succ_begin[i]; s < c.succ_begin[i + 1]; ++s)
      c.head[c.succ[s]] = std::max(c.head[c.succ[s]], c.head[i] + shortest);
    c.lower_bound = std::max(c.lower_bound, c.head[i] + shortest);
    for (std::size_t r = 0; r < work.size(); ++r) {
      long least = std::numeric_limits<long>::max();
      for (int m = c.mode_begin[i]; m < c.mode_begin[i + 1]; ++m)
        least = std::min(least, static_cast<long>(c.duration[m]) *
                                    p.activities[c.original[i]].modes[c.mode_original[m]].renewable[r]);
      work[r] += least;
    }
  }
  for (std::size_t i = n; i-- > 0;)
    for (int s = c.succ_begin[i]; s < c.succ_begin[i + 1]; ++s)
      c.tail[i] = std::max(c.tail[i], c.tail[c.succ[s]] + c.duration[c.mode_begin[c.succ[s]]]);
  for (const int r : left.renewable())
    if (p.renewable[r] > 0)
      c.lower_bound = std::max(c.lower_bound, static_cast<Time>((work[r] + p.renewable[r] - 1) / p.renewable[r]));
}

/// The exact mode choice found by the infeasibility check, in compiled numbers (a dropped mode gives way to the mode
/// that dominates it, which draws no more).
void set_fitting(const Project& p, const Reducer& left, CompiledProject& c) {
  Project reduced = p;
  std::vector<std::vector<int>> kept(p.activities.size());
  for (std::size_t i = 0; i < p.activities.size(); ++i) {
    reduced.activities[i].modes.clear();
    for (std::size_t m = 0; m < p.activities[i].modes.size(); ++m)
      if (left.kept(i, m)) {
        reduced.activities[i].modes.push_back(p.activities[i].modes[m]);
        kept[i].push_back(static_cast<int>(m));
      }
  }
  const auto modes = fitting_modes(reduced, left.nonrenewable(), left.renewable());
  for (int i = 0; i < c.activities; ++i) {
    const int original = c.original[i], wanted = kept[original][(*modes)[original]];
    for (int m = c.mode_begin[i]; m < c.mode_begin[i + 1]; ++m)
      if (c.mode_original[m] == wanted) c.fitting.push_back(m);
  }
}

}  // namespace

measure::Result<CompiledProject> CompiledProject::compile(const Project& project) {
  if (auto valid = validate(project); !valid) return tl::unexpected(valid.error());
  if (!project.plain_precedence())
    return measure::refuse("not_plain", "The project has time lags; this engine handles plain precedence only.",
                           {"use the engine for time lags"});
  if (const auto proof = explain_infeasible(project))
    return measure::refuse("no_schedule", proof->message, {"loosen the limit that is named"});
  const Reducer left(project);
  const Network net(project);
  CompiledProject c;
  c.original = net.order();
  c.activities = static_cast<int>(c.original.size());
  if (c.activities > 0) lay_out_network(net, c);
  if (!lay_out_modes(project, left, c))
    return measure::refuse("too_wide", "The renewable resources are too many or too large for the dense profile.",
                           {"use a common divisor of demands and capacity as the unit"});
  set_bounds(project, left, c);
  set_fitting(project, left, c);
  return c;
}

Schedule CompiledProject::expand(const Project& project, const std::vector<int>& mode,
                                 const std::vector<Time>& start) const {
  Schedule out;
  out.mode.assign(project.activities.size(), 0);
  out.start.assign(project.activities.size(), kEarliest);
  for (int i = 0; i < activities; ++i) {
    out.mode[original[i]] = mode_original[mode[i]];
    out.start[original[i]] = start[i];
  }
  // What was left out takes no time: it starts as soon as everything before it has finished.
  for (Time& t : out.start)
    if (t == kEarliest) t = 0;
  for (std::size_t round = 0; round <= project.lags.size(); ++round) {
    bool moved = false;
    for (const Lag& l : project.lags) {
      const Time finish = out.start[l.from] + project.activities[l.from].modes[out.mode[l.from]].duration;
      if (out.start[l.to] >= finish) continue;
      out.start[l.to] = finish;
      moved = true;
    }
    if (!moved) break;
  }
  return out;
}

}  // namespace stillroom::scheduling
