#include "planning/rehearse.h"

#include <gtest/gtest.h>

#include <atomic>
#include <cmath>

#include "planning/seasons.h"
#include "planning/small.h"

// Many seasons of one plan: docs/science/rehearsal.md.
namespace stillroom::planning {
namespace {

Rehearsal lived(const Household& h, const Plan& plan, const RehearseOptions& options) {
  auto r = rehearse(h, plan, options);
  if (!r) throw std::runtime_error(r.error().message);
  return std::move(*r);
}

RehearseOptions seasons(int n, std::uint64_t seed = 1) {
  RehearseOptions o;
  o.seasons = n;
  o.seed = seed;
  return o;
}

TEST(Rehearsal, WithoutChanceEverySeasonIsThePlan) {
  for (std::uint64_t seed = 1; seed <= (test::thorough() ? 16U : 4U); ++seed) {
    const Household h = test::season(25, seed);
    const Plan plan = test::plan_of(h, 600);
    RehearseOptions o = seasons(1);
    o.spreads = Spreads::none();
    const Rehearsal r = lived(h, plan, o);
    // What is left of held food is counted by its gross mass, hence the 0.5 %.
    EXPECT_NEAR(r.value, r.planned, 0.005 * r.planned) << seed;
    EXPECT_DOUBLE_EQ(r.planned, plan.terms.total() + plan.terms.change);
  }
}

TEST(Rehearsal, GivesTheSameAnswerOnAnyNumberOfThreads) {
  const Household h = test::season(15, 3);
  const Plan plan = test::plan_of(h, 400);
  RehearseOptions o = seasons(12);
  o.threads = 1;
  const std::string one = to_json(lived(h, plan, o));
  o.threads = 3;
  EXPECT_EQ(one, to_json(lived(h, plan, o)));
  o.seed = 2;
  EXPECT_NE(one, to_json(lived(h, plan, o)));
}

TEST(Rehearsal, KeepsWhatItHasWhenCancelled) {
  const Household h = test::season(10, 1);
  const Plan plan = test::plan_of(h, 300);
  RehearseOptions o = seasons(50);
  std::atomic<int> done = 0;
  o.on_season = [&](int n, int) { done = n; };
  o.cancelled = [&] { return done >= 5; };
  const Rehearsal r = lived(h, plan, o);
  EXPECT_TRUE(r.cancelled);
  EXPECT_GE(r.seasons, 5);
  EXPECT_LE(r.seasons, 8);
  EXPECT_EQ(r.lots.size(), h.lots.size());
  EXPECT_GT(r.value, 0);
  o.cancelled = [] { return true; };
  EXPECT_EQ(lived(h, plan, o).seasons, 0);
}

TEST(Rehearsal, RefusesASnapshotThatCannotBe) {
  Household h = test::household();
  h.days = 0;
  const auto r = rehearse(h, {}, seasons(1));
  ASSERT_FALSE(r);
  EXPECT_EQ(r.error().code, "bad_snapshot");
}

/// A lot that nobody can do anything with, waiting four days at 20 degC: 0.76 of it is usable then if it keeps as its
/// published life says, and 0.75 counts as saved.
Household waiting_lot(double life_low, double life_high) {
  Household h = test::household(4);
  h.routes.clear();
  h.lots[0].model = test::fading();
  h.lots[0].model->life_days_best_low = life_low;
  h.lots[0].model->life_days_best_high = life_high;
  return h;
}

TEST(Rehearsal, DrawsKeepingFromThePublishedBand) {
  const Household sure = waiting_lot(10, 10), band = waiting_lot(7, 100.0 / 7);
  const double certain = lived(sure, test::planned(sure), seasons(100)).lots[0].saved;
  EXPECT_EQ(certain, 1);
  const Rehearsal r = lived(band, test::planned(band), seasons(400));
  // Half of all lots keep longer than the middle of the band; the margin of 0.01 in share adds some.
  EXPECT_GT(r.lots[0].saved, 0.45);
  EXPECT_LT(r.lots[0].saved, 0.65);
  EXPECT_GT(r.lots[0].saved_error, 0.01);
  EXPECT_GT(r.lots[0].loss_kg, 1);
}

TEST(Rehearsal, APersonWhoIsOutDoesNothingThatDay) {
  Household h = test::household();
  h.lots[0].hazard_by = test::at(0, 17);
  h.routes[0].stages[0].equipment = {{"burner", {1, 0, 0}}};
  h.equipment = {{"burner", 1}};
  const Plan plan = test::planned(h);
  RehearseOptions o = seasons(20);
  o.spreads = Spreads::none();
  EXPECT_EQ(lived(h, plan, o).lots[0].saved, 1);
  o.spreads.sick_day = 1;
  const Rehearsal r = lived(h, plan, o);
  EXPECT_EQ(r.lots[0].saved, 0);
  EXPECT_DOUBLE_EQ(r.lots[0].loss_kg, 10);
  EXPECT_NEAR(r.lots[0].loss_usd, 100, 1e-6);  // 10 USD per kg
  EXPECT_EQ(r.days[0].hours, 0);
}

TEST(Rehearsal, AStageThatRunsOverPushesWhatFollows) {
  Household h = test::household();
  h.routes = {test::route("a/jar", {test::stage("do", 270)}), test::route("b/jar", {test::stage("do", 270)})};
  h.lots.push_back(test::lot("l2", "b", 10));  // nine hours of work in a day of ten
  const Plan plan = test::planned(h);
  ASSERT_EQ(plan.batches.size(), 2U);
  RehearseOptions o = seasons(300);
  o.spreads = Spreads::none();
  const Rehearsal calm = lived(h, plan, o);
  EXPECT_EQ(calm.lots[0].saved + calm.lots[1].saved, 2);
  EXPECT_DOUBLE_EQ(calm.days[0].hours, 9);
  o.spreads.stages = 1;
  for (almanac::Route& r : h.routes) r.stages[0].spread = 0.5;
  h.lots[0].hazard_by = h.lots[1].hazard_by = test::at(0, 18);  // or it would still be sound
  const Rehearsal r = lived(h, plan, o);
  const double both = r.lots[0].saved + r.lots[1].saved;
  EXPECT_GT(both, 1.3);  // the first is always begun
  EXPECT_LT(both, 1.95);
  EXPECT_GT(r.days[0].high, r.days[0].low);
}

TEST(Rehearsal, MoreHandsDoNotLowerTheValue) {
  for (std::uint64_t seed = 1; seed <= (test::thorough() ? 4U : 1U); ++seed) {
    const Household few = test::season(20, seed);
    Household more = few;
    Hand helper = few.hands.front();
    helper.key = helper.name = "helper";
    more.hands.push_back(helper);
    const Rehearsal a = lived(few, test::plan_of(few, 1500), seasons(20));
    const Rehearsal b = lived(more, test::plan_of(more, 1500), seasons(20));
    EXPECT_GE(b.value, a.value - 2 * (a.value_error + b.value_error)) << seed;
  }
}

TEST(Rehearsal, PlanningAgainEachMorningIsBetterThanWaitingOnesTurn) {
  const Household h = test::season(25, 2);
  const Plan plan = test::plan_of(h, 1500);
  RehearseOptions o = seasons(30);
  const Rehearsal again = lived(h, plan, o);
  o.replan = false;
  const Rehearsal once = lived(h, plan, o);
  EXPECT_GT(again.value, once.value);
}

TEST(Rehearsal, ForecastChancesComeTrueInFreshSeasons) {
  struct Bin {
    double given = 0, came = 0, variance = 0;
    int lots = 0;
  };
  std::array<Bin, 5> bins{};
  const bool many = test::thorough();
  for (std::uint64_t seed = 1; seed <= (many ? 2U : 1U); ++seed) {
    const Household h = test::season(many ? 25 : 15, seed);
    const Plan plan = test::plan_of(h, 800);
    const Rehearsal forecast = lived(h, plan, seasons(many ? 150 : 50, 1));
    const Rehearsal fresh = lived(h, plan, seasons(many ? 100 : 40, 77));
    for (std::size_t l = 0; l < h.lots.size(); ++l) {
      Bin& bin = bins[std::min<std::size_t>(4, static_cast<std::size_t>(forecast.lots[l].saved * 5))];
      ++bin.lots;
      bin.given += forecast.lots[l].saved;
      bin.came += fresh.lots[l].saved;
      bin.variance += std::pow(forecast.lots[l].saved_error, 2) + std::pow(fresh.lots[l].saved_error, 2);
    }
  }
  for (const Bin& bin : bins) {
    if (bin.lots == 0) continue;
    EXPECT_NEAR(bin.came / bin.lots, bin.given / bin.lots, 3 * std::sqrt(bin.variance) / bin.lots + 0.05);
  }
}

}  // namespace
}  // namespace stillroom::planning
