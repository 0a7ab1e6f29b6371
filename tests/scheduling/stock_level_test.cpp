#include <gtest/gtest.h>

#include <array>

#include "scheduling/level_profile.h"
#include "scheduling/stock_profile.h"

namespace {
using stillroom::scheduling::Calendar;
using stillroom::scheduling::kNever;
using stillroom::scheduling::LevelProfile;
using stillroom::scheduling::StockProfile;
using stillroom::scheduling::UndoLog;

TEST(StockProfile, WaitsForAnArrival) {
  const std::array<StockProfile::Arrival, 2> arrivals{{{200, 5}, {100, 5}}};
  const StockProfile jars(12, arrivals);
  EXPECT_EQ(jars.earliest_take(0, 12), 0);
  EXPECT_EQ(jars.earliest_take(0, 13), 100);
  EXPECT_EQ(jars.earliest_take(0, 22), 200);
  EXPECT_EQ(jars.earliest_take(0, 23), kNever);
  EXPECT_EQ(jars.earliest_take(0, 22, 199), kNever);
  EXPECT_EQ(jars.earliest_take(300, 1), 300);
}

TEST(StockProfile, EarlierWithdrawalLeavesEnoughForPromisedLaterOnes) {
  StockProfile jars(10, {});
  UndoLog log;
  jars.take(500, 8, log);  // promised for later
  EXPECT_EQ(jars.level_at(100), 10);
  EXPECT_EQ(jars.available_from(100), 2);
  EXPECT_EQ(jars.earliest_take(100, 2), 100);
  EXPECT_EQ(jars.earliest_take(100, 3), kNever);
  const std::array<StockProfile::Arrival, 1> arrivals{{{600, 4}}};
  StockProfile more(10, arrivals);
  more.take(500, 8, log);
  EXPECT_EQ(more.earliest_take(100, 3), 600);  // only after the arrival is it safe
  log.rollback(0);
  EXPECT_EQ(jars.earliest_take(100, 10), 100);
}

TEST(StockProfile, ShoppingLiftsTheLevelFromThenOn) {
  StockProfile lids(0, {});
  UndoLog log;
  lids.put(50, 24, log);
  EXPECT_EQ(lids.earliest_take(0, 24), 50);
  lids.take(60, 24, log);
  EXPECT_EQ(lids.earliest_take(0, 1), kNever);
  lids.put(60, 24, log);  // given back
  EXPECT_EQ(lids.earliest_take(0, 24), 50);
  EXPECT_EQ(lids.earliest_take(10, 0), 10);
}

TEST(StockProfile, ArrivalsAtTheSameMomentAddUp) {
  const std::array<StockProfile::Arrival, 2> arrivals{{{100, 5}, {100, 7}}};
  EXPECT_EQ(StockProfile(0, arrivals).earliest_take(0, 12), 100);
}

TEST(LevelProfile, KeepsForEverOnlyWhereItFitsForEver) {
  const std::array<Calendar::Step, 3> steps{{{0, 100}, {200, 40}, {300, 100}}};
  const Calendar c = Calendar::from_steps(steps).value();
  LevelProfile freezer(c);
  UndoLog log;
  EXPECT_EQ(freezer.earliest_keep(0, 40), 0);
  EXPECT_EQ(freezer.earliest_keep(0, 41), 300);
  EXPECT_EQ(freezer.earliest_keep(0, 101), kNever);
  EXPECT_EQ(freezer.earliest_keep(0, 41, 299), kNever);
  freezer.keep(50, kNever, 30, log);
  EXPECT_EQ(freezer.free_at(20), 100);
  EXPECT_EQ(freezer.free_at(250), 10);
  EXPECT_EQ(freezer.lowest_free(0, kNever), 10);
  EXPECT_EQ(freezer.earliest_keep(0, 10), 0);
  EXPECT_EQ(freezer.earliest_keep(0, 11), 300);
  log.rollback(0);
  EXPECT_EQ(freezer.free_at(250), 40);
}

TEST(LevelProfile, KeepsForATimeBetweenOtherThings) {
  const Calendar c = Calendar::always(10);
  LevelProfile shelf(c);
  UndoLog log;
  shelf.keep(100, 200, 8, log);
  EXPECT_EQ(shelf.earliest_keep_during(50, 50, 5), 50);
  EXPECT_EQ(shelf.earliest_keep_during(51, 50, 5), 200);
  EXPECT_EQ(shelf.earliest_keep_during(51, 50, 2), 51);
  shelf.release(100, 200, 8, log);
  EXPECT_EQ(shelf.earliest_keep_during(51, 50, 5), 51);
}

}  // namespace
