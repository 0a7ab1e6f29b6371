#include <gtest/gtest.h>

#include "bench/policies.h"
#include "bench/reference.h"
#include "bench/seasons.h"
#include "planning/seasons.h"
#include "planning/small.h"

namespace stillroom::planning {
namespace {

using test::household;
using test::lot;
using test::plan_of;

/// A dozen households with all the troubles a season may have, turn about.
Household troubled(int n) {
  bench::Season s;
  s.seed = static_cast<std::uint64_t>(100 + n);
  s.lots = 8 + 3 * n;
  s.days = 14 + n;
  s.missing_jars = n % 2 == 0;
  s.sick_days = n % 3 == 0;
  s.shopping = n % 2 == 1 || n % 4 == 0;
  s.own_kitchen = n % 3 != 1;
  s.family = 1 + n % 5;
  if (n % 4 == 1) s.one_job_day = n % 7;
  return bench::generate(test::published(), s);
}

class SimplePolicies : public ::testing::TestWithParam<int> {};

TEST_P(SimplePolicies, BreakNoConstraintAndAreNeverBetterThanThePlan) {
  const Household h = troubled(GetParam());
  const double ours = plan_of(h, 400).terms.total(), full = bench::full_worth(h);
  EXPECT_LE(ours, full + 0.01);
  bench::Policies policies(h);
  for (const std::string_view name : bench::Policies::names()) {
    const bench::PolicyResult result = policies.run(name, 1, 5);
    for (const Plan& plan : result.plans) EXPECT_EQ(check_plan(h, plan), std::vector<std::string>{}) << name;
    EXPECT_LE(result.worth, ours + 0.01) << name << ": " << result.variant;
    EXPECT_FALSE(result.plans.front().batches.empty()) << name;
  }
}
INSTANTIATE_TEST_SUITE_P(Generated, SimplePolicies, ::testing::Range(0, 12));

TEST(RandomOrder, IsTheSameForASeed) {
  const Household h = troubled(3);
  const auto worths = [&](std::uint64_t seed) {
    bench::Policies policies(h);
    std::vector<double> out;
    for (const Plan& plan : policies.run("random", seed, 6).plans) out.push_back(plan.terms.total());
    return out;
  };
  EXPECT_EQ(worths(4), worths(4));
  EXPECT_NE(worths(4), worths(5));
}

TEST(DrawnSeasons, AreTheSameForASeedAndOfManySizes) {
  int small = 0, large = 0;
  for (int i = 0; i < 100; ++i) {
    const bench::Season a = bench::drawn_season(1, i), b = bench::drawn_season(1, i);
    EXPECT_EQ(a.seed, b.seed);
    EXPECT_EQ(a.lots, b.lots);
    EXPECT_GE(a.lots, 10);
    EXPECT_LE(a.lots, 200);
    EXPECT_GE(a.days, 14);
    EXPECT_LE(a.days, 60);
    small += a.lots < 20 ? 1 : 0;
    large += a.lots > 100 ? 1 : 0;
  }
  EXPECT_GT(small, 10);
  EXPECT_GT(large, 10);
}

// 10 kg at 10 USD a kg by hand: whatever stands in the way, the full worth is 100 USD.
TEST(FullWorth, KnowsNoLimits) {
  Household h = household();
  EXPECT_NEAR(bench::full_worth(h), 100, 1e-6);
  h.hands.front().free.clear();
  EXPECT_NEAR(bench::full_worth(h), 100, 1e-6);
  h.lots.push_back(lot("l2", "a", 5));
  EXPECT_NEAR(bench::full_worth(h), 150, 1e-6);
}

// Need of 4 kg at 20 USD, half as much for 2 kg more, a tenth beyond: 80 + 20 + 4 * 2.
TEST(FullWorth, FallsOffBeyondTheNeed) {
  Household h = household();
  h.worth = {{.food = "a", .form = "jar", .per_kg = 20, .need_kg = 4}};
  EXPECT_NEAR(bench::full_worth(h), 108, 1e-6);
  h.routes.front().materials_cost_per_kg = 3;  // the last 4 kg are not worth their jars
  EXPECT_NEAR(bench::full_worth(h), 100 - 6 * 3, 1e-6);
}

// 100 of full worth; the policy saves 50, ours 80: 20 lost instead of 50.
TEST(Seasons, CountWhatIsLostOfTheFullWorth) {
  bench::SeasonResult r;
  r.full = 100;
  r.bound = 100;
  r.ours = 80;
  for (const std::string_view name : bench::Policies::names()) r.simple.push_back({std::string(name), "", 50});
  const std::string text = bench::table({r});
  EXPECT_NE(text.find("first come           50.0 %   50.0 %    60.0 %   60.0 %   60.0 %"), std::string::npos) << text;
  EXPECT_NE(text.find("On no household does any policy save more"), std::string::npos);
  r.ours = 40;
  EXPECT_NE(bench::table({r}).find("Policies that save more"), std::string::npos);
}

}  // namespace
}  // namespace stillroom::planning
