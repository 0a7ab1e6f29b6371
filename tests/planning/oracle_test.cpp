#include "planning/oracle.h"

#include <gtest/gtest.h>

#include "planning/bound.h"
#include "planning/seasons.h"

namespace stillroom::planning {
namespace {

/// A tenth of a percent: how a few grams are split between two batches is not held against the search.
constexpr double kClose = 1e-3;
/// Share of them that the search must reach; 0.95 are reached now. What is missed are sizes: two batches that share
/// jars, canner loads or freezer room would be worth a little more with food moved from one to the other.
constexpr double kReached = 0.9;

TEST(Oracle, IsMetByTheCheckerTheBoundAndMostlyTheSearch) {
  int reached = 0;
  double worst = 0;
  const int all = test::thorough() ? 100 : 6;
  for (int seed = 1; seed <= all; ++seed) {
    SCOPED_TRACE(seed);
    const Household h = test::hourly_household(static_cast<std::uint64_t>(seed));
    const test::OraclePlan best = test::best_on_the_hour(h);
    ASSERT_TRUE(best.proven);
    EXPECT_EQ(check_plan(h, best.plan), std::vector<std::string>{});
    EXPECT_NEAR(best.plan.terms.total(), best.value, 1e-3);

    const auto most = bound(h);
    ASSERT_TRUE(most);
    EXPECT_GE(most->value, best.value - 1e-4);

    PlanOptions options;
    options.max_schedules = 100000;  // a second
    options.seed = static_cast<std::uint64_t>(seed);
    const auto plan = make_plan(h, options);
    ASSERT_TRUE(plan);
    EXPECT_LE(plan->terms.total(), most->value);
    const double missed = (best.value - plan->terms.total()) / best.value;
    worst = std::max(worst, missed);
    if (missed <= kClose) {
      ++reached;
    } else {
      std::printf("seed %d: %.2f of %.2f USD\n", seed, plan->terms.total(), best.value);
    }
  }
  std::printf("reached %d of %d, worst %.1f %% below\n", reached, all, 100 * worst);
  EXPECT_GE(reached, kReached * all);
}

}  // namespace
}  // namespace stillroom::planning
