#include "planning/small.h"

// Equipment, stock, room, shopping.
namespace stillroom::planning {
namespace {

using almanac::Attention;
using namespace test;  // NOLINT: the words of small.h

/// Two lots of different crops, each an hour on its own with what `shared` says.
Household two_lots(int days = 1) {
  Household h = household(days);
  h.lots.push_back(lot("l2", "b", 10));
  h.routes.push_back(route("b/jar", {stage("more", 60)}));
  return h;
}

TEST(Stores, EquipmentIsSharedOnlyAsFarAsItGoes) {
  Household h = two_lots();
  h.hands.clear();
  for (auto& r : h.routes) {
    r.stages[0].attention = Attention::unattended;
    r.stages[0].equipment = {{"cooker", {.fixed = 1}}};
  }
  h.equipment = {{"cooker", 1}};
  const Plan one = planned(h);
  ASSERT_EQ(one.batches.size(), 2U);
  EXPECT_GE(one.batches[1].stages[0].span.from, one.batches[0].stages[0].span.to);
  h.equipment[0].count = 2;
  const Plan two = planned(h);
  EXPECT_EQ(two.batches[1].stages[0].span.from, two.batches[0].stages[0].span.from);
}

TEST(Stores, WhatTheHouseholdDoesNotOwnCannotBeUsed) {
  Household h = household();
  h.routes[0].stages[0].equipment = {{"canner", {.per_load = 1}}};
  EXPECT_TRUE(planned(h).batches.empty());
  h.equipment = {{"canner", 1}};
  EXPECT_EQ(planned(h).batches.size(), 1U);
}

TEST(Stores, ABatchShrinksToTheTraysThereAre) {
  Household h = household();
  h.routes[0].stages[0].equipment = {{"dryer_tray", {.per_kg = 2}}};
  h.equipment = {{"dryer_tray", 8}};  // 8 trays / 2 per kg = 4 kg at a time
  const Plan plan = planned(h);
  EXPECT_NEAR(kg_put_up(plan), 10, 0.01);
  for (const PlannedBatch& b : plan.batches) EXPECT_LE(b.kg_in, 4.0);
}

TEST(Stores, AStageUnderwayKeepsTheCanner) {
  Household h = household();
  h.routes[0].stages[0].equipment = {{"canner", {.fixed = 1}}};
  h.equipment = {{"canner", 1}};
  h.committed = {{.batch = "b",
                  .stage = "s",
                  .name = "s",
                  .span = {at(0, 7), at(0, 10)},
                  .hands = {},
                  .equipment = {{"canner", {.fixed = 1}}}}};
  EXPECT_EQ(the(planned(h), "do")->span.from, at(0, 10));
  h.committed[0].span.to = at(0, 17, 5);
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(Stores, JarsAreTakenOnce) {
  Household h = two_lots();
  for (auto& r : h.routes) r.stages[0].stock = {{"jar_quart", {.per_kg = 1}}};
  h.routes[1].worth_per_kg_in = 7;
  h.stock = {{"jar_quart", 15, {}, 0}};  // 10 for the dearer, 5 left
  const Plan plan = planned(h);
  EXPECT_NEAR(kg_put_up(plan), 15, 0.01);
  EXPECT_NEAR(plan.terms.put_by, 10 * 10 + 5 * 7, 0.05);
}

TEST(Stores, WhatIsNotListedIsNotCounted) {
  Household h = household();
  h.routes[0].stages[0].stock = {{"salt_kg", {.per_kg = 5}}};
  h.routes[0].stages[0].room = {{"attic", {.per_kg = 5}}};
  EXPECT_EQ(planned(h).batches.size(), 1U);
}

TEST(Stores, ABatchWaitsForJarsThatAreComing) {
  Household h = household();
  h.routes[0].stages[0].stock = {{"jar_quart", {.fixed = 10}}};
  h.stock = {{"jar_quart", 4, {{at(0, 12, 3), 6}}, 0}};
  EXPECT_EQ(the(planned(h), "do")->span.from, at(0, 12, 5));
  h.stock[0].arriving[0].amount = 5;
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(Stores, AnEarlierBatchDoesNotTakeWhatALaterOneWasPromised) {
  Household h = two_lots(2);
  h.lots[1].ready = at(1, 8);
  h.routes[1].worth_per_kg_in = 100;
  for (auto& r : h.routes) r.stages[0].stock = {{"jar_quart", {.fixed = 6}}};
  h.stock = {{"jar_quart", 6, {}, 0}};  // for one of them: the dear one, tomorrow
  const Plan plan = planned(h);
  ASSERT_EQ(plan.batches.size(), 1U);
  EXPECT_EQ(plan.batches[0].parts[0].lot, "l2");
}

TEST(Stores, TheFreezerFillsUp) {
  Household h = household();
  h.routes[0].stages[0].room = {{"freezer_l", {.per_kg = 2}}};
  h.rooms = {{"freezer_l", 12}};
  EXPECT_NEAR(kg_put_up(planned(h)), 6, 0.01);
  h.rooms[0].capacity = 0;
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(Stores, ADaysFreezingLoadIsADaysLimit) {
  Household h = household(3);
  h.routes[0].stages[0].room = {{"freezer_kg_per_day", {.per_kg = 1}}};
  h.rooms = {{"freezer_kg_per_day", 4}};
  const Plan plan = planned(h, 600);
  EXPECT_NEAR(kg_put_up(plan), 10, 0.01);  // 4, 4 and 2 on three days
  EXPECT_EQ(plan.batches.size(), 3U);
  h.days = 2;
  EXPECT_NEAR(kg_put_up(planned(h, 600)), 8, 0.01);
}

TEST(Stores, ABatchIsOfASizeTheRouteAllows) {
  Household h = household();
  h.routes[0].batch_min_kg = 10.5;
  EXPECT_TRUE(planned(h).batches.empty());
  h.routes[0].batch_min_kg = 3;
  h.routes[0].batch_max_kg = 4;
  const Plan plan = planned(h, 600);
  EXPECT_NEAR(kg_put_up(plan), 10, 0.01);
  for (const PlannedBatch& b : plan.batches) {
    EXPECT_GE(b.kg_in, 3 - 1e-6);
    EXPECT_LE(b.kg_in, 4 + 1e-6);
  }
}

TEST(Stores, SmallLotsOfOneCropShareABatch) {
  Household h = household();
  h.lots = {lot("l1", "a", 3), lot("l2", "a", 3)};
  h.routes[0].batch_min_kg = 5;
  const Plan plan = planned(h);
  ASSERT_EQ(plan.batches.size(), 1U);
  EXPECT_EQ(plan.batches[0].parts.size(), 2U);
  h.routes[0].batch_min_kg = 7;
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(Stores, LoadsAreCountedUp) {
  Household h = household();
  h.routes[0].load_kg = 4;  // 10 kg: 3 loads of 30 minutes
  h.routes[0].stages[0].duration_min = {.per_load = 30};
  h.routes[0].stages[0].spread = 0;
  const Plan plan = planned(h);
  double loads = 0;
  for (const PlannedBatch& b : plan.batches) loads += b.loads;
  EXPECT_EQ(loads, 3);
  EXPECT_NEAR(kg_put_up(plan), 10, 0.01);
}

TEST(Stores, AShoppingTripBringsWhatIsMissing) {
  Household h = household();
  h.routes[0].stages[0].stock = {{"lid", {.fixed = 10}}};
  h.stock = {{"lid", 0, {}, 0.5, true, 12}};
  EXPECT_TRUE(planned(h).batches.empty());  // nobody goes shopping
  h.shopping = Shopping{.minutes = 60, .least_age = 16, .open = {{at(0, 9), at(0, 17)}}};
  const Plan plan = planned(h, 400);
  ASSERT_EQ(plan.trips.size(), 1U);
  EXPECT_GE(plan.trips[0].span.from, at(0, 9));
  ASSERT_EQ(plan.trips[0].bought.size(), 1U);
  EXPECT_EQ(plan.trips[0].bought[0].amount, 12);
  EXPECT_NEAR(plan.trips[0].bought[0].cost, 6, 1e-9);
  EXPECT_GE(the(plan, "do")->span.from, plan.trips[0].span.to);
  h.money_per_week = 5;  // 12 lids are 6 USD
  EXPECT_TRUE(planned(h, 400).batches.empty());
}

}  // namespace
}  // namespace stillroom::planning
