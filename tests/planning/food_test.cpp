#include "planning/small.h"

// Which food goes which way, and when: condition, facts, picking, recipes, holds, by-products, eating.
namespace stillroom::planning {
namespace {

using almanac::Attention;
using namespace test;  // NOLINT: the words of small.h

/// Ripens a step a day at 20 degC, keeps long.
keeping::KeepingModel ripening() {
  keeping::KeepingModel m = fading();
  m.life_days_best_low = m.life_days_best_high = 200;
  for (double& days : m.ripening_days_at_20c) days = 1;
  return m;
}

TEST(Food, AnUnripeLotWaitsUntilTheRouteTakesIt) {
  Household h = household(4);
  h.lots[0].model = ripening();
  h.lots[0].belief.ripeness = 0;
  h.routes[0].quality = {0, 0, 1, 1, 1};  // ripe after two days, at midnight
  EXPECT_EQ(the(planned(h), "do")->span.from, at(2, 8));
  h.days = 2;
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(Food, ARipeLotIsPastWhatWantsItFirm) {
  Household h = household(2);
  h.lots[0].model = ripening();
  h.lots[0].belief.ripeness = 2;
  h.routes[0].quality = {0, 1, 0, 0, 0};
  EXPECT_TRUE(planned(h).batches.empty());
  h.lots[0].belief.ripeness = 1;
  EXPECT_EQ(planned(h).batches.size(), 1U);
}

TEST(Food, WhatIsMoreThanHalfGoneIsNotPutUp) {
  // S(a) = 0.9^(a^2) at age a: below a half from a = 2.565.
  Household h = household();
  h.lots[0].model = fading();
  h.lots[0].belief.age = 2.4;
  const Plan plan = planned(h);
  ASSERT_EQ(plan.batches.size(), 1U);
  // At 8:00 it is 1/3 day older at 4/10 lives a day: a = 2.5333; S = 0.5085; quality 1: worth 10 * 10 * S.
  EXPECT_NEAR(plan.terms.put_by, 50.85, 0.05);
  h.lots[0].belief.age = 2.6;
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(Food, FactsBarRoutes) {
  Household h = household();
  h.lots[0].facts = {"mould"};
  EXPECT_TRUE(planned(h).batches.empty());
  h.lots[0].facts = {"frost_killed_vine"};
  EXPECT_EQ(planned(h).batches.size(), 1U);  // frozen it may be
  h.routes[0].method = "canned";
  EXPECT_TRUE(planned(h).batches.empty());
  h.lots[0].facts = {"frozen_raw"};
  h.routes[0].process = almanac::ProcessQuery{};
  h.routes[0].process->style_of_pack = "raw";
  EXPECT_TRUE(planned(h).batches.empty());
  h.routes[0].process->style_of_pack = "hot";
  EXPECT_EQ(planned(h).batches.size(), 1U);
}

TEST(Food, AVarietyTakesItsCropsRoutesButNotThoseItIsNotFor) {
  Household h = household();
  h.lots[0].crop = "a/acorn";
  EXPECT_EQ(planned(h).batches.size(), 1U);
  h.routes[0].not_for = {"a/acorn"};
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(Food, AStandingCropIsPickedFirstAndInTime) {
  Household h = household();
  h.lots[0].ready = at(0, 6);
  h.lots[0].pick_by = at(0, 9, 40);
  h.lots[0].pick_min_per_kg = 10;  // 100 minutes from 8:00
  const Plan plan = planned(h);
  ASSERT_EQ(plan.batches.size(), 1U);
  EXPECT_EQ(the(plan, "pick")->span, (Span{at(0, 8), at(0, 9, 40)}));
  EXPECT_EQ(the(plan, "do")->span.from, at(0, 9, 40));
  h.lots[0].pick_by = at(0, 8, 4);
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(Food, ARecipeNeedsEveryOneOfItsCrops) {
  Household h = household();
  h.routes[0].many_lot_with = {"b"};
  h.routes[0].many_lot_kg = {0.5};
  EXPECT_TRUE(planned(h).batches.empty());
  h.lots.push_back(lot("l2", "b", 3));  // enough for 6 kg of the first
  const Plan plan = planned(h, 400);
  double a = 0, b = 0;
  for (const PlannedBatch& batch : plan.batches)
    for (const auto& part : batch.parts) (part.lot == "l1" ? a : b) += part.kg;
  EXPECT_NEAR(b, 3, 0.01);
  EXPECT_NEAR(a, 6, 0.02);
}

TEST(Food, ACheapHoldBuysTheDaysUntilThereAreHands) {
  // Nobody is free until day 6. On the counter (20 degC) the lot is 6 * 0.4 = 2.4 lives old, half gone; in the fridge
  // (5 degC) 0.6 lives. Chilled at 7:00 of day 0 it is 0.1 * (6 + 1/24) old at 8:00 of day 6: S = 0.9^(0.365) = 0.962.
  Household h = household(7);
  h.now = at(0, 7);
  h.lots[0].model = fading();
  h.lots[0].place = "counter";
  h.places = {{"counter", "the counter", "counter", 20, 60, ""}, {"fridge", "the fridge", "fridge", 5, 60, "chill_l"}};
  h.rooms = {{"chill_l", 16}};  // 10 kg take 16 l
  h.hands[0].free = {{at(6, 8), at(6, 18)}};
  const Plan plan = planned(h);
  ASSERT_EQ(plan.holds.size(), 1U);
  EXPECT_EQ(plan.holds[0].place, "fridge");
  EXPECT_EQ(plan.holds[0].from, at(0, 7));
  EXPECT_NEAR(plan.terms.put_by, 100 * 0.962, 0.1);
  h.rooms[0].capacity = 15.9;
  EXPECT_TRUE(planned(h).holds.empty());
}

TEST(Food, AHoldRouteMakesAPoolThatALaterRouteTakes) {
  // The only route that ends in the larder takes it frozen whole.
  Household h = household(2);
  h.lots[0].model = fading();
  h.places = {{"freezer", "the freezer", "freezer", -18, 50, ""}};
  almanac::Route hold = route("a/hold", {stage("bag", 30)});
  hold.is_hold = true;
  hold.hold_place = "freezer";
  hold.product_form = "frozen_whole";
  h.routes[0].accepts_form = "frozen_whole";
  EXPECT_TRUE(planned(h).batches.empty());
  h.routes.push_back(hold);
  const Plan plan = planned(h, 1500);
  ASSERT_EQ(plan.batches.size(), 2U);
  EXPECT_EQ(plan.batches[0].route, "a/hold");
  EXPECT_GE(the(plan, "do")->span.from, the(plan, "bag")->span.to);
}

TEST(Food, BonesGoOnToBroth) {
  Household h = household();
  h.routes[0].also_yields = {{"bones", "bones", 0.4}};
  almanac::Route broth = route("bones/broth", {stage("simmer", 120, Attention::unattended)});
  broth.accepts_form = "bones";
  h.routes.push_back(broth);
  const Plan plan = planned(h, 600);
  ASSERT_EQ(plan.batches.size(), 2U);
  EXPECT_EQ(plan.batches[1].route, "bones/broth");
  EXPECT_NEAR(plan.batches[1].kg_in, 4, 0.01);
  EXPECT_GE(the(plan, "simmer")->span.from, the(plan, "do")->span.to);
}

TEST(Food, WhatIsEatenFreshIsNotPutUp) {
  Household h = household();
  h.lots[0].eaten_kg_per_day = 24;  // a kilogram an hour from midnight; 8 are gone at 8:00
  EXPECT_NEAR(kg_put_up(planned(h)), 2, 0.01);
  h.lots[0].eaten_kg_per_day = 31;
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(Food, GivingAwayIsAnAnswerButNotALarder) {
  Household h = household();
  h.routes[0].worth_per_kg_in = 0;
  almanac::Route give = route("a/give", {stage("hand over", 10)});
  give.method = "given away";
  give.worth_per_kg_in = 0.2;
  h.routes.push_back(give);
  h.worth = {{.food = "a", .form = "", .per_kg = 5, .need_kg = 100}};
  h.routes[0].stages[0].equipment = {{"canner", {.fixed = 1}}};  // not owned: only giving is left
  const Plan plan = planned(h);
  ASSERT_EQ(plan.batches.size(), 1U);
  EXPECT_NEAR(plan.terms.put_by, 10 * 0.2, 0.01);  // not 5 USD a kg: it is not in the larder
}

}  // namespace
}  // namespace stillroom::planning
