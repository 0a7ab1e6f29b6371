#include <gtest/gtest.h>

#include "models.h"

namespace stillroom::keeping {
namespace {

using almanac::Condition;
using std::chrono::hours;

measure::Instant day(int n) { return measure::Instant{} + hours(24 * n); }

TEST(BringIn, UsesMoreOfTheLifeTheSofterItLooks) {
  for (const auto* crop : {"pear_european", "plum", "strawberry", "spinach", "tomato"}) {
    const auto m = model(crop);
    double last = -100;
    for (int c = 0; c < almanac::kConditions; ++c) {
      const auto b = at_bring_in(m, static_cast<Condition>(c));
      EXPECT_GE(b.age, last) << crop;
      EXPECT_LE(b.age_low, b.age) << crop;
      EXPECT_GE(b.age_high, b.age) << crop;
      EXPECT_EQ(condition_of(b), static_cast<Condition>(c)) << crop;
      last = b.age;
    }
    EXPECT_NEAR(usable_share(m, at_bring_in(m, Condition::soft).age), 0.9, 1e-9) << crop;
    EXPECT_NEAR(usable_share(m, at_bring_in(m, Condition::going_over).age), 0.7, 0.06) << crop;
  }
}

// Penn State Extension: Bartlett pears are ripe after about 5 days at 18 to 24 degC; ripe fruit keeps 1 to 3 days.
TEST(Ripening, ABartlettPearIsRipeInFiveDaysAndSoftInSeven) {
  const auto m = model("pear_european/bartlett");
  auto b = at_bring_in(m, Condition::underripe);
  b = advance(m, b, measure::days(5.0), celsius(20));
  EXPECT_EQ(condition_of(b), Condition::ripe);
  EXPECT_EQ(condition_of(advance(m, b, measure::days(1.5), celsius(20))), Condition::ripe);
  EXPECT_EQ(condition_of(advance(m, b, measure::days(3), celsius(20))), Condition::soft);
  // Near freezing it waits two months.
  EXPECT_LT(advance(m, at_bring_in(m, Condition::underripe), measure::days(40), celsius(-0.5)).ripeness, 2);
}

// NC State tomato bulletin; University of Vermont Extension: 7 to 14 days at 20 degC, 21 to 30 at 12 degC.
TEST(Ripening, GreenTomatoesColourInOneToTwoWeeksInARoomAndThreeToFourInTheCool) {
  const auto m = model("tomato/mature_green");
  const auto ripe_after = [&m](double temp) {
    auto b = at_bring_in(m, Condition::underripe);
    double days = 0;
    for (; condition_of(b) < Condition::ripe && days < 90; days += 0.25) {
      b = advance(m, b, measure::days(0.25), celsius(temp));
    }
    return days;
  };
  EXPECT_GE(ripe_after(20), 7);
  EXPECT_LE(ripe_after(20), 14);
  EXPECT_GE(ripe_after(12), 21);
  EXPECT_LE(ripe_after(12), 30);
}

TEST(Ripening, TomatoesDoNotColourInTheRefrigerator) {
  const auto m = model("tomato/mature_green");
  const auto b = at_bring_in(m, Condition::underripe);
  EXPECT_EQ(ripening_per_day(m, 0, celsius(4)), 0);
  EXPECT_EQ(advance(m, b, measure::days(3), celsius(4)).ripeness, b.ripeness);
}

TEST(Ripening, UnripeTomatoesStillHaveTheLifeOfTheRipeFruitBeforeThem) {
  const auto m = model("tomato");
  auto b = at_bring_in(m, Condition::underripe);
  EXPECT_LT(b.age, 0);
  b = advance(m, b, measure::days(10), celsius(20));
  EXPECT_EQ(condition_of(b), Condition::ripe);
  EXPECT_NEAR(b.age, 0, 0.05);
}

TEST(Ripening, CropsThatDoNotRipenOffThePlantGoSoftByAge) {
  const auto m = model("spinach");
  EXPECT_FALSE(m.ripens());
  auto b = at_bring_in(m, Condition::firm);
  b = advance(m, b, measure::days(4), celsius(4));
  EXPECT_EQ(condition_of(b), Condition::firm);
  b = advance(m, b, measure::days(10), celsius(4));
  EXPECT_EQ(condition_of(b), Condition::soft);
  b = advance(m, b, measure::days(30), celsius(4));
  EXPECT_EQ(condition_of(b), Condition::going_over);
}

TEST(Advance, AHistoryIsTheSumOfItsStays) {
  const auto m = model("apple/late");
  const auto b = at_bring_in(m, Condition::firm);
  const std::vector<Stay> stays{{day(0), celsius(20)}, {day(2), celsius(4)}, {day(12), celsius(2)}};
  const auto whole = advance(m, b, stays, day(0), day(30));
  auto parts = advance(m, b, measure::days(2), celsius(20));
  parts = advance(m, parts, measure::days(10), celsius(4));
  parts = advance(m, parts, measure::days(18), celsius(2));
  EXPECT_NEAR(whole.age, parts.age, 1e-12);
  EXPECT_NEAR(advance(m, b, stays, day(5), day(5)).age, b.age, 1e-12);
  EXPECT_NEAR(advance(m, b, stays, day(5), day(6)).age - b.age, ageing_per_day(m, celsius(4)), 1e-12);
}

TEST(Look, ThatConfirmsChangesLittleAndNarrowsTheBand) {
  const auto m = model("pear_european");
  auto b = advance(m, at_bring_in(m, Condition::underripe), measure::days(5.5), celsius(20));
  const auto seen = observe(m, b, condition_of(b));
  EXPECT_NEAR(seen.age, b.age, 0.1);
  EXPECT_LT(seen.age_high - seen.age_low, b.age_high - b.age_low);
  EXPECT_EQ(seen.ripeness, b.ripeness);
}

TEST(Look, ThatContradictsMovesTheAgeASensibleWay) {
  const auto m = model("spinach");
  const auto fresh = at_bring_in(m, Condition::firm);
  const auto soft = observe(m, fresh, Condition::soft);
  EXPECT_GT(soft.age, 0.6);
  EXPECT_LT(soft.age, 1.4);
  EXPECT_EQ(condition_of(soft), Condition::soft);
  const auto old = advance(m, fresh, measure::days(14), celsius(4));
  const auto better = observe(m, old, Condition::firm);
  EXPECT_LT(better.age, old.age - 0.1);
  EXPECT_GT(better.age, 0.3);
  EXPECT_EQ(condition_of(better), Condition::firm);
}

TEST(Look, ThatCannotBeSquaredWithTheBeliefIsBelieved) {
  const auto m = model("tomato");
  const auto b = observe(m, at_bring_in(m, Condition::underripe), Condition::going_over);
  EXPECT_NEAR(usable_share(m, b.age), 0.7, 0.1);
  EXPECT_EQ(condition_of(b), Condition::going_over);
}

TEST(Look, FirmGoodsAreNotSoftAgainNextDay) {
  const auto m = model("carrot/mature");
  auto b = advance(m, at_bring_in(m, Condition::firm), measure::days(400), celsius(0));
  ASSERT_GE(condition_of(b), Condition::soft);
  b = observe(m, b, Condition::firm);
  b = advance(m, b, measure::days(1), celsius(0));
  EXPECT_EQ(condition_of(b), Condition::firm);
}

TEST(DaysLeft, ComeInOrderAndAreFewerInTheWarm) {
  const auto m = model("broccoli");
  const auto b = at_bring_in(m, Condition::firm);
  const auto cold = days_left(m, b, celsius(0), 0.9);
  EXPECT_LE(cold.low, cold.likely);
  EXPECT_LE(cold.likely, cold.high);
  // The published range is 14 to 28 days at 0 degC; the band also holds what is not known at bring-in.
  EXPECT_NEAR(cold.low, 14, 3);
  EXPECT_NEAR(cold.high, 28, 0.1);
  EXPECT_LT(days_left(m, b, celsius(20), 0.9).likely, 2.1);
  EXPECT_EQ(days_left(m, at_bring_in(m, Condition::going_over), celsius(20), 0.9).likely, 0);
}

}  // namespace
}  // namespace stillroom::keeping
