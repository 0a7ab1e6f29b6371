#include <fmt/ranges.h>
#include <gtest/gtest.h>

#include <set>

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
/// What a batch takes and where its stages stand, to compare.
std::string said(const PlannedBatch& batch) {
  std::string out = batch.route;
  for (const auto& part : batch.parts) out += fmt::format(" {} {:.6f}", part.lot, part.kg);
  for (const PlacedStage& s : batch.stages)
    out += fmt::format(" | {} {}-{} {}", s.stage, s.span.from, s.span.to, fmt::join(s.hands, "+"));
  return out;
}

TEST_P(Seasons, APlanToStartFromIsPutBackAsItWas) {
  const auto seed = static_cast<std::uint64_t>(GetParam());
  const Household h = season(8 + GetParam() * 3, seed);
  const auto before = std::make_shared<const Plan>(plan_of(h, 400, 2, seed));
  PlanOptions options;
  options.max_schedules = 0;
  options.start_from = before;
  const auto after = make_plan(h, options);
  ASSERT_TRUE(after);
  std::set<std::string> there;
  for (const PlannedBatch& batch : after->batches) there.insert(said(batch));
  for (const PlannedBatch& batch : before->batches) EXPECT_TRUE(there.contains(said(batch))) << said(batch);
  EXPECT_GE(after->terms.total(), before->terms.total() - 1e-6);
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
