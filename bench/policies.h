#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "planning/plan.h"

/// Simple policies: how a household without a planner might decide, each as good as it can sensibly be made. All obey
/// every constraint, take the way of each lot they value most at that moment, cut lots into batches, fall back to the
/// next way when one does not fit or no longer pays, shop once a week, and do the other work. docs/planning_seasons.md
/// says what each does.
namespace stillroom::bench {

/// What a policy made of a household.
struct PolicyResult {
  double worth = 0;                   ///< USD; for the random order the mean of its plans
  std::string variant;                ///< which of its variants was the best, in words
  std::vector<planning::Plan> plans;  ///< one; for the random order all of them
};

class Policies {
 public:
  /// Range: a household without a fault. It must outlive the policies.
  explicit Policies(const planning::Household& h);
  ~Policies();
  Policies(const Policies&) = delete;
  Policies& operator=(const Policies&) = delete;

  /// Short names: "first come", "spoils first", ..., "notebook", "random". The random order and the notebook come last.
  [[nodiscard]] static const std::vector<std::string_view>& names();

  /// The best of a policy's variants. `seed` and `orders` only matter for the random order.
  [[nodiscard]] PolicyResult run(std::string_view name, std::uint64_t seed = 1, int orders = 100);

 private:
  struct Kitchen;
  std::unique_ptr<Kitchen> kitchen_;
};

}  // namespace stillroom::bench
