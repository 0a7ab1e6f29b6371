#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <set>

#include "kitchen/trouble.h"
#include "kitchen_almanac.h"

namespace stillroom::kitchen {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

const std::vector<Trouble>& table() {
  static const std::vector<Trouble> all = load_troubles().value();
  return all;
}

Trouble now(std::string_view fault, double minutes, AcidClass acid = AcidClass::low_acid) {
  return what_now(table(), fault, acid, minutes);
}

std::vector<std::string> keys_for(std::string_view key, const process::Question& where) {
  const auto card = make_card(the_almanac(), route(key), 5, where);
  EXPECT_TRUE(card) << key;
  std::vector<std::string> keys;
  for (const auto& t : troubles_for(*card)) keys.push_back(t.fault);
  return keys;
}

TEST(Troubles, LoadWithASourceInEveryRow) {
  const auto all = load_troubles();
  ASSERT_TRUE(all) << all.error().message;
  EXPECT_GE(all->size(), 60U);
  for (const auto& t : *all) EXPECT_EQ(t.source.find("http"), std::string::npos) << t.fault;
}

TEST(Troubles, KnowAnAnswerAtEveryMomentForEitherClass) {
  std::set<std::string> faults;
  for (const auto& t : table()) faults.insert(t.fault);
  for (const std::string& fault : faults)
    for (const AcidClass acid : {AcidClass::acid, AcidClass::low_acid})
      for (double minutes = 0; minutes < 4000; minutes += 1) {
        const Trouble t = now(fault, minutes, acid);
        ASSERT_FALSE(t.by_default) << fault << " at " << minutes;
      }
}

// Waiting never makes a remedy milder, and low acid is never treated more mildly than acid.
TEST(Troubles, NeverGrowMilderWithTimeNorForLowAcid) {
  const auto harsh = [](const Trouble& t) {
    static const std::vector<std::string> kOrder{"go_on", "keep_watch", "process_again", "chill", "discard"};
    return std::ranges::find(kOrder, t.outcomes.front()) - kOrder.begin();
  };
  for (const auto& row : table()) {
    std::ptrdiff_t before = 0;
    for (double minutes = 0; minutes < 4000; minutes += 10) {
      const auto low = harsh(now(row.fault, minutes)), acid = harsh(now(row.fault, minutes, AcidClass::acid));
      EXPECT_GE(low, before) << row.fault << " at " << minutes;
      EXPECT_GE(low, acid) << row.fault << " at " << minutes;
      before = low;
    }
  }
}

TEST(Troubles, ThrowOutWhatNobodyCanDateOrName) {
  EXPECT_THAT(what_now(table(), "pressure_dropped", AcidClass::low_acid, std::nullopt).outcomes,
              ElementsAre("discard"));
  EXPECT_THAT(now("pressure_dropped", -1).outcomes, ElementsAre("discard"));
  EXPECT_THAT(now("pressure_dropped", std::numeric_limits<double>::quiet_NaN()).outcomes, ElementsAre("discard"));
  EXPECT_TRUE(now("a_new_one", 0).by_default);
  EXPECT_FALSE(what_now(table(), "bulging", AcidClass::acid, std::nullopt).by_default) << "its time does not matter";
}

// USDA AIB-539 Guide 1: a drop below the setting, or a boil that stops, starts the whole time again.
TEST(Troubles, StartTheWholeTimeAgainWhenHeatWasLost) {
  for (const char* fault : {"pressure_dropped", "weight_stopped", "boil_stopped", "water_below_lids",
                            "power_cut_pressure", "power_cut_boiling"}) {
    EXPECT_THAT(now(fault, 5).then, HasSubstr("the whole time again")) << fault;
    EXPECT_EQ(now(fault, 5).outcomes.front(), "process_again") << fault;
  }
}

// University of Nebraska Extension: wrongly processed jars only within 2 hours, unsealed ones within 24.
TEST(Troubles, GiveAWrongProcessTwoHoursAndAnUnsealedLidADay) {
  for (const char* fault : {"wrong_process", "wrong_setting", "not_vented", "cooled_by_force"}) {
    EXPECT_EQ(now(fault, 119).outcomes.front(), "process_again") << fault;
    EXPECT_EQ(now(fault, 120).outcomes.front(), "discard") << fault;
  }
  EXPECT_THAT(now("not_sealed", 1439).outcomes, Contains("process_again"));
  EXPECT_THAT(now("not_sealed", 1440).outcomes, ElementsAre("discard"));
  EXPECT_THAT(now("found_unsealed", 0).outcomes, ElementsAre("discard"));
}

TEST(Troubles, ChillAcidFoodWhereLowAcidIsThrownOut) {
  EXPECT_EQ(now("boil_stopped", 200, AcidClass::acid).outcomes.front(), "chill");
  EXPECT_EQ(now("boil_stopped", 200).outcomes.front(), "discard");
}

// USDA-FSIS: two hours out of the cold for cooked meat; half-dried fruit has a day by common practice.
TEST(Troubles, GiveHalfDriedMeatTwoHours) {
  EXPECT_EQ(now("jerky_stopped", 119).outcomes.front(), "go_on");
  EXPECT_THAT(now("jerky_stopped", 120).outcomes, ElementsAre("discard"));
  EXPECT_EQ(now("dryer_stopped", 120).outcomes.front(), "chill");
}

// Washington State University; USDA-FSIS: full 48 hours, half full 24, two hours above 40 degF.
TEST(Troubles, HoldAFreezerToThePublishedHours) {
  EXPECT_EQ(now("freezer_out", 23 * 60).outcomes.front(), "keep_watch");
  EXPECT_EQ(now("freezer_out", 25 * 60).outcomes.front(), "discard");
  EXPECT_THAT(now("freezer_out", 48 * 60).outcomes, ElementsAre("discard"));
  EXPECT_EQ(now("freezer_open", 119).outcomes.front(), "keep_watch");
  EXPECT_EQ(now("freezer_open", 120).outcomes.front(), "discard");
}

/// A jar that missed its process is never saved by boiling alone: what is not processed again in full is chilled or
/// goes, once it is packed.
TEST(Troubles, NeverSaveAFaultyProcessByBoiling) {
  std::set<std::string> seen;
  for (const auto& t : table()) {
    const bool faulty = t.fault == "wrong_process" || t.fault == "wrong_setting" || t.fault == "not_vented" ||
                        t.fault == "timer_missed" || t.fault == "cooled_by_force" || t.fault == "boiled_dry";
    if (!faulty) continue;
    seen.insert(t.fault);
    EXPECT_THAT(t.outcomes, Not(testing::AnyOf(Contains("go_on"), Contains("keep_watch")))) << t.fault;
  }
  EXPECT_EQ(seen.size(), 6U);
}

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
  EXPECT_THAT(kraut, Contains("ferment_warm"));
  EXPECT_THAT(kraut, Not(Contains("not_sealed")));
  EXPECT_THAT(keys_for("chicken/broth_frozen", {}), Contains("broth_not_cooled"));
  EXPECT_THAT(keys_for("chicken/part_out", {}), Contains("meat_warm"));
  EXPECT_THAT(keys_for("chicken/part_out", {}), Not(Contains("power_cut_simmer")));
  EXPECT_THAT(kraut, Not(Contains("burn")));
  EXPECT_THAT(keys_for("bean_snap/frozen", {}), Contains("burn"));
  EXPECT_THAT(keys_for("chicken/broth_frozen", {}), Contains("power_cut_simmer"));
  EXPECT_THAT(keys_for("beef/jerky", {}), Contains("jerky_stopped"));
  EXPECT_THAT(keys_for("beef/jerky", {}), Not(Contains("dryer_stopped")));
  EXPECT_THAT(keys_for("apple/dried", {}), Contains("dryer_stopped"));
  EXPECT_THAT(keys_for("bean_snap/frozen", {}), Contains("freezer_out"));
}

TEST(Troubles, TakeFoodForLowAcidUnlessItIsKnownToBeAcid) {
  const auto class_of = [](std::string_view key, const process::Question& where) {
    return acid_class_of(make_card(the_almanac(), route(key), 5, where).value());
  };
  EXPECT_EQ(class_of("tomato/canned_crushed", at(500)), AcidClass::acid);
  EXPECT_EQ(class_of("bean_snap/canned_raw", at(500, "dial")), AcidClass::low_acid);
  EXPECT_EQ(class_of("cabbage/sauerkraut", {}), AcidClass::acid);
  EXPECT_EQ(class_of("chicken/broth_frozen", {}), AcidClass::low_acid);
}

}  // namespace
}  // namespace stillroom::kitchen
