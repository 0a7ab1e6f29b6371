#include "planning/small.h"

// What a plan is worth: every term by hand.
namespace stillroom::planning {
namespace {

using almanac::Attention;
using namespace test;  // NOLINT: the words of small.h

TEST(Worth, FallsWhenTheNeedIsMet) {
  // 10 kg, 5 USD each: need 4 (1 at hand) full, up to 1.5 * 4 - 1 = 5 at half, the rest at a tenth:
  // 5 * (3 + 0.5 * 2 + 0.1 * 5) = 22.5
  Household h = household();
  h.worth = {{.food = "a", .form = "jar", .per_kg = 5, .need_kg = 4, .have_kg = 1}};
  EXPECT_NEAR(planned(h, 400).terms.put_by, 22.5, 0.01);
}

TEST(Worth, ARowForTheFormGoesBeforeARowForTheFood) {
  Household h = household();
  h.worth = {{.food = "a", .form = "", .per_kg = 5, .need_kg = 100}};
  EXPECT_NEAR(planned(h).terms.put_by, 50, 0.01);
  h.worth.push_back({.food = "a", .form = "jar", .per_kg = 7, .need_kg = 100});
  EXPECT_NEAR(planned(h).terms.put_by, 70, 0.01);
}

TEST(Worth, QualityYieldAndCostCount) {
  Household h = household();
  h.worth = {{.food = "a", .form = "jar", .per_kg = 5, .need_kg = 100}};
  h.routes[0].quality = {0, 0.8, 0, 0, 0};
  h.routes[0].yield_kg_per_kg = 0.5;
  h.routes[0].materials_cost_per_kg = 0.3;
  h.routes[0].energy_cost_per_kg = 0.1;
  h.routes[0].kg_in_per_pack = 3;
  const Plan plan = planned(h);
  EXPECT_NEAR(plan.terms.put_by, 10 * 0.8 * 0.5 * 5, 0.01);
  EXPECT_NEAR(plan.terms.materials, 3, 0.01);
  EXPECT_NEAR(plan.terms.energy, 1, 0.01);
  EXPECT_NEAR(plan.batches[0].kg_out, 5, 0.01);
  EXPECT_EQ(plan.batches[0].packs, 4);  // 10 kg in by 3 to the pack
}

TEST(Worth, WhatIsNotWorthTheHoursIsLeft) {
  Household h = household();
  h.routes[0].worth_per_kg_in = 1;
  h.lots[0].hazard_by = at(0, 18);  // or it would be worth something later
  h.effort_per_hour = 9;
  EXPECT_EQ(planned(h).batches.size(), 1U);  // 10 USD for an hour at 9
  h.effort_per_hour = 11;
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(Worth, ALongDayIsDearer) {
  // Two batches of three hours on one day: 6 h at 2 USD and 2 * (6-4)^2/8 = 1 USD more. On two days 12 USD only.
  Household h = household();
  h.effort_per_hour = 2;
  h.routes[0].stages[0].duration_min.fixed = 180;
  h.routes[0].batch_max_kg = 5;
  EXPECT_NEAR(planned(h, 400).terms.effort, 13, 0.01);
  h.days = 2;
  h.hands = {hand("ann", 2)};
  EXPECT_NEAR(planned(h, 800).terms.effort, 12, 0.01);
}

TEST(Worth, WhatIsStillSoundCountsForNineTenthsOfItsNetWorth) {
  // No free time now, but the hours the hand usually has count for the week after: 0.5 * 7 days * (600 min / 2 days)
  // = 1050 min. The 10 kg keep (no model) and would take 60 min per 50 kg batch, 0.02 h per kg:
  // 0.9 * (10 * 10 - effort 2 * 0.2) = 89.64
  Household h = household(2);
  h.effort_per_hour = 2;
  h.hands = {hand("ann", 1)};
  h.routes[0].worth_per_kg_in = 10;
  h.lots[0].ready = at(1, 0);
  const Plan plan = planned(h);
  EXPECT_TRUE(plan.batches.empty());
  EXPECT_NEAR(plan.terms.still_sound, 89.64, 0.01);
}

TEST(Worth, OnlyAsFarAsNextWeeksHandsGo) {
  // As above with 2000 min to the batch of 50 kg: 40 min per kg, 1050 min do 26.25 kg of 40.
  Household h = household(2);
  h.hands = {hand("ann", 1)};
  h.routes[0].stages[0].duration_min.fixed = 2000;
  h.lots[0].kg = 40;
  h.lots[0].ready = at(1, 0);
  EXPECT_NEAR(planned(h).terms.still_sound, 0.9 * 262.5, 0.01);
}

TEST(Worth, LateWorkCostsByTheDay) {
  // An hour of work due at noon; Ann is free from the next day on, when it ends at 9:00: 21 h late at 4 USD a day.
  Household h = household(2);
  h.lots.clear();
  h.hands[0].free = {{at(1, 8), at(1, 18)}};
  h.other = {{.key = "w", .name = "wood", .minutes = 60, .deadline = at(0, 12), .importance = 4}};
  EXPECT_NEAR(planned(h).terms.lateness, 4.0 * 21 / 24, 0.01);
  h.hands.clear();  // not done: 36 h to the horizon and three days more
  EXPECT_NEAR(planned(h).terms.lateness, 4 * (1.5 + 3), 0.01);
}

TEST(Worth, MovingWhatWasPlannedForTomorrowCosts) {
  Household h = household();
  h.change_cost = 0.5;
  h.in_force = {
      {.lot = "l1", .route = "a/jar", .stage = "do", .start = at(0, 14), .hands = {"ann"}, .kg = 10, .batch = "b1"}};
  const Plan kept = planned(h);
  EXPECT_EQ(the(kept, "do")->span.from, at(0, 14));  // nothing is gained by moving it
  EXPECT_NEAR(kept.terms.change, 0, 1e-9);
  h.hands[0].free = {{at(0, 8), at(0, 12)}};
  EXPECT_NEAR(planned(h).terms.change, 0.5, 1e-9);
  h.hands = {hand("bo", 1)};
  EXPECT_NEAR(planned(h).terms.change, 0.25, 1e-9);  // the same hour, another person
}

}  // namespace
}  // namespace stillroom::planning
