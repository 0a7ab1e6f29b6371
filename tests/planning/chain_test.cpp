#include "planning/small.h"

// Stages that follow each other: lags, hazard clocks, windows, what runs past the horizon.
namespace stillroom::planning {
namespace {

using almanac::Attention;
using namespace test;  // NOLINT: the words of small.h

Household chain(std::vector<almanac::Stage> stages, int days = 1) {
  Household h = household(days);
  h.routes = {route("a/jar", std::move(stages))};
  return h;
}

TEST(Chain, TheNextStageWaitsAsLongAsItMust) {
  Household h = chain({stage("cook", 60), stage("pack", 30)});
  h.routes[0].stages[1].lag_min_min = 122;  // 9:00 + 122 min, on the next five minutes
  EXPECT_EQ(the(planned(h), "pack")->span.from, at(0, 11, 5));
  h.hands[0].free = {{at(0, 8), at(0, 11, 30)}};
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(Chain, AnEarlierStageMovesRightForALaterOne) {
  // The canner is taken until 14:00 and peeled fruit waits half an hour at most: peel at 12:30.
  Household h = chain({stage("peel", 60), stage("can", 60)});
  h.routes[0].stages[1].lag_max_min = 30;
  h.routes[0].stages[1].equipment = {{"canner", {.fixed = 1}}};
  h.equipment = {{"canner", 1}};
  h.committed = {{.batch = "b",
                  .stage = "s",
                  .name = "s",
                  .span = {at(0, 7), at(0, 14)},
                  .hands = {},
                  .equipment = {{"canner", {.fixed = 1}}}}};
  const Plan plan = planned(h);
  ASSERT_NE(the(plan, "peel"), nullptr);
  EXPECT_EQ(the(plan, "peel")->span.from, at(0, 12, 30));
  EXPECT_EQ(the(plan, "can")->span.from, at(0, 14));
  h.hands[0].free = {{at(0, 8), at(0, 12)}, {at(0, 14), at(0, 18)}};  // now peeling would end at 15:00 at the earliest
  EXPECT_EQ(the(planned(h), "peel")->span.from, at(0, 14));
  h.hands[0].free = {{at(0, 8), at(0, 12)}, {at(0, 16), at(0, 17)}};
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(Chain, ThreeTightStagesMoveTogether) {
  Household h = chain({stage("peel", 30), stage("fill", 30), stage("can", 60)});
  for (int i : {1, 2}) h.routes[0].stages[static_cast<std::size_t>(i)].lag_max_min = 10;
  h.hands[0].free = {{at(0, 8), at(0, 9, 30)}, {at(0, 10), at(0, 12)}};  // only the second piece holds all three
  EXPECT_EQ(the(planned(h), "peel")->span.from, at(0, 10));
}

TEST(Chain, CookedFoodMayNotStandLongerThanItsClock) {
  // Cooked food at room temperature: two hours.
  Household h = chain({stage("cook", 60), stage("pack", 30)});
  h.routes[0].stages[0].hazard = "cooked_food";
  ASSERT_NE(keeping::hazard_clock("cooked_food"), nullptr);
  const auto most = static_cast<Minute>(keeping::hazard_clock("cooked_food")->room_hours * 60);
  h.hands[0].free = {{at(0, 8), at(0, 9)}, {at(0, 9) + most, at(0, 9) + most + 30}};
  EXPECT_EQ(planned(h).batches.size(), 1U);
  h.hands[0].free[1] = {at(0, 9) + most + 5, at(0, 9) + most + 35};
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(Chain, RawMeatMustBeInTheHeatInTime) {
  Household h = chain({stage("cook", 60)});
  h.routes[0].stages[0].equipment = {{"burner", {.fixed = 1}}};
  h.equipment = {{"burner", 1}};
  h.lots[0].hazard_by = at(0, 8);
  EXPECT_EQ(planned(h).batches.size(), 1U);
  h.lots[0].hazard_by = at(0, 7, 59);
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(Chain, OrInTheFreezerInTime) {
  Household h = chain({stage("cut", 60), stage("freeze", 30)});
  h.routes[0].stages[1].room = {{"freezer_l", {.per_kg = 1}}};
  h.rooms = {{"freezer_l", 100}};
  h.lots[0].hazard_by = at(0, 9, 30);
  EXPECT_EQ(planned(h).batches.size(), 1U);
  h.lots[0].hazard_by = at(0, 9, 29);
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(Chain, WorkOutdoorsWaitsForADryDay) {
  Household h = chain({stage("spread", 60)}, 2);
  h.routes[0].stages[0].weather.dry = true;
  h.weather = {{.low_c = 8, .high_c = 16, .rain_mm = 4}, {.low_c = 8, .high_c = 16, .rain_mm = 0}};
  EXPECT_EQ(the(planned(h), "spread")->span.from, at(1, 8));
  h.weather[1].rain_mm = 1;
  EXPECT_TRUE(planned(h).batches.empty());
  h.weather.pop_back();  // nothing known of the second day: it counts as good
  EXPECT_EQ(the(planned(h), "spread")->span.from, at(1, 8));
}

TEST(Chain, AndForDaylightAndAWarmHour) {
  Household h = chain({stage("spread", 60)});
  h.routes[0].stages[0].weather = {
      .daylight = true, .dry = false, .min_temp_c = 14.9, .max_temp_c = {}, .max_wind_kmh = {}};
  // 12 + 4 cos(2 pi (m - 900) / 1440): above 14.9 from about 11:54 to 18:06; first whole half hour begins at 12:00
  h.weather = {{.low_c = 8, .high_c = 16, .rain_mm = 0, .wind_kmh = 0, .sunrise = 400, .sunset = 1140}};
  EXPECT_EQ(the(planned(h), "spread")->span.from, at(0, 12));
  h.routes[0].stages[0].weather.min_temp_c = 16.5;
  EXPECT_TRUE(planned(h).batches.empty());
}

TEST(Chain, ALongRestMayRunPastTheHorizon) {
  // The kraut stands three weeks; packing it lies beyond these two days and is left out, but its jars are taken.
  Household h = chain({stage("salt", 60), stage("stand", 21 * 1440, Attention::unattended), stage("pack", 60)}, 2);
  h.routes[0].stages[2].stock = {{"jar_quart", {.fixed = 5}}};
  h.stock = {{"jar_quart", 5, {}, 0}};
  const Plan plan = planned(h);
  ASSERT_EQ(plan.batches.size(), 1U);
  EXPECT_EQ(plan.batches[0].stages.size(), 2U);
  h.stock[0].amount = 4;
  EXPECT_TRUE(planned(h).batches.empty());
}

}  // namespace
}  // namespace stillroom::planning
