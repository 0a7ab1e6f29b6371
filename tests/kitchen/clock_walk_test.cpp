#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "keeping/keeping.h"
#include "kitchen_almanac.h"

// Every route that carries food on a hard clock, walked stage by stage at its longest waits. Clocks: USDA-FSIS cold
// storage chart, data/keeping/hazard_clocks.csv.
namespace stillroom::kitchen {
namespace {

bool chills(const almanac::Stage& s) {
  return std::ranges::any_of(s.equipment, [](const auto& use) { return use.key == "chill_l"; });
}
bool cooks(const almanac::Stage& s) { return std::ranges::find(s.dangers, "heat") != s.dangers.end(); }
bool freezes(const almanac::Stage& s) {
  return std::ranges::any_of(s.room, [](const auto& use) { return use.room.starts_with("freezer"); });
}

TEST(HardClocks, AreNeverOutwaitedByAnyRoute) {
  int waits = 0;
  for (const almanac::Route& r : the_almanac().routes.all()) {
    std::string key;
    double cold = 0, warm = 0;  // minutes on the clock of `key`
    for (std::size_t i = 1; i < r.stages.size(); ++i) {
      const almanac::Stage &before = r.stages[i - 1], &stage = r.stages[i];
      if (before.hazard.empty()) continue;
      ++waits;
      const auto* clock = keeping::hazard_clock(before.hazard);
      ASSERT_NE(clock, nullptr) << r.key << " " << before.key;
      ASSERT_TRUE(stage.lag_max_min) << r.key << ": nothing says by when " << stage.key << " must begin";
      if (before.hazard != key) {
        key = before.hazard;
        cold = warm = 0;
      }
      if (chills(before)) cold += before.duration_min.at(r.batch_max_kg, almanac::loads_for(r, r.batch_max_kg));
      (chills(before) || chills(stage) ? cold : warm) += *stage.lag_max_min;
      EXPECT_LE(warm, clock->room_hours * 60) << r.key << " until " << stage.key;
      EXPECT_LE(cold, clock->fridge_days * 24 * 60) << r.key << " until " << stage.key;
    }
  }
  EXPECT_GE(waits, 100);
}

TEST(HardClocks, RunOnUntilTheFoodIsCookedOrFrozen) {
  int walked = 0;
  for (const almanac::Route& r : the_almanac().routes.all()) {
    const almanac::Crop* crop = the_almanac().crops.find(r.crop);
    ASSERT_NE(crop, nullptr);
    if (!keeping::hazard_clock_for_crop(the_almanac().crops, r.crop) || almanac::lets_go(r) || r.is_hold) continue;
    if (r.accepts_form == "fat") continue;
    ++walked;
    std::string key;
    for (std::size_t i = 0; i < r.stages.size(); ++i) {
      const almanac::Stage& stage = r.stages[i];
      if (freezes(stage) || (cooks(stage) && stage.hazard.empty())) break;
      if (cooks(stage)) key.clear();  // cooked through: a clock of its own begins
      if (stage.attention == almanac::Attention::unattended && stage.hazard.empty()) break;  // slow cooker, dryer
      if (stage.hazard.empty()) {  // broken eggs: the wait itself is within every clock's two hours
        ASSERT_LT(i + 1, r.stages.size()) << r.key << " loses its clock at " << stage.key;
        ASSERT_LE(r.stages[i + 1].lag_max_min.value_or(HUGE_VAL), 120) << r.key << " loses its clock at " << stage.key;
        continue;
      }
      const auto *was = keeping::hazard_clock(key), *is = keeping::hazard_clock(stage.hazard);
      ASSERT_NE(is, nullptr) << r.key;
      if (was != nullptr) {
        EXPECT_LE(is->room_hours, was->room_hours) << r.key << " at " << stage.key;
        EXPECT_LE(is->fridge_days, was->fridge_days) << r.key << " at " << stage.key;
      }
      key = stage.hazard;
    }
  }
  EXPECT_GE(walked, 20);
}

}  // namespace
}  // namespace stillroom::kitchen
