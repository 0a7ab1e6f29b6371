#include <gtest/gtest.h>

#include <algorithm>

#include "models.h"
#include "reference_rows.h"

namespace stillroom::keeping {
namespace {

using std::chrono::hours;
using std::chrono::minutes;

const measure::Instant kStart = measure::Instant{} + hours(24 * 20000);
measure::Temperature fahrenheit(double f) { return measure::Temperature::fahrenheit(f); }

/// Hours from the start until the deadline.
double hours_allowed(std::string_view clock, const std::vector<Stay>& stays) {
  const auto end = hazard_deadline(*hazard_clock(clock), stays, kStart);
  return static_cast<double>((end - kStart).count()) / 3600;
}

TEST(HazardClock, LimitsArePublished) {
  auto table = reference_rows("keeping_hazard.csv");
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    almanac::RowReader r(table, i);
    const auto* clock = hazard_clock(r.text("clock"));
    ASSERT_NE(clock, nullptr) << r.text("clock");
    EXPECT_EQ(clock->room_hours, r.required_number("room_hours", 0, 100)) << clock->key;
    EXPECT_EQ(clock->fridge_days, r.required_number("fridge_days", 0, 100)) << clock->key;
    EXPECT_FALSE(clock->source.empty());
  }
  EXPECT_EQ(hazard_clock("no_such_food"), nullptr);
}

TEST(HazardClock, AllowsTwoHoursInTheRoomAndOneOnAHotDay) {
  EXPECT_NEAR(hours_allowed("cooked_food", {{kStart, fahrenheit(70)}}), 2, 1e-3);
  EXPECT_NEAR(hours_allowed("cooked_food", {{kStart, fahrenheit(41)}}), 2, 1e-3);
  EXPECT_NEAR(hours_allowed("cooked_food", {{kStart, fahrenheit(90)}}), 2, 1e-3);
  EXPECT_NEAR(hours_allowed("cooked_food", {{kStart, fahrenheit(91)}}), 1, 1e-3);
}

TEST(HazardClock, AllowsThePublishedDaysInTheRefrigerator) {
  EXPECT_NEAR(hours_allowed("raw_poultry", {{kStart, fahrenheit(40)}}), 48, 1e-3);
  EXPECT_NEAR(hours_allowed("cooked_food", {{kStart, fahrenheit(36)}}), 96, 1e-3);
}

TEST(HazardClock, AddsUpTheSharesUsed) {
  // An hour in the room takes half of the two hours, so half of the four days are left.
  const std::vector<Stay> stays{{kStart, fahrenheit(70)}, {kStart + hours(1), fahrenheit(38)}};
  EXPECT_NEAR(hours_allowed("cooked_food", stays), 1 + 48, 1e-3);
  // Time out of the cold adds up over two outings.
  const std::vector<Stay> twice{
      {kStart, fahrenheit(70)}, {kStart + minutes(30), fahrenheit(0)}, {kStart + hours(100), fahrenheit(70)}};
  EXPECT_NEAR(hours_allowed("cooked_food", twice), 100 + 1.5, 1e-3);
}

TEST(HazardClock, StandsStillWhileFrozenAndDoesNotRunBack) {
  EXPECT_EQ(hazard_deadline(*hazard_clock("raw_poultry"), {{kStart, fahrenheit(0)}}, kStart), no_deadline());
  const std::vector<Stay> stays{
      {kStart, fahrenheit(38)}, {kStart + hours(24), fahrenheit(0)}, {kStart + hours(24 * 100), fahrenheit(38)}};
  EXPECT_NEAR(hours_allowed("raw_poultry", stays), 24 * 101, 1e-3);
  // A freezer that has warmed to 20 degF is not counted as frozen.
  EXPECT_NEAR(hours_allowed("raw_poultry", {{kStart, fahrenheit(20)}}), 48, 1e-3);
}

TEST(HazardClock, RunsOutAndStaysOut) {
  const std::vector<Stay> stays{{kStart, fahrenheit(70)}, {kStart + hours(5), fahrenheit(0)}};
  EXPECT_NEAR(hours_allowed("raw_meat", stays), 2, 1e-3);
  EXPECT_GE(hazard_used(*hazard_clock("raw_meat"), stays, kStart + hours(5)), 1);
}

TEST(HazardClock, UnknownHistoryAllowsNothing) {
  EXPECT_EQ(hazard_deadline(*hazard_clock("broth"), {}, kStart), kStart);
}

TEST(HazardClock, TimesOutOfOrderCannotLengthenIt) {
  const std::vector<Stay> stays{{kStart + hours(10), fahrenheit(38)}, {kStart, fahrenheit(70)}};
  EXPECT_LE(hours_allowed("cooked_food", stays), 2 + 1e-3);
}

TEST(HazardClock, EveryRawAnimalFoodStartsOnOne) {
  const std::vector<std::string> dry{"jerky", "sausage_dry", "salt_pork", "meat_cured",
                                     "lard",  "fat_poultry", "butter",    "cheese"};
  for (const auto& c : book().crops.all()) {
    const bool keeps_without = std::ranges::count(dry, c.key) > 0;
    EXPECT_EQ(hazard_clock_for_crop(book().crops, c.key) != nullptr, c.animal && !keeps_without) << c.key;
  }
  EXPECT_EQ(hazard_clock_for_crop(book().crops, "stewing_hen")->key, "raw_poultry");
  EXPECT_EQ(hazard_clock_for_crop(book().crops, "venison")->key, "raw_meat");
  EXPECT_EQ(hazard_clock_for_crop(book().crops, "meat_ground")->key, "raw_ground");
  EXPECT_EQ(hazard_clock_for_crop(book().crops, "bones")->key, "raw_poultry");
}

}  // namespace
}  // namespace stillroom::keeping
