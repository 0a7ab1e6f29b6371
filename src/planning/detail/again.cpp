#include "planning/detail/again.h"

#include <cmath>
#include <numeric>

#include "planning/detail/outlook.h"
#include "planning/detail/publish.h"
#include "planning/detail/solve.h"

namespace stillroom::planning::detail {

Again Asker::solve(const Household& changed) const {
  Again out;
  const Project project(changed);
  const PinnedList warm = list_from(project, plan_);
  PlanSearch teller(project);
  for (int i = 0; i < seeds_; ++i) {
    const Effort effort{.seed = options_.seed + static_cast<std::uint64_t>(i),
                        .schedules = std::max(1L, options_.max_schedules),
                        .seconds = 0,
                        .workers = options_.workers,
                        .threads = options_.threads,
                        .elapsed = {},
                        .cancelled = options_.cancelled,
                        .only_warm = true};
    const Solved solved = detail::solve(project, warm, effort);
    if (out.totals.empty() || solved.worth > *std::max_element(out.totals.begin(), out.totals.end())) {
      teller.load(solved.best);
      out.best = publish(teller.schedule(), teller.objective().terms());
      tell_outlooks(teller, out.best);
    }
    out.totals.push_back(solved.worth);
  }
  return out;
}

Difference less(const Again& base, const Again& other) {
  const std::size_t n = std::min(base.totals.size(), other.totals.size());
  if (n == 0) return {};
  std::vector<double> d(n);
  for (std::size_t i = 0; i < n; ++i) d[i] = base.totals[i] - other.totals[i];
  const double mean = std::accumulate(d.begin(), d.end(), 0.0) / static_cast<double>(n);
  double squares = 0;
  for (const double x : d) squares += (x - mean) * (x - mean);
  return {mean, n > 1 ? std::sqrt(squares / static_cast<double>(n - 1) / static_cast<double>(n)) : 0.0};
}

const LotOutlook* outlook_of(const Plan& plan, const std::string& lot) {
  const auto it = std::find_if(plan.lots.begin(), plan.lots.end(), [&](const auto& o) { return o.lot == lot; });
  return it == plan.lots.end() ? nullptr : &*it;
}

}  // namespace stillroom::planning::detail
