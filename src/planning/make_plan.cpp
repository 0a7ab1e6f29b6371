#include "planning/detail/outlook.h"
#include "planning/detail/publish.h"
#include "planning/detail/solve.h"
#include "planning/plan.h"
#include "planning/validate.h"

namespace stillroom::planning {

measure::Result<Plan> make_plan(const Household& h, const PlanOptions& options) {
  if (auto fault = fault_in(h)) return tl::unexpected(std::move(*fault));
  const detail::Project project(h);
  detail::PlanSearch teller(project);
  const auto tell = [&](const detail::Schedule::Snapshot& schedule, long schedules) {
    teller.load(schedule);
    Plan plan = detail::publish(teller.schedule(), teller.objective().terms());
    detail::tell_outlooks(teller, plan);
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
  if (options.on_better) better = [&](const detail::Schedule::Snapshot& s) { options.on_better(tell(s, 0)); };
  const detail::PinnedList warm =
      options.start_from ? detail::list_from(project, *options.start_from) : detail::list_from_in_force(project);
  const detail::Solved solved = detail::solve(project, warm, effort, better);
  return tell(solved.best, solved.schedules);
}

}  // namespace stillroom::planning
