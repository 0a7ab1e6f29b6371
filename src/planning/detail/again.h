#pragma once

#include "planning/plan.h"

namespace stillroom::planning::detail {

/// A plan made again for a household that differs a little: totals with a few seeds, and the best of them.
struct Again {
  std::vector<double> totals;
  Plan best;
};

/// Plans again from the plan in question, with the same seeds and step budget each time, so that differences are due
/// to what was changed.
class Asker {
 public:
  Asker(const Plan& plan, const PlanOptions& options, int seeds) : plan_(plan), options_(options), seeds_(seeds) {}
  [[nodiscard]] Again solve(const Household& changed) const;
  [[nodiscard]] bool cancelled() const { return options_.cancelled && options_.cancelled(); }

 private:
  const Plan& plan_;
  const PlanOptions& options_;
  int seeds_;
};

struct Difference {
  double mean = 0, noise = 0;
};
/// `base` less `other`, seed by seed, so that what both share drops out; the noise is the standard error of the mean.
[[nodiscard]] Difference less(const Again& base, const Again& other);

inline constexpr double kLetGoShare = 0.05;  ///< of a lot: less is a rest, not a lot let go
/// The outlook of a lot in a plan; nullptr when it is not in it.
[[nodiscard]] const LotOutlook* outlook_of(const Plan& plan, const std::string& lot);

}  // namespace stillroom::planning::detail
