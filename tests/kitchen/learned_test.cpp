#include "kitchen/learned.h"

#include <gtest/gtest.h>

#include <cmath>

#include "kitchen_almanac.h"

namespace stillroom::kitchen {
namespace {

using Ratios = std::vector<double>;

/// Peel by hand, 10 min and 5 min/kg; three hours in a canner; a night's rest. 0.5 kg to the jar.
almanac::Route small_route(const std::string& key) {
  almanac::Route r;
  r.key = key;
  r.crop = "pear";
  r.name = "can";
  r.method = "canned";
  r.pack = "pint jar";
  r.kg_in_per_pack = 0.5;
  r.yield_kg_per_kg = 0.9;
  r.worth_per_kg_in = 4;
  almanac::Stage peel;
  peel.key = "peel";
  peel.name = "Peel";
  peel.duration_min = {.fixed = 10, .per_kg = 5};
  peel.spread = 0.3;
  peel.stock = {{"jar_pint", {.per_kg = 2}}, {"sugar_kg", {.per_kg = 0.1}}};
  almanac::Stage process;
  process.key = "process";
  process.duration_min = {.per_load = 60};
  process.equipment = {{"pressure_canner", {.fixed = 1}}};
  almanac::Stage heat = process;
  heat.key = "heat_up";
  almanac::Stage cool;
  cool.key = "cool";
  cool.duration_min = {.fixed = 720};
  cool.attention = almanac::Attention::unattended;
  r.stages = {peel, heat, process, cool};
  return r;
}

/// 4 kg of it: 30 minutes of peeling as published, 8 jars.
FinishedBatch batch_at(const std::string& route, double peel_min, double packs) {
  return {.route = route,
          .kg_in = 4,
          .packs = packs,
          .stages = {{"peel", peel_min}, {"heat_up", 500}, {"process", 500}, {"cool", 90}}};
}

TEST(Learned, WithoutABatchIsThePublishedFigureAndItsRange) {
  // sqrt(ln(1 + 0.3^2)) = 0.29356; times 1.2816 = 0.37623; e^-0.37623 = 0.68645 and e^0.37623 = 1.45678.
  const Refined r = refine(0.3, {}, {}, kMostOffMinutes);
  EXPECT_EQ(r.factor, 1);
  EXPECT_NEAR(r.low, 0.68645, 1e-4);
  EXPECT_NEAR(r.high, 1.45678, 1e-4);
  EXPECT_EQ(r.weight, 0);
}

TEST(Learned, ThreeBatchesAtTwiceTheMinutesOutweighThePublishedThreeToTwo) {
  // Middle: 3 ln 2 / (2 + 3), so 2^0.6 = 1.51572. Deviation: sqrt(0.0861777 * 2 / 5) = 0.185664; times 1.2816 =
  // 0.237947.
  const Refined r = refine(0.3, Ratios{2, 2, 2}, {}, kMostOffMinutes);
  EXPECT_NEAR(r.factor, 1.51572, 1e-4);
  EXPECT_NEAR(r.low, 1.51572 / std::exp(0.237947), 1e-4);
  EXPECT_NEAR(r.high, 1.51572 * std::exp(0.237947), 1e-4);
  EXPECT_EQ(r.batches, 3);
}

TEST(Learned, LeavesOutWhatIsMoreThanFourTimesOff) {
  const Refined r = refine(0.3, Ratios{2, 9, 2, 0.1, 2, 0, -1, HUGE_VAL}, {}, kMostOffMinutes);
  EXPECT_NEAR(r.factor, 1.51572, 1e-4);
  EXPECT_EQ(r.batches, 3);
  EXPECT_EQ(r.left_out, 5);
}

TEST(Learned, LentBatchesCountAQuarterEachAndAllTogetherForOneAtMost) {
  // Two own and four lent at a quarter: three batches in all, as above.
  EXPECT_NEAR(refine(0.3, Ratios{2, 2}, Ratios(4, 2), 4).factor, 1.51572, 1e-4);
  const Refined many = refine(0.3, Ratios{2, 2}, Ratios(40, 2), 4);
  EXPECT_NEAR(many.factor, 1.51572, 1e-4);
  EXPECT_EQ(many.weight, 3);
  // Lent ones alone never come to what the planner asks for.
  EXPECT_LT(refine(0.3, {}, Ratios(40, 2), 4).weight, kEnoughWeight);
}

TEST(Learned, AKitchenTeachesItsMinutesAndItsJars) {
  const almanac::RouteBook book({small_route("pear/a")});
  const Learned learned(book, {batch_at("pear/a", 60, 6), batch_at("pear/a", 60, 6), batch_at("pear/a", 60, 6)});
  ASSERT_EQ(learned.figures().size(), 2U);
  const Figure& gives = learned.figures()[0];
  EXPECT_EQ(gives.stage, "");
  EXPECT_EQ(gives.published, 8);                                 // 4 kg at 0.5 kg to the jar
  EXPECT_NEAR(gives.refined.factor, std::pow(0.75, 0.6), 1e-9);  // 6 of 8, three batches against two
  const Figure& peel = learned.figures()[1];
  EXPECT_EQ(peel.stage, "peel");
  EXPECT_EQ(peel.published, 30);  // 10 + 5 * 4
  EXPECT_NEAR(peel.refined.factor, std::pow(2, 0.6), 1e-9);

  const almanac::Route here = learned.as_here(book.all()[0]);
  EXPECT_NEAR(here.stages[0].duration_min.at(4, 1), 30 * std::pow(2, 0.6), 1e-9);
  EXPECT_NEAR(4 / here.kg_in_per_pack, 8 * std::pow(0.75, 0.6), 1e-9);
  EXPECT_NEAR(here.worth_per_kg_in / here.yield_kg_per_kg, 4 / 0.9, 1e-9);  // a kilogram of packs is worth what it was
  EXPECT_EQ(here.stages[0].stock[0].amount.per_kg, 2);  // fewer jars than published are never counted on
}

TEST(Learned, MoreJarsThanPublishedAskForMoreJarsAndNotForMoreSugar) {
  const almanac::RouteBook book({small_route("pear/a")});
  const Learned learned(book, std::vector<FinishedBatch>(3, batch_at("pear/a", 30, 10)));
  const almanac::Route here = learned.as_here(book.all()[0]);
  EXPECT_NEAR(here.stages[0].stock[0].amount.per_kg, 2 * std::pow(1.25, 0.6), 1e-9);
  EXPECT_EQ(here.stages[0].stock[1].amount.per_kg, 0.1);
}

TEST(Learned, NothingAtACannerIsHeardOrChanged) {
  const almanac::RouteBook book({small_route("pear/a")});
  const Learned learned(book, std::vector<FinishedBatch>(20, batch_at("pear/a", 60, 6)));
  const almanac::Route here = learned.as_here(book.all()[0]);
  for (std::size_t i = 1; i < here.stages.size(); ++i)
    EXPECT_EQ(here.stages[i].duration_min.at(4, 1), book.all()[0].stages[i].duration_min.at(4, 1))
        << here.stages[i].key;
  EXPECT_EQ(learned.of(book.all()[0], "process"), Refined{});
  EXPECT_EQ(learned.of(book.all()[0], "heat_up"), Refined{});
}

TEST(Learned, TwoBatchesDoNotMoveThePlanYet) {
  const almanac::RouteBook book({small_route("pear/a")});
  const Learned learned(book, std::vector<FinishedBatch>(2, batch_at("pear/a", 60, 6)));
  EXPECT_GT(learned.of(book.all()[0], "peel").factor, 1.3);
  EXPECT_EQ(learned.as_here(book.all()[0]).stages[0].duration_min.at(4, 1), 30);
}

TEST(Learned, ADoubtfulStageIsLeftOutAndCounted) {
  const almanac::RouteBook book({small_route("pear/a")});
  FinishedBatch put_down = batch_at("pear/a", 60, 8);
  put_down.stages[0].doubtful = true;
  const Learned learned(book, {put_down});
  const Refined r = learned.of(book.all()[0], "peel");
  EXPECT_EQ(r.factor, 1);
  EXPECT_EQ(r.left_out, 1);
}

TEST(Learned, WhatHadGoneOffBeforehandIsNoLossOfTheBatch) {
  const almanac::RouteBook book({small_route("pear/a")});
  FinishedBatch faded = batch_at("pear/a", 30, 6);
  faded.usable = 0.75;  // 3 of 4 kg were sound: 6 jars are what 3 kg give
  EXPECT_NEAR(Learned(book, {faded}).of(book.all()[0], "").factor, 1, 1e-12);
}

TEST(Learned, NoPublishedRouteLosesItsProcessItsLagsOrItsClocksToAnyBatches) {
  const auto& book = the_almanac().routes;
  std::vector<FinishedBatch> batches;
  for (const almanac::Route& route : book.all()) {
    FinishedBatch batch{
        .route = route.key, .kg_in = 5, .packs = route.kg_in_per_pack > 0 ? 4 / route.kg_in_per_pack : 0};
    for (const almanac::Stage& stage : route.stages)
      batch.stages.push_back({stage.key, stage.duration_min.at(5, 1) / 2});
    for (int i = 0; i < 4; ++i) batches.push_back(batch);
  }
  const Learned learned(book, batches);
  int changed = 0;
  for (const almanac::Route& route : book.all()) {
    const almanac::Route here = learned.as_here(route);
    EXPECT_EQ(here.process.has_value(), route.process.has_value());
    for (std::size_t i = 0; i < route.stages.size(); ++i) {
      const almanac::Stage &was = route.stages[i], &is = here.stages[i];
      EXPECT_EQ(is.hazard, was.hazard);
      EXPECT_EQ(is.lag_max_min, was.lag_max_min);
      EXPECT_EQ(is.lag_min_min, was.lag_min_min);
      if (may_learn(was)) {
        changed += is.duration_min.at(5, 1) < was.duration_min.at(5, 1) ? 1 : 0;
      } else {
        EXPECT_EQ(is.duration_min.at(5, 1), was.duration_min.at(5, 1)) << route.key << " " << was.key;
      }
    }
  }
  EXPECT_GT(changed, 100);
}

}  // namespace
}  // namespace stillroom::kitchen
