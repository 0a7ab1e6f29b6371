#include <gtest/gtest.h>

#include "planning/seasons.h"

namespace stillroom::planning {
namespace {

using test::plan_of;
using test::season;

class Seasons : public ::testing::TestWithParam<int> {};

TEST_P(Seasons, NoPlanBreaksAConstraint) {
  const auto seed = static_cast<std::uint64_t>(GetParam());
  const Household h = season(8 + GetParam() * 3, seed);
  const Plan plan = plan_of(h, 150, 2, seed);
  EXPECT_EQ(check_plan(h, plan), std::vector<std::string>{});
  EXPECT_FALSE(plan.batches.empty());
  EXPECT_EQ(plan.lots.size(), h.lots.size());
}
INSTANTIATE_TEST_SUITE_P(Generated, Seasons, ::testing::Range(1, 13));

TEST(Plan, IsTheSameForASeedAndABudgetOnAnyNumberOfThreads) {
  const Household h = season(20, 5);
  EXPECT_EQ(to_json(plan_of(h, 200, 1)), to_json(plan_of(h, 200, 2)));
  EXPECT_EQ(to_json(plan_of(h, 200, 2)), to_json(plan_of(h, 200, 2)));
}

TEST(Plan, IsNoWorseForALongerSearch) {
  const Household h = season(20, 7);
  EXPECT_GE(plan_of(h, 600).terms.total(), plan_of(h, 20).terms.total() - 0.01);
}

TEST(Plan, RoundTripsThroughJson) {
  const Plan plan = plan_of(season(12, 3), 50);
  const auto back = plan_from_json(to_json(plan));
  ASSERT_TRUE(back);
  EXPECT_EQ(to_json(*back), to_json(plan));
  EXPECT_FALSE(plan_from_json("{\"batches\": 3}"));
  EXPECT_FALSE(plan_from_json("not json"));
}

TEST(Plan, OfAnEmptyHouseholdIsEmpty) {
  Household h;
  h.first_day = *measure::parse_date("2026-09-14");
  const Plan plan = plan_of(h, 10);
  EXPECT_TRUE(plan.batches.empty());
  EXPECT_EQ(check_plan(h, plan), std::vector<std::string>{});
}

TEST(Why, ComparesPlansAndSaysItInSentences) {
  const Household h = season(8, 2);
  const Plan plan = plan_of(h, 60);
  PlanOptions options;
  options.max_schedules = 30;
  const auto answer = why(h, plan, plan.lots.front().lot, options);
  ASSERT_TRUE(answer);
  EXPECT_EQ(answer->waiting.size(), 3U);
  EXPECT_FALSE(answer->sentences.empty());
  EXPECT_FALSE(why(h, plan, "no such lot", options));
}

}  // namespace
}  // namespace stillroom::planning
