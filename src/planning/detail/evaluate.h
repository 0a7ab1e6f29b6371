#pragma once

#include <string>
#include <vector>

#include "planning/detail/search.h"
#include "planning/plan.h"

namespace stillroom::planning::detail {

/// One wish of a policy, in names: what a person (or a simple rule) would put on the list next.
struct JobRequest {
  JobKind kind = JobKind::batch;
  std::string what;                       ///< route, place, other work; nothing for a trip
  std::vector<PlannedBatch::Part> parts;  ///< hold: the lot
  Minute not_before = 0;
};

/// Turns lists into plans that obey every constraint: each job in turn at its earliest place, what does not fit is left
/// out, no search. For simple policies, rehearsals and tests; keep one for many lists of one household.
class Evaluator {
 public:
  /// Range: a household without a fault (planning/validate.h). It must outlive the evaluator.
  explicit Evaluator(const Household& h);
  /// The plan of a list. Names that are not known are left out.
  [[nodiscard]] Plan decode(const std::vector<JobRequest>& list);
  /// Its worth alone, USD.
  [[nodiscard]] double worth(const std::vector<JobRequest>& list);

 private:
  [[nodiscard]] JobList jobs_of(const std::vector<JobRequest>& list) const;
  Project project_;
  PlanSearch search_;
};

}  // namespace stillroom::planning::detail
