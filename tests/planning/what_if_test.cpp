#include "planning/what_if.h"

#include <gmock/gmock.h>

#include "planning/seasons.h"
#include "planning/small.h"

// One thing more or less: the difference between plans made again.
namespace stillroom::planning {
namespace {

using Kind = Change::Kind;
using testing::HasSubstr;

PlanOptions some_steps(long schedules = 200) {
  PlanOptions o;
  o.max_schedules = schedules;
  return o;
}

WhatIf asked(const Household& h, const Plan& plan, const Change& change, long schedules = 200) {
  auto w = what_if(h, plan, change, some_steps(schedules));
  if (!w) throw std::runtime_error(w.error().message);
  return std::move(*w);
}

/// Two lots of four hours' work that are past their clock tonight, and four hours of Ann.
Household too_much() {
  Household h = test::household();
  h.hands = {test::hand("ann", 1, 8, 13)};
  h.routes = {test::route("a/jar", {test::stage("do", 240)}), test::route("b/jar", {test::stage("do", 240)})};
  h.routes[0].stages[0].equipment = h.routes[1].stages[0].equipment = {{"burner", {1, 0, 0}}};
  h.equipment = {{"burner", 2}};
  h.lots.push_back(test::lot("l2", "b", 10));
  for (Lot& lot : h.lots) lot.hazard_by = test::at(0, 20);
  h.places = {{"kitchen", "the kitchen", "counter", 20, 60, ""}};
  return h;
}

TEST(WhatIf, AHelperSavesTheLotThatWasLetGo) {
  const Household h = too_much();
  const Plan plan = test::planned(h);
  const WhatIf w = asked(h, plan, {.kind = Kind::helper, .age = 30, .minutes = 8 * 60});
  EXPECT_EQ(w.saved.size(), 1U);
  EXPECT_TRUE(w.let_go.empty());
  EXPECT_NEAR(w.gain, 100, 1e-6);  // 10 kg at 10 USD
  EXPECT_NEAR(w.kg_more, 10, 1e-6);
  EXPECT_THAT(w.sentence, HasSubstr("1 more lot is saved"));
  EXPECT_THAT(w.sentence, HasSubstr("$100 more"));
}

TEST(WhatIf, AHelperTooYoungForTheWorkSavesNothing) {
  Household h = too_much();
  for (almanac::Route& r : h.routes) r.stages[0].least_age = 14;
  const WhatIf w = asked(h, test::planned(h), {.kind = Kind::helper, .age = 12, .minutes = 8 * 60});
  EXPECT_TRUE(w.saved.empty());
  EXPECT_NEAR(w.gain, 0, 1e-6);
  EXPECT_THAT(w.sentence, HasSubstr("next to nothing"));
}

TEST(WhatIf, OneMoreOfWhatIsShortLetsBothBeDone) {
  Household h = too_much();
  h.hands.push_back(test::hand("bob", 1, 8, 13));
  h.equipment[0].count = 1;
  const WhatIf w = asked(h, test::planned(h), {.kind = Kind::equipment, .what = "burner"});
  EXPECT_NEAR(w.gain, 100, 1e-6);
  EXPECT_EQ(w.change, "with a second burner");
}

TEST(WhatIf, ThreeMoreHoursOfAnnDoAsWell) {
  const Household h = too_much();
  const Plan plan = test::planned(h);
  EXPECT_NEAR(asked(h, plan, {.kind = Kind::hour, .what = "ann", .minutes = 180, .day = 0}).gain, 100, 1e-6);
  EXPECT_NEAR(asked(h, plan, {.kind = Kind::hour, .what = "ann", .minutes = 60, .day = 0}).gain, 0, 1e-6);
}

TEST(WhatIf, ALostDayLosesWhatItHeld) {
  const Household h = too_much();
  const WhatIf w = asked(h, test::planned(h), {.kind = Kind::lost_day, .day = 0});
  EXPECT_NEAR(w.gain, -100, 1e-6);
  EXPECT_EQ(w.let_go.size(), 1U);
  EXPECT_THAT(w.sentence, HasSubstr("1 more lot is let go"));
}

TEST(WhatIf, ShoppingSaysWhatItWouldTakeAndTakesItsPriceOff) {
  Household h = test::household();
  h.routes[0].stages[0].stock = {{"jar_quart", {0, 1, 0}}};
  h.stock = {{.item = "jar_quart", .amount = 4, .arriving = {}, .price = 2}};
  h.lots[0].hazard_by = test::at(0, 20);
  const WhatIf w = asked(h, test::planned(h), {.kind = Kind::shopping, .day = 0});
  ASSERT_EQ(w.bought.size(), 1U);
  EXPECT_NEAR(w.bought[0].amount, 6, 1e-6);
  EXPECT_NEAR(w.gain, 60 - 12, 1e-6);
  EXPECT_THAT(w.sentence, HasSubstr("6 quart jars"));
}

TEST(WhatIf, NamesThatAreNotKnownAreAnsweredWithNearOnes) {
  const Household h = too_much();
  const Plan plan = test::planned(h);
  const auto burner = what_if(h, plan, {.kind = Kind::equipment, .what = "burnr"}, some_steps());
  ASSERT_FALSE(burner);
  EXPECT_EQ(burner.error().code, "not_found");
  EXPECT_THAT(burner.error().instead, testing::ElementsAre("burner"));
  const auto who = what_if(h, plan, {.kind = Kind::hour, .what = "anne", .day = 0}, some_steps());
  ASSERT_FALSE(who);
  EXPECT_THAT(who.error().instead, testing::ElementsAre("ann"));
  EXPECT_EQ(what_if(h, plan, {.kind = Kind::lost_day, .day = 7}, some_steps()).error().code, "bad_day");
  EXPECT_EQ(what_if(h, plan, {.kind = Kind::helper, .age = 3}, some_steps()).error().code, "bad_change");
}

TEST(WhatIf, KeepsNothing) {
  const Household h = too_much();
  const Plan plan = test::planned(h);
  const std::string before = to_json(plan);
  const auto lots = h.lots.size(), hands = h.hands.size();
  (void)asked(h, plan, {.kind = Kind::helper, .minutes = 240});
  (void)asked(h, plan, {.kind = Kind::lost_day, .day = 0});
  EXPECT_EQ(before, to_json(plan));
  EXPECT_EQ(h.lots.size(), lots);
  EXPECT_EQ(h.hands.size(), hands);
}

TEST(WhatIf, InSeasonsMoreIsNotWorseAndALostDayNotBetter) {
  for (std::uint64_t seed = 1; seed <= 2; ++seed) {
    const Household h = test::season(20, seed);
    const Plan plan = test::plan_of(h, 800);
    const auto noise = [](const WhatIf& w) { return 3 * w.noise + 0.01 * std::abs(w.gain) + 5; };
    for (const Change& more :
         {Change{.kind = Kind::helper, .age = 40, .minutes = 360, .day = 2},
          Change{.kind = Kind::equipment, .what = "boiling-water"}, Change{.kind = Kind::shopping, .day = 1}}) {
      const WhatIf w = asked(h, plan, more, 600);
      EXPECT_GE(w.gain, -noise(w)) << seed << " " << w.sentence;
    }
    const WhatIf lost = asked(h, plan, {.kind = Kind::lost_day, .day = 4}, 600);
    EXPECT_LE(lost.gain, noise(lost)) << seed << " " << lost.sentence;
  }
}

TEST(WorthOfNext, ListsWhatIsScarceAndNothingElse) {
  Household h = too_much();
  h.hands.push_back(test::hand("bob", 1, 8, 13));
  h.equipment[0].count = 1;
  h.stock = {{.item = "jar_quart", .amount = 100, .arriving = {}}};
  const auto list = worth_of_next(h, test::planned(h), some_steps());
  ASSERT_TRUE(list);
  ASSERT_EQ(list->size(), 1U);
  EXPECT_EQ(list->front().change, "with a second burner");
  h.equipment[0].count = 2;
  EXPECT_TRUE(worth_of_next(h, test::planned(h), some_steps())->empty());
}

}  // namespace
}  // namespace stillroom::planning
