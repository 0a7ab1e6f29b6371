#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "almanac/csv.h"
#include "almanac/routes.h"

namespace stillroom::almanac {
namespace {

const Crops& book_crops() {
  static const Crops all = load_crops().value();
  return all;
}
const RouteBook& book() {
  static const RouteBook all = load_routes(book_crops()).value();
  return all;
}

std::vector<const Route*> keeping(std::string_view crop) {
  auto routes = book().for_crop(book_crops(), crop);
  std::erase_if(routes, [](const Route* r) { return r->is_hold || lets_go(*r); });
  return routes;
}

bool has(std::string_view crop, std::string_view key_end) {
  return std::ranges::any_of(book().for_crop(book_crops(), crop),
                             [&](const Route* r) { return r->key.ends_with(key_end); });
}

TEST(PublishedRoutes, Load) {
  const auto loaded = load_routes(book_crops());
  ASSERT_TRUE(loaded) << loaded.error().message;
  EXPECT_GE(loaded->all().size(), 1200U);
}

TEST(PublishedRoutes, EveryCropOfTheTradeCanBeKeptAndGivenAway) {
  for (const char* crop : {"apple",
                           "pear_european",
                           "pear_asian",
                           "plum",
                           "peach",
                           "nectarine",
                           "apricot",
                           "cherry_sweet",
                           "cherry_sour",
                           "quince",
                           "grape",
                           "strawberry",
                           "raspberry",
                           "blackberry",
                           "blueberry",
                           "currant",
                           "gooseberry",
                           "elderberry",
                           "cranberry",
                           "rhubarb",
                           "tomato",
                           "tomatillo",
                           "pepper_sweet",
                           "pepper_hot",
                           "cucumber",
                           "squash_summer",
                           "squash_winter",
                           "squash_winter/acorn",
                           "squash_winter/butternut",
                           "squash_winter/spaghetti",
                           "pumpkin",
                           "bean_snap",
                           "bean_dry",
                           "bean_lima",
                           "pea",
                           "corn_sweet",
                           "cabbage",
                           "kale",
                           "chard_swiss",
                           "spinach",
                           "beet",
                           "carrot",
                           "parsnip",
                           "turnip",
                           "potato",
                           "sweet_potato",
                           "onion_dry",
                           "garlic",
                           "leek",
                           "broccoli",
                           "cauliflower",
                           "mushroom",
                           "herb_basil",
                           "herb_parsley",
                           "chicken",
                           "duck",
                           "turkey",
                           "rabbit"}) {
    EXPECT_FALSE(keeping(crop).empty()) << crop;
    EXPECT_TRUE(has(crop, "/give_away")) << crop;
  }
}

TEST(PublishedRoutes, EveryFigureHasASource) {
  for (const Route& r : book().all()) {
    EXPECT_FALSE(r.source.empty()) << r.key;
    EXPECT_FALSE(r.checked.empty()) << r.key;
    EXPECT_EQ(r.source.find("http"), std::string::npos) << r.key;
  }
}

TEST(PublishedRoutes, FirmPearsMakeHalvesAndSoftOnesSauce) {
  const auto quality = [](std::string_view key, Condition c) {
    const Route* r = book().find(key);
    return r == nullptr ? -1 : r->quality[static_cast<std::size_t>(c)];
  };
  EXPECT_EQ(quality("pear_european/canned_halves_hot", Condition::firm), 1);
  EXPECT_EQ(quality("pear_european/canned_halves_hot", Condition::soft), 0);
  EXPECT_EQ(quality("pear_european/canned_halves_hot", Condition::underripe), 0);
  EXPECT_GT(quality("pear_european/canned_puree", Condition::soft), 0.9);
  EXPECT_GT(quality("pear_european/frozen_sauce", Condition::soft), 0.9);
}

TEST(PublishedRoutes, AcornSquashIsNotHeatCured) {
  const auto stages = [](std::string_view crop) {
    std::vector<std::string> keys;
    for (const Route* r : book().for_crop(book_crops(), crop))
      if (r->method == "cured")
        for (const Stage& s : r->stages) keys.push_back(s.key);
    return keys;
  };
  EXPECT_THAT(stages("squash_winter/acorn"), testing::ElementsAre("spread", "store"));
  EXPECT_THAT(stages("squash_winter/butternut"), testing::ElementsAre("spread", "cure", "store"));
}

TEST(PublishedRoutes, WhatIsFrozenWholeHasACookedRouteToGoOnTo) {
  int holds = 0;
  for (const Route& hold : book().all()) {
    if (!hold.is_hold || hold.product_form != "frozen_whole") continue;
    ++holds;
    EXPECT_TRUE(std::ranges::any_of(book().for_crop(book_crops(), hold.crop), [](const Route* r) {
      return r->accepts_form == "frozen_whole";
    })) << hold.key;
  }
  EXPECT_GE(holds, 10);
}

TEST(PublishedRoutes, NothingIsCannedThatHasNoProcess) {
  for (const char* crop : {"elderberry", "broccoli", "squash_winter/spaghetti", "parsnip", "duck", "garlic",
                           "peach/white_flesh", "nectarine/white_flesh", "pea/sugar_snap", "leek"})
    for (const Route* r : book().for_crop(book_crops(), crop)) EXPECT_FALSE(r->process) << r->key;
}

TEST(PublishedRoutes, PressureIsForAdultsWithTheSkillAndNeverLeftAlone) {
  int pressure = 0;
  for (const Route& r : book().all())
    for (const Stage& s : r.stages) {
      if (std::ranges::none_of(s.equipment, [](const EquipmentUse& e) { return e.key == "pressure_canner"; })) continue;
      ++pressure;
      EXPECT_EQ(s.least_age, 18) << r.key;
      EXPECT_EQ(s.skill, "pressure_canning") << r.key;
      EXPECT_NE(s.attention, Attention::unattended) << r.key;
    }
  EXPECT_GE(pressure, 40);
}

TEST(PublishedRoutes, ALoadOfJarsFitsTheCanner) {
  // USDA AIB-539 Guide 1: a canner holds 7 quarts or 8 to 9 pints; half-pints in two layers, common practice.
  const std::map<std::string, double> most{{"quart", 7}, {"pint", 9}, {"half_pint", 18}, {"half_gallon", 4}};
  for (const Route& r : book().all()) {
    if (!r.process) continue;
    ASSERT_TRUE(most.contains(r.process->jar)) << r.key;
    EXPECT_LE(r.load_kg / r.kg_in_per_pack, most.at(r.process->jar) + 0.01) << r.key;
    EXPECT_LE(canner_load_kg(r) / r.kg_in_per_pack, most.at(r.process->jar) + 0.01) << r.key;
  }
}

TEST(PublishedRoutes, JarsRestHalfADayBeforeTheSealsAreChecked) {
  for (const Route& r : book().all()) {
    if (!r.process) continue;
    const auto cool = std::ranges::find(r.stages, "cool", &Stage::key);
    ASSERT_NE(cool, r.stages.end()) << r.key;
    EXPECT_EQ(cool->duration_min.at(r.batch_min_kg, 1), 720) << r.key;
    ASSERT_NE(cool + 1, r.stages.end()) << r.key;
    EXPECT_EQ((cool + 1)->key, "check_seals") << r.key;
    EXPECT_EQ((cool + 1)->lag_max_min, 720) << r.key;
  }
}

TEST(PublishedRoutes, BrothIsSlowCookedChilledSkimmedAndOnlyThenCanned) {
  const Route* r = book().find("chicken/broth");
  ASSERT_NE(r, nullptr);
  std::vector<std::string> keys;
  for (const Stage& s : r->stages) keys.push_back(s.key);
  EXPECT_THAT(keys, testing::ElementsAre("set_up", "slow_cook", "strain", "chill", "lift_fat", "fill", "process",
                                         "clear_up", "cool", "check_seals"));
  const double hours = r->stages[1].duration_min.at(1, 1) / 60;
  EXPECT_GE(hours, 12);
  EXPECT_LE(hours + *r->stages[2].lag_max_min / 60, 24);
  // Chilled broth goes on within its fridge life of 3 days, counted from straining: 12 hours of chilling and 2 days.
  EXPECT_LE(r->stages[3].duration_min.at(1, 1) + *r->stages[4].lag_max_min, 3 * 1440);
  EXPECT_EQ(r->accepts_form, "bones");
  // USDA AIB-539 Guide 5, meat stock: with vegetables or a portion of meat it is soup. Nobody gets past looking.
  for (const Route& route : book().all()) {
    const bool broth = route.method == "simmered to broth" && route.process.has_value();
    const bool held =
        std::ranges::any_of(route.stages, [](const Stage& s) { return s.key == "lift_fat" && s.hold_point; });
    EXPECT_EQ(held, broth) << route.key;
  }
}

TEST(PublishedRoutes, PartingOutLeavesBonesAndLosesNothing) {
  int routes = 0;
  for (const Route& r : book().all()) {
    if (r.also_yields.empty() || r.accepts_form != "carcass") continue;
    ++routes;
    double all = r.yield_kg_per_kg;
    for (const ByProduct& b : r.also_yields) all += b.kg_per_kg;
    EXPECT_LE(all, 1.001) << r.key;
    if (r.method != "frozen") continue;  // trimming and cooking take their share of what is canned
    EXPECT_NEAR(all, 1, 0.001) << r.key;
    EXPECT_EQ(r.also_yields.front().form, "bones") << r.key;
  }
  EXPECT_GE(routes, 4);
}

TEST(PublishedRoutes, NoProduceWeighsMoreAfterTrimmingThanBefore) {
  for (const Route& r : book().all())
    EXPECT_LE(r.yield_kg_per_kg, r.accepts_form == "bones" ? 8.0 : 1.0) << r.key;  // broth counts its water
}

TEST(PublishedRoutes, HazardClocksAreTheAlmanacs) {
  const auto table = read_csv("keeping/hazard_clocks.csv", embedded_file("keeping/hazard_clocks.csv"), {"key"});
  ASSERT_TRUE(table);
  std::set<std::string> known{""};
  for (std::size_t i = 0; i < table->rows.size(); ++i) known.insert(RowReader(*table, i).text("key"));
  for (const Route& r : book().all())
    for (const Stage& s : r.stages) EXPECT_TRUE(known.contains(s.hazard)) << r.key << " " << s.key << " " << s.hazard;
}

/// Animal food that is cut, cooked or broken out and then kept waiting waits on a clock, whatever is made of it.
TEST(PublishedRoutes, AnimalFoodInHandRunsAHazardClockBetweenItsStages) {
  int held = 0;
  for (const Route& r : book().all()) {
    const Crop* crop = book_crops().find(r.crop);
    if (crop == nullptr || !crop->animal || r.is_hold || lets_go(r) || r.stages.size() < 2) continue;
    ++held;
    EXPECT_NE(r.stages.front().hazard, "") << r.key << " " << r.stages.front().key;
    EXPECT_TRUE(r.stages[1].lag_max_min.has_value()) << r.key << " " << r.stages[1].key;
  }
  EXPECT_GE(held, 80);
}

TEST(PublishedRoutes, KitchenMinutesAreThoseOfTheLabourTable) {
  const auto tasks = read_csv("routes/labour.csv", embedded_file("routes/labour.csv"), {"key", "figure"});
  const auto figures =
      read_csv("yields/labour.csv", embedded_file("yields/labour.csv"), {"task", "what", "low", "high"});
  ASSERT_TRUE(tasks && figures);
  int held = 0;
  for (std::size_t i = 0; i < tasks->rows.size(); ++i) {
    RowReader task(*tasks, i);
    const std::string figure = task.text("figure");
    for (std::size_t k = 0; k < figures->rows.size() && !figure.empty(); ++k) {
      RowReader row(*figures, k);
      if (row.text("task") + " | " + row.text("what") != figure) continue;
      ++held;
      EXPECT_EQ(task.text("minutes_low"), row.text("low")) << figure;
      EXPECT_EQ(task.text("minutes_high"), row.text("high")) << figure;
      EXPECT_EQ(task.text("setup_min"), row.text("setup_min")) << figure;
    }
  }
  EXPECT_GE(held, 40);
}

}  // namespace
}  // namespace stillroom::almanac
