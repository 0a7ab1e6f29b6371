#include "planning/small.h"

// Who does what, when: one minimal household per rule, and a twin in which it cannot be done.
namespace stillroom::planning {
namespace {

using almanac::Attention;
using namespace test;  // NOLINT: the words of small.h

TEST(People, AHandsOnStageTakesLongerWhenTheHandIsInterrupted) {
  Household h = household();
  h.hands[0].usable_share = 0.5;  // 60 working minutes in 120
  const Plan plan = planned(h);
  ASSERT_NE(the(plan, "do"), nullptr);
  EXPECT_EQ(the(plan, "do")->span, (Span{at(0, 8), at(0, 10)}));
}

TEST(People, AStageByTheClockDoesNot) {
  Household h = household();
  h.hands[0].usable_share = 0.5;
  h.routes[0].stages[0].attention = Attention::nearby;
  EXPECT_EQ(the(planned(h), "do")->span, (Span{at(0, 8), at(0, 9)}));
}

TEST(People, AStageThatDoesNotFitTheFreeTimeIsNotPlanned) {
  Household h = household();
  h.hands[0].free = {{at(0, 8), at(0, 8, 55)}, {at(0, 9), at(0, 9, 55)}};  // never 60 minutes in one piece
  EXPECT_TRUE(planned(h).batches.empty());
  h.hands[0].free.push_back({at(0, 10), at(0, 11)});
  EXPECT_EQ(the(planned(h), "do")->span.from, at(0, 10));
}

TEST(People, AStageThatMayPauseSpansABreak) {
  Household h = household();
  h.hands[0].free = {{at(0, 8), at(0, 8, 40)}, {at(0, 9), at(0, 9, 40)}};
  h.routes[0].stages[0].can_pause = true;
  EXPECT_EQ(the(planned(h), "do")->span, (Span{at(0, 8), at(0, 9, 20)}));
}

TEST(People, ButNotOfMoreThanSixteenHours) {
  Household h = household(3);
  h.hands[0].free = {{at(0, 8), at(0, 8, 30)}, {at(1, 1), at(1, 1, 30)}};  // 16 h 30 between
  h.routes[0].stages[0].can_pause = true;
  EXPECT_TRUE(planned(h).batches.empty());
  h.hands[0].free[1] = {at(1, 0, 30), at(1, 1)};  // 16 h
  EXPECT_EQ(the(planned(h), "do")->span, (Span{at(0, 8), at(1, 1)}));
}

TEST(People, NearbyStagesCombineUpToOneWholePerson) {
  Household h = household();
  h.hands[0].free = {{at(0, 8), at(0, 9)}};
  h.lots.push_back(lot("l2", "b", 10));
  h.routes.push_back(route("b/jar", {stage("mind", 60, Attention::nearby)}));
  h.routes[0].stages[0].attention = Attention::nearby;
  for (auto& r : h.routes) r.stages[0].nearby_share = 0.5;
  EXPECT_EQ(planned(h).batches.size(), 2U);
  for (auto& r : h.routes) r.stages[0].nearby_share = 0.6;
  EXPECT_EQ(planned(h).batches.size(), 1U);
}

TEST(People, NobodyMindsAPotWithBothHandsFull) {
  Household h = household();
  h.hands[0].free = {{at(0, 8), at(0, 9)}};
  h.lots.push_back(lot("l2", "b", 10));
  h.routes.push_back(route("b/jar", {stage("mind", 60, Attention::nearby)}));
  EXPECT_EQ(planned(h).batches.size(), 1U);
  h.hands.push_back(hand("bo", 1));
  EXPECT_EQ(planned(h).batches.size(), 2U);
}

TEST(People, AnUnattendedStageNeedsNobody) {
  Household h = household();
  h.hands.clear();
  h.routes[0].stages[0].attention = Attention::unattended;
  EXPECT_EQ(planned(h).batches.size(), 1U);
  h.routes[0].stages[0].attention = Attention::hands_on;
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(People, TheAgeFloorHolds) {
  Household h = household();
  h.hands[0].age = 13;
  h.routes[0].stages[0].least_age = 14;
  EXPECT_TRUE(planned(h).batches.empty());
  h.hands[0].age = 14;
  EXPECT_EQ(planned(h).batches.size(), 1U);
}

TEST(People, OneOfTheTeamMustHaveTheSkill) {
  Household h = household();
  h.hands.push_back(hand("bo", 1));
  h.routes[0].stages[0].hands = 2;
  h.routes[0].stages[0].skill = "butchering";
  EXPECT_TRUE(planned(h).batches.empty());
  h.hands[1].skills = {"butchering"};
  EXPECT_EQ(the(planned(h), "do")->hands.size(), 2U);
}

TEST(People, TwoHandsMustBeFreeTogether) {
  Household h = household();
  h.hands = {hand("ann", 1, 8, 12), hand("bo", 1, 11, 15)};
  h.routes[0].stages[0].hands = 2;
  EXPECT_EQ(the(planned(h), "do")->span, (Span{at(0, 11), at(0, 12)}));
  h.hands[1].free = {{at(0, 11, 30), at(0, 15)}};
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(People, ADayIsNoLongerThanItMayBe) {
  Household h = household();
  h.lots.push_back(lot("l2", "b", 10));
  h.routes.push_back(route("b/jar", {stage("more", 60)}));
  h.hands[0].most_minutes_per_day = 119;
  EXPECT_EQ(planned(h).batches.size(), 1U);
  h.hands[0].most_minutes_per_day = 120;
  EXPECT_EQ(planned(h).batches.size(), 2U);
}

TEST(People, MindingCountsByItsShareOfTheDay) {
  Household h = household();
  h.routes[0].stages[0] = stage("mind", 200, Attention::nearby);
  h.routes[0].stages[0].nearby_share = 0.5;  // 200 minutes at half: 100 of the day
  h.hands[0].most_minutes_per_day = 100;
  EXPECT_EQ(planned(h).batches.size(), 1U);
  h.hands[0].most_minutes_per_day = 99;
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(People, WhatIsUnderwayHoldsItsPeopleAndEquipment) {
  Household h = household();
  h.committed = {{.batch = "b",
                  .stage = "s",
                  .name = "s",
                  .span = {at(0, 7, 58), at(0, 11, 2)},
                  .hands = {"ann"},
                  .equipment = {}}};
  EXPECT_EQ(the(planned(h), "do")->span.from, at(0, 11, 5));
  h.committed[0].span.to = at(0, 17, 30);
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(People, OnAOneJobDayThereIsOneJob) {
  Household h = household(2);
  h.lots.push_back(lot("l2", "b", 10));
  h.routes.push_back(route("b/jar", {stage("more", 60)}));
  h.one_job_day = at(0, 0);
  const Plan plan = planned(h);
  ASSERT_EQ(plan.batches.size(), 2U);
  EXPECT_EQ(plan.batches[0].stages[0].span.from, at(0, 8));
  EXPECT_EQ(plan.batches[1].stages[0].span.from, at(1, 8));
  h.days = 1;
  EXPECT_EQ(planned(h).batches.size(), 1U);
}

TEST(People, AQuarterHourIsNoJobOfTheDay) {
  Household h = household(1);
  h.lots.push_back(lot("l2", "b", 10));
  h.routes.push_back(route("b/jar", {stage("more", 15)}));
  h.one_job_day = at(0, 0);
  EXPECT_EQ(planned(h).batches.size(), 2U);
}

}  // namespace
}  // namespace stillroom::planning
