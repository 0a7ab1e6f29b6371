#include "kitchen/helping.h"

#include <gtest/gtest.h>

#include "kitchen/kitchen_almanac.h"

// What is put into whose hands.
namespace stillroom::kitchen {
namespace {

TEST(Helping, AnEasyJobSuitsFromItsOwnAge) {
  const HelpJob shelling{.least_age = 4};
  EXPECT_TRUE(suits({.age = 4}, shelling));
  EXPECT_FALSE(suits({.age = 3}, shelling));
  EXPECT_FALSE(suits({.age = 4, .needs_minding = true}, shelling));
}

TEST(Helping, EveryDangerHasAFloorThatATableCannotLower) {
  EXPECT_EQ(least_age_for({.least_age = 3, .dangers = {"blade"}}), 10);
  EXPECT_EQ(least_age_for({.least_age = 3, .dangers = {"heat"}}), 14);
  EXPECT_EQ(least_age_for({.least_age = 3, .dangers = {"blade", "pressure"}}), 18);
  EXPECT_EQ(least_age_for({.least_age = 3, .dangers = {"lye"}}), 18);
  EXPECT_EQ(least_age_for({.dangers = {"something new"}}), 18);
  EXPECT_EQ(least_age_for({.least_age = 16, .dangers = {"blade"}}), 16);
}

TEST(Helping, ACautionOrAHeatProcessAloneSetsOneToo) {
  EXPECT_EQ(least_age_for({.least_age = 4, .cautioned = true}), kCautionAge);
  EXPECT_EQ(least_age_for({.heat_process = true}), 14);
}

TEST(Helping, AHeavyBasketIsNotForAChild) {
  EXPECT_EQ(carrying_age(0), 0);
  EXPECT_EQ(carrying_age(2), 5);
  EXPECT_EQ(carrying_age(5), 8);
  EXPECT_EQ(carrying_age(22.7), 18);  // a bushel of pears
  for (double kg = 0; kg < 40; kg += 0.5) EXPECT_LE(carrying_age(kg), carrying_age(kg + 0.5)) << kg;
}

TEST(Helping, ASkillIsAsked) {
  const HelpJob canner{.least_age = 18, .skill = "pressure_canning"};
  EXPECT_FALSE(suits({.age = 40}, canner));
  EXPECT_TRUE(suits({.age = 40, .skills = {"pressure_canning"}}, canner));
}

TEST(Helping, NoStepOfAnyRouteIsHandedOutBelowTheFloorsOfItsDangers) {
  int easy = 0;
  for (const almanac::Route& route : the_almanac().routes.all()) {
    for (const almanac::Stage& stage : route.stages) {
      const Step step{.stage = stage.key, .title = stage.name, .caution = stage.caution, .least_age = stage.least_age};
      const int least = least_age_for(job_of(step, &route));
      EXPECT_GE(least, stage.least_age) << route.key << " " << stage.key;
      for (const std::string& danger : stage.dangers)
        EXPECT_GE(least, almanac::age_floor(danger)) << route.key << " " << stage.key;
      easy += least <= 6 ? 1 : 0;
    }
  }
  EXPECT_GT(easy, 20);  // there is something for small hands too: washing, shelling, snapping
}

}  // namespace
}  // namespace stillroom::kitchen
