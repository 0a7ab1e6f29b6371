#include "planning/impossible.h"

#include <gmock/gmock.h>

#include "planning/seasons.h"
#include "planning/small.h"

// Demands that cannot be met, each beside a twin that can.
namespace stillroom::planning {
namespace {

using test::at;
using testing::HasSubstr;

OtherJob job(const std::string& key, int minutes, Minute deadline) {
  OtherJob j;
  j.key = key;
  j.name = key;
  j.minutes = minutes;
  j.deadline = deadline;
  return j;
}

/// Three days, nothing to put by.
Household days_of_work() {
  Household h = test::household(4);
  h.lots.clear();
  return h;
}

Clash only(const Household& h) {
  const auto found = clashes(h);
  EXPECT_EQ(found.size(), 1U);
  return found.empty() ? Clash{} : found.front();
}

TEST(Clashes, TwoPeopleAreAskedForAndOneIsThere) {
  Household h = days_of_work();
  h.other = {job("cutting firewood", 240, at(2, 0))};
  h.other[0].hands = 2;
  h.hands.push_back(test::hand("ben", 4));
  EXPECT_TRUE(clashes(h).empty());
  h.hands[1].free = {{at(3, 8), at(3, 18)}};
  const Clash c = only(h);
  EXPECT_EQ(c.kind, Clash::Kind::work);
  EXPECT_EQ(c.about, std::vector<std::string>{"cutting firewood"});
  EXPECT_THAT(c.what, HasSubstr("Cutting firewood needs two people for 4 h by"));
  EXPECT_THAT(c.what, HasSubstr("only ann is free then"));
  EXPECT_THAT(c.way_out, HasSubstr("Ask one more person, or move its deadline to Thursday"));
}

TEST(Clashes, NobodyIsOldEnough) {
  Household h = days_of_work();
  h.other = {job("felling", 60, at(2, 0))};
  h.other[0].least_age = 18;
  EXPECT_TRUE(clashes(h).empty());
  h.hands[0].age = 15;
  EXPECT_THAT(only(h).what, HasSubstr("nobody here is of 18 or older"));
}

TEST(Clashes, TheWeatherLeavesTooLittleTime) {
  Household h = days_of_work();
  h.other = {job("haying", 300, at(2, 0))};
  h.other[0].weather_windows = {{at(1, 8), at(1, 14)}};
  EXPECT_TRUE(clashes(h).empty());
  h.other[0].weather_windows = {{at(1, 8), at(1, 11)}, {at(3, 8), at(3, 18)}};
  const Clash c = only(h);
  EXPECT_THAT(c.what, HasSubstr("the weather leaves too little time"));
  EXPECT_THAT(c.way_out, HasSubstr("deadline to Thursday"));
}

TEST(Clashes, WorkThatMayNotBeSplitFindsNoStretch) {
  Household h = days_of_work();
  h.hands[0].free = {{at(0, 8), at(0, 12)}, {at(0, 14), at(0, 18)}};
  h.other = {job("roof", 360, at(1, 0))};
  EXPECT_TRUE(clashes(h).empty());
  h.other[0].can_split = false;
  const Clash c = only(h);
  EXPECT_THAT(c.what, HasSubstr("no stretch so long"));
  EXPECT_THAT(c.way_out, HasSubstr("in pieces"));
}

TEST(Clashes, WorksThatFitOneByOneDoNotFitTogether) {
  Household h = days_of_work();
  h.other = {job("fence", 400, at(1, 0)), job("coop", 150, at(1, 0)), job("gutter", 30, at(3, 0))};
  h.other[1].importance = 3;
  EXPECT_TRUE(clashes(h).empty());
  h.other[1].minutes = 300;
  const Clash c = only(h);
  EXPECT_EQ(c.kind, Clash::Kind::hours);
  EXPECT_THAT(c.about, testing::UnorderedElementsAre("fence", "coop"));
  EXPECT_THAT(c.what, HasSubstr("11.7 h of work between them"));
  EXPECT_THAT(c.what, HasSubstr("only 10 h"));
  EXPECT_THAT(c.way_out, HasSubstr("deadline of fence"));
}

TEST(Clashes, ALotOnAHardClockHasNoHandsInTime) {
  Household h = test::household(2);
  h.lots[0].hazard_by = at(0, 20);
  h.routes[0].stages[0].equipment = {{"burner", {1, 0, 0}}};
  h.equipment = {{"burner", 1}};
  EXPECT_TRUE(clashes(h).empty());
  h.hands[0].free = {{at(1, 8), at(1, 18)}};
  const Clash c = only(h);
  EXPECT_EQ(c.kind, Clash::Kind::lot);
  EXPECT_EQ(c.about, std::vector<std::string>{"l1"});
  EXPECT_THAT(c.what, HasSubstr("before its clock runs out today at 20:00: nobody"));
}

TEST(Clashes, ALotHasNoEquipmentForItsOnlyWay) {
  Household h = test::household(10);
  h.lots[0].model = test::fading();
  h.routes[0].stages[0].equipment = {{"pressure_canner", {1, 0, 0}}};
  h.equipment = {{"pressure_canner", 1}};
  EXPECT_TRUE(clashes(h).empty());
  h.equipment.clear();
  const Clash c = only(h);
  EXPECT_THAT(c.what, HasSubstr("every way needs a pressure canner"));
  EXPECT_THAT(c.way_out, HasSubstr("a pressure canner"));
}

TEST(Clashes, ALotHasNobodyWithTheSkillForItsOnlyWay) {
  Household h = test::household(10);
  h.lots[0].model = test::fading();
  h.routes[0].stages[0].skill = "butchering";
  h.hands[0].skills = {"butchering"};
  EXPECT_TRUE(clashes(h).empty());
  h.hands[0].skills.clear();
  EXPECT_THAT(only(h).what, HasSubstr("somebody who knows butchering"));
}

TEST(Clashes, ALotHasNoJars) {
  Household h = test::household(10);
  h.lots[0].model = test::fading();
  h.routes[0].stages[0].stock = {{"jar_quart", {0, 1, 0}}};
  h.stock = {{.item = "jar_quart", .amount = 3, .arriving = {}}};
  EXPECT_TRUE(clashes(h).empty());
  h.stock[0].amount = 0;
  EXPECT_THAT(only(h).what, HasSubstr("not enough jars"));
  h.shopping = Shopping{};  // they can be bought
  EXPECT_TRUE(clashes(h).empty());
}

TEST(Clashes, APickingWindowHasNoHands) {
  Household h = test::household(4);
  h.lots[0].ready = at(1, 0);
  h.lots[0].pick_by = at(3, 0);
  h.lots[0].pick_min_per_kg = 2;
  EXPECT_TRUE(clashes(h).empty());
  h.hands[0].free = {{at(0, 8), at(0, 18)}, {at(3, 8), at(3, 18)}};
  const Clash c = only(h);
  EXPECT_EQ(c.kind, Clash::Kind::picking);
  EXPECT_THAT(c.what, HasSubstr("nobody has time to pick it between tomorrow and Wednesday"));
}

TEST(Clashes, WhatKeepsIsNoClash) {
  Household h = test::household(4);
  h.hands.clear();
  EXPECT_TRUE(clashes(h).empty());  // it never fades
  h = test::household(10);
  h.lots[0].model = test::fading();
  h.hands[0].free.clear();
  h.places = {{"cellar", "the cellar", "cellar", 5, 85, ""}};
  EXPECT_TRUE(clashes(h).empty());  // in the cellar it is sound for weeks
  h.places.clear();
  EXPECT_EQ(clashes(h).size(), 1U);
}

TEST(Clashes, APlanOfASeasonPutsByNoLotThatIsNamed) {
  for (std::uint64_t seed = 1; seed <= 6; ++seed) {
    Household h = test::season(25, seed);
    for (Hand& hand : h.hands)
      std::erase_if(hand.free, [](const Span& s) { return s.from / 1440 > 2 && s.from / 1440 < 9; });
    const Plan plan = test::plan_of(h, 300);
    for (const Clash& c : clashes(h))
      for (const std::string& about : c.about) {
        for (const auto& other : plan.other)
          if (other.key == about && c.kind == Clash::Kind::work)
            for (const OtherJob& j : h.other)
              if (j.key == about) {
                EXPECT_GT(other.spans.back().to, j.deadline) << c.what;
              }
        if (c.kind != Clash::Kind::lot && c.kind != Clash::Kind::picking) continue;
        for (const PlannedBatch& b : plan.batches)
          for (const auto& part : b.parts) {
            if (part.lot != about || b.parts.size() > 1) continue;
            const bool given = b.route.find("give") != std::string::npos || b.route.find("feed") != std::string::npos;
            EXPECT_TRUE(given) << c.what << " " << b.route;
          }
      }
  }
}

}  // namespace
}  // namespace stillroom::planning
