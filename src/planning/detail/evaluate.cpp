#include "planning/detail/evaluate.h"

#include "planning/detail/outlook.h"
#include "planning/detail/publish.h"

namespace stillroom::planning::detail {
namespace {

template <class List, class Key>
int index_where(const List& list, Key key) {
  for (std::size_t i = 0; i < list.size(); ++i)
    if (key(list[i])) return static_cast<int>(i);
  return -1;
}

}  // namespace

Evaluator::Evaluator(const Household& h) : project_(h), search_(project_) {}

JobList Evaluator::jobs_of(const std::vector<JobRequest>& list) const {
  const Household& h = project_.h;
  JobList jobs;
  for (const JobRequest& wish : list) {
    Job job{.kind = wish.kind, .not_before = wish.not_before};
    const auto named = [&](const auto& item) { return item.key == wish.what; };
    switch (wish.kind) {
      case JobKind::batch:
        job.what = index_where(h.routes, named);
        break;
      case JobKind::hold:
        job.what = index_where(h.places, named);
        break;
      case JobKind::other:
        job.what = index_where(h.other, named);
        break;
      case JobKind::trip:
        break;
    }
    bool known = job.what >= 0 && wish.parts.size() <= kMostParts;
    for (const auto& part : wish.parts) {
      const int lot = index_where(h.lots, [&](const Lot& l) { return l.id == part.lot; });
      known = known && lot >= 0;
      if (known) job.add(lot, part.kg);
    }
    if (known && (job.size > 0 || wish.kind == JobKind::other || wish.kind == JobKind::trip)) jobs.push_back(job);
  }
  return jobs;
}

Plan Evaluator::decode(const std::vector<JobRequest>& list) {
  search_.fill_with(jobs_of(list));
  Plan plan = publish(search_.schedule(), search_.objective().terms());
  plan.schedules = 1;
  tell_outlooks(search_, plan);
  return plan;
}

double Evaluator::worth(const std::vector<JobRequest>& list) {
  search_.fill_with(jobs_of(list));
  return search_.objective().terms().total();
}

}  // namespace stillroom::planning::detail
