#include <gmock/gmock.h>

#include "models.h"

namespace stillroom::keeping {
namespace {

using testing::HasSubstr;

TEST(KeepingModel, IsNineTenthsSoundAtThePublishedLife) {
  for (const auto& m : all_models()) {
    EXPECT_NEAR(usable_share(m, 1), 0.9, 1e-12) << m.crop;
    EXPECT_EQ(usable_share(m, 0), 1) << m.crop;
    EXPECT_EQ(usable_share(m, -2), 1) << m.crop;
    for (const double share : {0.99, 0.7, 0.5, 0.1}) EXPECT_NEAR(usable_share(m, age_of_share(m, share)), share, 1e-9);
  }
}

TEST(KeepingModel, SaysWhoseFiguresItUses) {
  EXPECT_EQ(model("grape/muscadine").from, "for slip-skin grape, borrowed for muscadine");
  EXPECT_EQ(model("squash_winter/acorn").variety, "acorn");
  EXPECT_FALSE(model("pear_european").source.empty());
  EXPECT_EQ(model("okra").checked, "memory");
}

TEST(KeepingModel, RefusesAnimalFoodAndWhatHasNoPublishedLife) {
  const auto venison = model_for(book().crops, book().tables, "venison");
  ASSERT_FALSE(venison);
  EXPECT_EQ(venison.error().code, "hazard_clock");
  const auto honey = model_for(book().crops, book().tables, "honey");
  ASSERT_FALSE(honey);
  EXPECT_EQ(honey.error().code, "no_published_value");
  EXPECT_EQ(model_for(book().crops, book().tables, "moonfruit").error().code, "unknown_crop");
}

// Where respiration misleads (data/keeping/exceptions.csv).
TEST(KeepingModel, DoesNotSendWarmCropsIntoTheCold) {
  for (const auto* crop : {"tomato", "cucumber/slicing", "pepper_sweet", "eggplant", "sweet_potato", "herb_basil",
                           "squash_winter/butternut", "bean_snap", "watermelon"}) {
    const auto m = model(crop);
    ASSERT_TRUE(m.chilling_below_c) << crop;
    EXPECT_GT(ageing_per_day(m, celsius(1)), 1.5 * ageing_per_day(m, celsius(m.best_temp_c))) << crop;
  }
}

TEST(KeepingModel, GarlicSproutsSoonerInTheRefrigeratorThanInACoolRoom) {
  const auto m = model("garlic");
  EXPECT_GT(ageing_per_day(m, celsius(4)), ageing_per_day(m, celsius(12)));
  EXPECT_GT(ageing_per_day(m, celsius(4)), 4 * ageing_per_day(m, celsius(0)));
}

TEST(KeepingModel, StoneFruitTurnsMealyBetweenTwoAndEightDegrees) {
  const auto m = model("peach");
  // Cooling from 8 to 5 degC gains next to nothing; cooling to 0 degC doubles the life.
  EXPECT_GT(ageing_per_day(m, celsius(5)), 0.85 * ageing_per_day(m, celsius(8)));
  EXPECT_GT(ageing_per_day(m, celsius(5)), 1.8 * ageing_per_day(m, celsius(0)));
}

TEST(KeepingModel, FreshProduceIsLostWhenItFreezesInStoreButDrySeedIsNot) {
  EXPECT_GT(ageing_per_day(model("apple/late"), celsius(-4)), 20 * ageing_per_day(model("apple/late"), celsius(0)));
  EXPECT_NEAR(ageing_per_day(model("bean_dry"), celsius(-18)), ageing_per_day(model("bean_dry"), celsius(5)), 1e-12);
}

// A day or two whatever the handbook recalled: the refrigerator row was read, the storage row is from memory.
TEST(KeepingModel, TheSurerOfTwoLivesThatCannotBothBeTrueStands) {
  const auto m = model("cucumber/pickling");
  EXPECT_EQ(m.life_days_best_low, 1);
  EXPECT_EQ(m.life_days_best_high, 2);
}

// Common practice: acorn first, butternut and spaghetti until spring, hubbard longest; some share is usable for months.
TEST(WinterSquash, KeepsInTheOrderTheTradeKnows) {
  const std::vector<std::string> order{"acorn", "delicata", "butternut", "hubbard"};
  for (const double share : {0.9, 0.7, 0.5, 0.3}) {
    for (std::size_t i = 1; i < order.size(); ++i) {
      EXPECT_LT(days_to(model("squash_winter/" + order[i - 1]), share, 12.5),
                days_to(model("squash_winter/" + order[i]), share, 12.5))
          << order[i] << " at " << share;
    }
  }
  for (const double days : {60.0, 120.0, 180.0, 240.0, 365.0}) {
    const auto left = [days](const std::string& type) {
      const auto m = model("squash_winter/" + type);
      return usable_share(m,
                          advance(m, at_bring_in(m, almanac::Condition::firm), measure::days(days), celsius(12.5)).age);
    };
    for (const auto* type :
         {"delicata", "sweet_dumpling", "spaghetti", "butternut", "kabocha", "buttercup", "hubbard", "banana"}) {
      EXPECT_LT(left("acorn"), left(type)) << type << " after " << days;
    }
  }
}

TEST(WinterSquash, HasALongTail) {
  const auto after_months = [](const std::string& type, double months) {
    const auto m = model("squash_winter/" + type);
    return usable_share(
        m, advance(m, at_bring_in(m, almanac::Condition::firm), measure::days(months * 30.4), celsius(12.5)).age);
  };
  for (const auto* type : {"butternut", "spaghetti", "hubbard"}) {
    EXPECT_GT(after_months(type, 7), 0.4) << type;
    EXPECT_GT(after_months(type, 12), 0.1) << type;
  }
  for (const auto* type : {"kabocha", "buttercup", "banana"}) EXPECT_GT(after_months(type, 8), 0.5) << type;
  EXPECT_GT(after_months("delicata", 6), 0.2);
  EXPECT_LT(after_months("acorn", 6), 0.1);
  EXPECT_GT(after_months("acorn", 3), 0.4);
}

}  // namespace
}  // namespace stillroom::keeping
