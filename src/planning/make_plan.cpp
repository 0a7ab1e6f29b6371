#include "planning/detail/publish.h"
#include "planning/detail/solve.h"
#include "planning/outlook.h"
#include "planning/plan.h"
#include "planning/validate.h"

namespace stillroom::planning {

measure::Result<Plan> make_plan(const Household& h, const PlanOptions& options) {
  if (auto fault = fault_in(h)) return tl::unexpected(std::move(*fault));
  const detail::Project project(h);
  detail::PlanSearch teller(project, {});
  const auto tell = [&](const detail::JobList& list, long schedules) {
    const double cost = teller.cost_of(list);
    (void)cost;
    Plan plan = detail::publish(teller.decoder(), teller.objective().terms());
    fill_outlooks(h, plan);
    plan.schedules = schedules;
    plan.seed = options.seed;
    return plan;
  };
  const detail::Effort effort{.seed = options.seed,
                              .schedules = options.max_schedules,
                              .seconds = options.max_seconds,
                              .workers = options.workers,
                              .threads = options.threads,
                              .elapsed = options.elapsed,
                              .cancelled = options.cancelled};
  detail::OnBetter better;
  if (options.on_better) better = [&](const detail::JobList& list) { options.on_better(tell(list, 0)); };
  const detail::Solved solved = detail::solve(project, detail::list_from_in_force(project), effort, better);
  return tell(solved.list, solved.schedules);
}

}  // namespace stillroom::planning
