#include "planning/bound.h"

#include <gtest/gtest.h>

#include "planning/seasons.h"
#include "planning/small.h"

namespace stillroom::planning {
namespace {

using detail::Evaluator;
using detail::JobKind;
using detail::JobRequest;

Bound bound_of(const Household& h) {
  auto b = bound(h);
  if (!b) throw std::runtime_error(b.error().message);
  return std::move(*b);
}

/// Every flag of the generator in turn, 5 to 40 lots, 5 to 21 days.
bench::Season varied(int i) {
  bench::Season s;
  s.seed = static_cast<std::uint64_t>(1000 + i);
  s.lots = i % 20 == 19 ? 40 : 5 + i * 7 % 16;
  s.days = i % 3 == 0 ? 21 : i % 3 == 1 ? 12 : 5;
  s.glut = i % 5 == 0 ? 0.7 : 0.3;
  s.frost = i % 7 != 3;
  s.missing_jars = i % 2 == 1;
  s.sick_days = i % 3 == 2;
  s.shopping = i % 4 == 2;
  s.animals = i % 6 != 5;
  s.family = 1 + i % 5;
  s.start_hour = i % 8 == 7 ? 14 : 7;
  return s;
}

/// Every lot by every route in turn, in the order given: what a person without a plan might write down.
std::vector<JobRequest> everything(const Household& h, std::size_t turn) {
  std::vector<JobRequest> list;
  for (const OtherJob& job : h.other) list.push_back({.kind = JobKind::other, .what = job.key, .parts = {}});
  for (std::size_t r = 0; r < h.routes.size(); ++r) {
    const almanac::Route& route = h.routes[(r * (2 * turn + 1) + turn) % h.routes.size()];
    for (const Lot& lot : h.lots)
      list.push_back({.kind = JobKind::batch, .what = route.key, .parts = {{lot.id, route.batch_max_kg}}});
  }
  return list;
}

class GeneratedBound : public ::testing::TestWithParam<int> {};

TEST_P(GeneratedBound, IsNeverBelowAPlan) {
  for (int i = GetParam(); i < (test::thorough() ? 200 : 32); i += 8) {
    const bench::Season season = varied(i);
    const Household h = bench::generate(test::published(), season);
    const Bound most = bound_of(h);
    EXPECT_TRUE(most.solved);
    const Plan plan = test::plan_of(h, 40, 1, season.seed);
    EXPECT_GE(most.value, plan.terms.total()) << "household " << i;
    Evaluator evaluator(h);
    EXPECT_GE(most.value, evaluator.worth({})) << "household " << i;
    EXPECT_GE(most.value, evaluator.worth(everything(h, static_cast<std::size_t>(i)))) << "household " << i;
  }
}
INSTANTIATE_TEST_SUITE_P(Eighths, GeneratedBound, ::testing::Range(0, 8));

TEST(Bound, IsExactForOneLotAndOneRoute) {
  const Household h = test::household();  // 10 kg at 10 USD, an hour of free effort
  EXPECT_NEAR(bound_of(h).value, 100, 0.01);
  EXPECT_NEAR(test::planned(h).terms.total(), 100, 0.01);
}

TEST(Bound, ChargesTheHourOfTheBatch) {
  Household h = test::household();
  h.effort_per_hour = 6;
  EXPECT_NEAR(bound_of(h).value, 94, 0.01);
  h.lots[0].kg = 0.5;  // worth 5 USD put up, less than its hour
  h.lots[0].hazard_by = test::kDay;
  EXPECT_NEAR(bound_of(h).value, 0, 0.01);
}

TEST(Bound, HeedsJarsAndSaysThatTheyBind) {
  Household h = test::household();
  h.routes[0].stages[0].stock = {{"jar_quart", {0, 2, 0}}};
  h.stock = {{"jar_quart", 8, {}}};
  h.lots[0].hazard_by = test::kDay;  // nothing is left to be sound
  const Bound most = bound_of(h);
  EXPECT_NEAR(most.value, 40, 0.01);
  ASSERT_FALSE(most.binding.empty());
  EXPECT_EQ(most.binding[0].what, "quart jars");
  EXPECT_NEAR(most.binding[0].worth, 40, 0.01);
}

TEST(Bound, HeedsTheHoursOfTheDay) {
  Household h = test::household();  // two hours' free time, 15 minutes a kg
  h.hands = {test::hand("ann", 1, 8, 10)};
  h.routes[0].stages[0].duration_min = {0, 15, 0};
  h.lots[0].hazard_by = test::kDay;
  EXPECT_NEAR(bound_of(h).value, 80, 0.01);
  h.hands[0].usable_share = 0.5;
  EXPECT_NEAR(bound_of(h).value, 40, 0.01);
}

TEST(Bound, HeedsTheCannersHours) {
  Household h = test::household();
  h.hands = {test::hand("ann", 1, 8, 12)};
  h.routes[0].stages[0] = test::stage("process", 0, almanac::Attention::nearby);
  h.routes[0].stages[0].duration_min = {0, 0, 120};
  h.routes[0].stages[0].equipment = {{"canner", {1, 0, 0}}};
  h.routes[0].load_kg = 3;
  h.equipment = {{"canner", 1}};
  h.lots[0].hazard_by = test::kDay;
  EXPECT_NEAR(bound_of(h).value, 60, 0.01);  // two loads of 3 kg in the four hours
}

TEST(Bound, FollowsTheConcaveWorth) {
  Household h = test::household();
  h.worth = {{.food = "a", .form = "jar", .per_kg = 8, .need_kg = 4}};
  h.lots[0].hazard_by = test::kDay;
  EXPECT_NEAR(bound_of(h).value, 8 * (4 + 0.5 * 2 + 0.1 * 4), 0.01);
}

TEST(Bound, FallsWithTheSoundnessOfTheLot) {
  Household h = test::household();
  h.lots[0].model = test::fading();
  h.lots[0].ready = 0;
  h.lots[0].hazard_by = test::kDay;
  const double share = keeping::usable_share(
      *h.lots[0].model,
      8.0 / 24 * keeping::ageing_per_day(*h.lots[0].model, measure::Temperature::celsius(20)));  // Ann comes at eight
  EXPECT_NEAR(bound_of(h).value, 100 * share, 0.01);
}

TEST(Bound, ChoosesWhetherToDoOtherWork) {
  Household h = test::household();
  h.hands = {test::hand("ann", 1, 8, 10)};
  h.routes[0].stages[0].duration_min = {0, 12, 0};  // the two hours go into the lot
  h.lots[0].hazard_by = test::kDay;
  OtherJob job;
  job.key = job.name = "fence";
  job.minutes = 60;
  job.importance = 5;
  h.other = {job};
  EXPECT_NEAR(bound_of(h).value, 100 - 15, 0.01);  // left undone: 3 days' cost
  h.other[0].importance = 50;
  EXPECT_NEAR(bound_of(h).value, 50, 0.01);
}

TEST(Bound, IsNoLowerWithMoreOfAnything) {
  for (int seed = 1; seed <= 3; ++seed) {
    const Household h = test::season(12, static_cast<std::uint64_t>(seed));
    const double before = bound_of(h).value;
    const auto no_lower = [&](const char* what, auto&& change) {
      Household more = h;
      change(more);
      EXPECT_GE(bound_of(more).value, before - 0.02) << what << ", seed " << seed;
    };
    no_lower("stock", [](Household& m) { m.stock.clear(); });  // not counted: never short
    no_lower("rooms", [](Household& m) { m.rooms.clear(); });
    no_lower("canners", [](Household& m) {
      for (EquipmentPiece& e : m.equipment) e.count *= 2;
    });
    no_lower("time", [](Household& m) {
      for (Hand& p : m.hands) p.most_minutes_per_day = 1440;
    });
    no_lower("no other work", [](Household& m) { m.other.clear(); });
    no_lower("effort", [](Household& m) { m.effort_per_hour = 0; });
  }
}

TEST(Bound, RefusesASnapshotAtFault) {
  Household h = test::household();
  h.days = 0;
  const auto b = bound(h);
  ASSERT_FALSE(b);
  EXPECT_EQ(b.error().code, "bad_snapshot");
}

TEST(Bound, HoldsWhenTheSolverIsStoppedEarly) {
  const Household h = test::season(15, 4);
  const Bound whole = bound_of(h);
  const auto stopped = bound(h, {.max_iterations = 50});
  ASSERT_TRUE(stopped);
  EXPECT_FALSE(stopped->solved);
  EXPECT_GE(stopped->value, whole.value - 0.01);
}

}  // namespace
}  // namespace stillroom::planning
