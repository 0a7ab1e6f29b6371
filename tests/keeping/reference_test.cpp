#include <gtest/gtest.h>

#include <cmath>

#include "models.h"
#include "reference_rows.h"

// The model against published lives. The model puts the nine-tenths life at the geometric mean of a published range, so
// it must come out inside the range it was given and near those it was not.
namespace stillroom::keeping {
namespace {

using almanac::Condition;
using almanac::RowReader;

constexpr double kRounding = 1.001;

TEST(PublishedLife, IsReturnedAtTheBestTemperature) {
  auto table = reference_rows("keeping_best_life.csv");
  EXPECT_GE(table.rows.size(), 60U);
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    RowReader r(table, i);
    const auto m = model(r.text("crop"));
    const double low = r.required_number("life_low_days", 0, 4000);
    const double high = r.required_number("life_high_days", 0, 4000);
    EXPECT_EQ(m.life_days_best_low, low) << m.crop;
    EXPECT_EQ(m.life_days_best_high, high) << m.crop;
    for (const auto* end : {"temp_low_c", "temp_high_c"}) {
      const double life = 1 / ageing_per_day(m, celsius(r.required_number(end, -5, 30)));
      EXPECT_GE(life * kRounding, low) << m.crop << " " << r.text("source");
      EXPECT_LE(life, high * kRounding) << m.crop << " " << r.text("source");
    }
  }
}

/// Rows with `outside_because` are the honest exceptions: they must be outside, or the reason is out of date.
TEST(PublishedLife, IsMetInTheRoomCellarAndRefrigerator) {
  auto table = reference_rows("keeping_room_life.csv");
  std::size_t within = 0;
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    RowReader r(table, i);
    const auto m = model(r.text("crop"));
    const auto seen = almanac::condition_from_word(r.text("seen")).value();
    const double life = days_to(m, 0.9, r.required_number("temp_c", -5, 30), seen);
    const bool inside = life * kRounding >= r.required_number("life_low_days", 0, 4000) &&
                        life <= kRounding * r.required_number("life_high_days", 0, 4000);
    EXPECT_EQ(inside, r.text("outside_because").empty())
        << m.crop << " " << r.text("state") << " at " << r.text("temp_c") << ": model " << life << ", published "
        << r.text("life_low_days") << " to " << r.text("life_high_days") << "; " << r.text("source");
    within += inside ? 1U : 0U;
  }
  // "Most crops": nine rows in ten.
  EXPECT_GE(within * 10, table.rows.size() * 9);
}

TEST(PublishedLife, SharesSoundAreMetInTime) {
  auto table = reference_rows("keeping_share.csv");
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    RowReader r(table, i);
    const auto m = model(r.text("crop"));
    const auto seen = almanac::condition_from_word(r.text("seen")).value();
    const auto b = advance(m, at_bring_in(m, seen), measure::days(r.required_number("days", 0, 500)),
                           celsius(r.required_number("temp_c", -5, 30)));
    EXPECT_NEAR(usable_share(m, b.age), r.required_number("share", 0, 1), r.required_number("tolerance", 0, 0.25))
        << m.crop << ": " << r.text("remark") << "; " << r.text("source");
  }
}

// UC Davis: strawberries deteriorate about ten times faster at 20 degC than at 0 degC.
TEST(PublishedLife, StrawberriesFadeAboutTenTimesFasterInTheRoom) {
  const auto m = model("strawberry");
  EXPECT_NEAR(ageing_per_day(m, celsius(20)) / ageing_per_day(m, celsius(0)), 10, 2);
}

// General curve of UC Davis (Cantwell): relative speed 1, 3, 7.5, 15 at 0, 10, 20, 30 degC, used where a crop has no
// rate.
TEST(PublishedLife, CropsWithoutARateFollowTheGeneralCurve) {
  const auto m = model("artichoke_globe");
  const double at_zero = ageing_per_day(m, celsius(0));
  EXPECT_NEAR(ageing_per_day(m, celsius(10)) / at_zero, 3, 0.05);
  EXPECT_NEAR(ageing_per_day(m, celsius(20)) / at_zero, 7.5, 0.1);
  EXPECT_NEAR(ageing_per_day(m, celsius(30)) / at_zero, 15, 0.2);
}

}  // namespace
}  // namespace stillroom::keeping
