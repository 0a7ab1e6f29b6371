#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "kitchen/trouble.h"
#include "kitchen_almanac.h"

namespace stillroom::kitchen {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::Not;

std::vector<std::string> keys_for(std::string_view key, const process::Question& where) {
  const auto card = make_card(the_almanac(), route(key), 5, where);
  EXPECT_TRUE(card) << key;
  std::vector<std::string> keys;
  for (const auto& t : troubles_for(*card)) keys.push_back(t.key);
  return keys;
}

Trouble named(std::string_view key) {
  const auto all = load_troubles().value();
  return *std::ranges::find(all, key, &Trouble::key);
}

TEST(Troubles, LoadWithASourceInEveryRow) {
  const auto all = load_troubles();
  ASSERT_TRUE(all) << all.error().message;
  EXPECT_GE(all->size(), 25U);
  for (const auto& t : *all) EXPECT_EQ(t.source.find("http"), std::string::npos) << t.key;
}

TEST(Troubles, ThrowOutWhatIsInDoubtUnlessItIsQualityOnly) {
  const auto all = load_troubles().value();
  for (const auto& t : all)
    EXPECT_TRUE(t.in_doubt.find("throw it out") != std::string::npos ||
                t.in_doubt.find("quality") != std::string::npos || t.in_doubt.find("doctor") != std::string::npos)
        << t.key << ": " << t.in_doubt;
}

// USDA AIB-539 Guide 1: a drop below the setting, or a boil that stops, starts the whole time again.
TEST(Troubles, StartTheWholeTimeAgainWhenHeatWasLost) {
  for (const char* key : {"pressure_dropped", "weight_stopped", "boil_stopped", "water_below_lids",
                          "power_cut_pressure", "power_cut_boiling"})
    EXPECT_THAT(named(key).then, HasSubstr("the whole time again")) << key;
}

TEST(Troubles, GiveAnUnsealedLidOneDay) { EXPECT_THAT(named("not_sealed").then, HasSubstr("24 hours")); }

TEST(Troubles, AreThoseOfTheBatch) {
  const auto pressure = keys_for("bean_snap/canned_raw", at(500, "dial"));
  EXPECT_THAT(pressure, Contains("pressure_dropped"));
  EXPECT_THAT(pressure, Contains("not_sealed"));
  EXPECT_THAT(pressure, Not(Contains("boil_stopped")));
  EXPECT_THAT(pressure, Not(Contains("acid_forgotten")));
  const auto tomato = keys_for("tomato/canned_crushed", at(500));
  EXPECT_THAT(tomato, Contains("boil_stopped"));
  EXPECT_THAT(tomato, Contains("acid_forgotten"));
  EXPECT_THAT(tomato, Not(Contains("pressure_dropped")));
  const auto kraut = keys_for("cabbage/sauerkraut", {});
  EXPECT_THAT(kraut, Contains("brine_low"));
  EXPECT_THAT(kraut, Not(Contains("not_sealed")));
  EXPECT_THAT(keys_for("chicken/broth_frozen", {}), Contains("broth_not_cooled"));
  EXPECT_THAT(keys_for("chicken/part_out", {}), Contains("meat_warm"));
  EXPECT_THAT(keys_for("apple/dried", {}), Contains("dryer_stopped"));
  EXPECT_THAT(keys_for("bean_snap/frozen", {}), Contains("freezer_out"));
}

}  // namespace
}  // namespace stillroom::kitchen
