#include "planning/small.h"

// Other work competes for the same hands; snapshots that cannot be planned are refused.
namespace stillroom::planning {
namespace {

using namespace test;  // NOLINT: the words of small.h

Household with_work(int minutes) {
  Household h = household();
  h.other = {{.key = "w", .name = "wood", .minutes = minutes, .deadline = at(0, 18), .importance = 4}};
  return h;
}

TEST(Work, IsDoneBesideTheBatches) {
  const Plan plan = planned(with_work(60));
  ASSERT_EQ(plan.other.size(), 1U);
  EXPECT_EQ(plan.batches.size(), 1U);
  EXPECT_NEAR(plan.terms.lateness, 0, 1e-9);
}

TEST(Work, GivesWayToFoodThatIsWorthMore) {
  Household h = with_work(600);  // the whole day: undone costs 4 * 3 USD, the batch is worth 100 and cannot wait
  h.lots[0].hazard_by = at(0, 18);
  h.other[0].can_split = false;
  const Plan plan = planned(h);
  EXPECT_EQ(plan.batches.size(), 1U);
  EXPECT_TRUE(plan.other.empty());
  h.other[0].importance = 40;
  EXPECT_EQ(planned(h).other.size(), 1U);
}

TEST(Work, IsSplitWhereItMayBe) {
  Household h = with_work(150);
  h.lots.clear();
  h.hands[0].free = {{at(0, 8), at(0, 9, 30)}, {at(0, 12), at(0, 13, 30)}};
  const Plan plan = planned(h);
  ASSERT_EQ(plan.other.size(), 1U);
  EXPECT_EQ(plan.other[0].spans, (std::vector<Span>{{at(0, 8), at(0, 9, 30)}, {at(0, 12), at(0, 13)}}));
  h.other[0].can_split = false;
  EXPECT_TRUE(planned(h).other.empty());
}

TEST(Work, LeavesNoScraps) {
  // 100 minutes: 90 now and 10 later would leave a scrap; 70 and 30 do.
  Household h = with_work(100);
  h.lots.clear();
  h.hands[0].free = {{at(0, 8), at(0, 9, 30)}, {at(0, 12), at(0, 13)}};
  EXPECT_EQ(planned(h).other.at(0).spans, (std::vector<Span>{{at(0, 8), at(0, 9, 10)}, {at(0, 12), at(0, 12, 30)}}));
}

TEST(Work, KeepsToItsWindowsAndPeople) {
  Household h = with_work(60);
  h.lots.clear();
  h.other[0].can_split = false;
  h.other[0].weather_windows = {{at(0, 10), at(0, 10, 55)}, {at(0, 13), at(0, 15)}};
  EXPECT_EQ(planned(h).other.at(0).spans.at(0).from, at(0, 13));
  h.other[0].hands = 2;
  EXPECT_TRUE(planned(h).other.empty());
  h.hands.push_back(hand("bo", 1));
  EXPECT_EQ(planned(h).other.at(0).hands.size(), 2U);
  h.hands[1].age = 9;
  h.other[0].least_age = 10;
  EXPECT_TRUE(planned(h).other.empty());
}

TEST(Snapshot, AFaultNamesItsField) {
  const auto refused = [](const Household& h, const std::string& field) {
    const auto plan = make_plan(h, {.max_schedules = 5});
    ASSERT_FALSE(plan);
    EXPECT_EQ(plan.error().code, "bad_snapshot");
    EXPECT_NE(plan.error().message.find(field), std::string::npos) << plan.error().message;
  };
  Household h = household();
  h.days = 91;
  refused(h, "days");
  h = household();
  h.hands[0].usable_share = 0;
  refused(h, "usable_share");
  h = household();
  h.hands[0].free = {{at(0, 9), at(0, 10)}, {at(0, 8), at(0, 9)}};
  refused(h, "free");
  h = household();
  h.lots.push_back(h.lots[0]);
  refused(h, "lot \"l1\"");
  h = household();
  h.routes[0].batch_max_kg = 0.1;
  refused(h, "batch size");
  h = household();
  h.lots[0].place = "nowhere";
  refused(h, "place");
  h = household();
  h.routes[0].stages[0].hazard = "no such clock";
  refused(h, "hazard");
  h = household();
  h.worth = {
      {.food = "a", .form = "", .per_kg = 1, .need_kg = 1, .have_kg = 0, .second_share = 0.2, .tail_share = 0.4}};
  refused(h, "shares");
}

TEST(Lists, AreDecodedInTheirOrder) {
  Household h = household();
  h.lots.push_back(lot("l2", "a", 10));
  detail::Evaluator evaluator(h);
  const std::vector<detail::JobRequest> list = {{.what = "a/jar", .parts = {{"l2", 10}}},
                                                {.what = "a/jar", .parts = {{"l1", 10}}}};
  const Plan plan = evaluator.decode(list);
  EXPECT_EQ(check_plan(h, plan), std::vector<std::string>{});
  ASSERT_EQ(plan.batches.size(), 2U);
  EXPECT_EQ(plan.batches[0].parts[0].lot, "l2");
  EXPECT_NEAR(evaluator.worth(list), plan.terms.total(), 1e-9);
  EXPECT_TRUE(evaluator.decode({{.what = "no such route", .parts = {{"l1", 1}}}}).batches.empty());
}

}  // namespace
}  // namespace stillroom::planning
