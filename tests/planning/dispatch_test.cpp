#include <gtest/gtest.h>

#include "planning/detail/dispatch.h"
#include "planning/detail/publish.h"
#include "planning/small.h"

namespace stillroom::planning {
namespace {

using detail::Dispatcher;
using detail::Job;
using detail::JobKind;
using detail::PlanSearch;
using detail::Project;
using detail::Rule;
using detail::Turn;
using test::at;
using test::household;
using test::lot;
using test::route;
using test::stage;

Plan by_rule(const Household& h, const Rule& rule) {
  const Project project(h);
  PlanSearch search(project);
  Dispatcher(search).run(rule);
  Plan plan = detail::publish(search.schedule(), search.objective().terms());
  EXPECT_EQ(check_plan(h, plan), std::vector<std::string>{});
  return plan;
}

/// Two lots of different crops, and time for one of them.
Household one_of_two() {
  Household h = household();
  h.hands.front().free = {{at(0, 8), at(0, 9)}};
  h.routes.push_back(route("b/jar", {stage("do", 60)}));
  h.lots.push_back(lot("l2", "b", 2));
  h.lots.front().ready = 0;
  h.lots.back().ready = -60;
  return h;
}

TEST(Dispatch, TakesLotsInTurn) {
  const Household h = one_of_two();
  EXPECT_EQ(by_rule(h, {.turn = Turn::first_come}).batches.front().route, "b/jar");
  EXPECT_EQ(by_rule(h, {.turn = Turn::dearest_lot}).batches.front().route, "a/jar");
}

TEST(Dispatch, GoesByTheNextWayWhenTheFirstDoesNotFit) {
  Household h = household();
  h.routes.front().stages.front().duration_min.fixed = 660;  // longer than Ann's day
  h.routes.push_back(route("a/bag", {stage("do", 30)}));
  h.routes.back().worth_per_kg_in = 4;
  h.lots.front().hazard_by = at(1, 0);  // nothing for the week after
  const Plan plan = by_rule(h, {});
  ASSERT_EQ(plan.batches.size(), 1U);
  EXPECT_EQ(plan.batches.front().route, "a/bag");
}

TEST(Dispatch, GivesAwayOnlyWhatNobodyHereCanUse) {
  Household h = household();
  h.routes.push_back(route("a/give_away", {stage("carry", 10)}));
  h.routes.back().method = "given away";
  h.routes.back().worth_per_kg_in = 50;  // dearest, and still last
  EXPECT_EQ(by_rule(h, {}).batches.front().route, "a/jar");
}

TEST(Dispatch, DoesOneLotADayWhenAsked) {
  Household h = household(2);
  h.routes.push_back(route("b/jar", {stage("do", 60)}));
  h.lots.push_back(lot("l2", "b", 2));
  const Plan plan = by_rule(h, {.turn = Turn::worst_looking, .one_lot_a_day = true});
  ASSERT_EQ(plan.batches.size(), 2U);
  EXPECT_NE(plan.batches[0].stages.front().span.from / 1440, plan.batches[1].stages.front().span.from / 1440);
}

// A batch takes its 10 kg out of the fridge, so that another lot fits in. Without the batch both lie there: too full.
TEST(Rooms, AreLookedAtAgainWhenFoodIsNotTakenAfterAll) {
  Household h = household();
  h.rooms = {{"chill_l", 2}};
  h.places = {{"table", "table", "counter", 20, 60, ""}, {"fridge", "fridge", "fridge", 4, 85, "chill_l"}};
  h.routes.push_back(route("b/jar", {stage("do", 60)}));
  h.lots.front().place = "fridge";
  h.lots.push_back(lot("l2", "b", 8));
  h.lots.back().place = "table";
  h.lots.back().model = test::fading();
  const Project project(h);
  PlanSearch search(project);
  detail::Schedule& schedule = search.schedule();
  Job jar{.what = 0};
  jar.add(0, 10);
  const int batch = schedule.insert(jar);
  ASSERT_GE(batch, 0);
  Job hold{.kind = JobKind::hold, .what = 1};
  hold.add(1, 0);
  ASSERT_GE(schedule.insert(hold), 0);
  EXPECT_TRUE(schedule.board().rooms_hold());
  schedule.remove(batch);
  EXPECT_FALSE(schedule.board().rooms_hold());
}

// The second lot is eaten up before its batch can start: the first goes alone, no part of 0 kg.
TEST(Batches, GoWithoutALotThatIsEatenUp) {
  Household h = household(2);
  h.hands.front().free = {{at(1, 8), at(1, 12)}};
  h.lots.push_back(lot("l2", "a", 1));
  h.lots.back().eaten_kg_per_day = 5;
  detail::Evaluator evaluator(h);
  const Plan plan = evaluator.decode({{.what = "a/jar", .parts = {{"l1", 10}, {"l2", 1}}}});
  ASSERT_EQ(plan.batches.size(), 1U);
  ASSERT_EQ(plan.batches.front().parts.size(), 1U);
  EXPECT_NEAR(plan.batches.front().kg_in, 10, 1e-9);
  EXPECT_EQ(check_plan(h, plan), std::vector<std::string>{});
}

}  // namespace
}  // namespace stillroom::planning
