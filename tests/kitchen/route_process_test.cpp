#include <gtest/gtest.h>

#include <set>

#include "kitchen_almanac.h"

namespace stillroom::kitchen {
namespace {

TEST(CannedRoutes, AreEachAnsweredByAPublishedRowAt500Feet) {
  int canned = 0;
  for (const auto& r : the_almanac().routes.all()) {
    if (!r.process) continue;
    ++canned;
    const auto chosen = process_for(the_almanac(), r, at(500, "weighted"));
    ASSERT_TRUE(chosen) << r.key << ": " << chosen.error().message;
    ASSERT_TRUE(*chosen) << r.key;
    const auto& c = **chosen;
    EXPECT_TRUE(c.id == r.process->id || c.id.starts_with(r.process->id + "_opt_")) << r.key << " " << c.id;
    EXPECT_EQ(c.jar, r.process->jar) << r.key;
    EXPECT_EQ(c.style_of_pack, r.process->style_of_pack) << r.key;
    EXPECT_EQ(c.method == "boiling_water", r.process->method == "boiling_water") << r.key;
  }
  EXPECT_GE(canned, 400);
}

TEST(CannedRoutes, NameAFoodThatTheTablesList) {
  std::set<std::pair<std::string, std::string>> listed;
  for (const auto& row : the_almanac().processes.rows) listed.insert({row.id, row.food});
  for (const auto& r : the_almanac().routes.all()) {
    if (!r.process) continue;
    const auto& p = *r.process;
    EXPECT_TRUE(listed.contains({p.id, p.food}) || listed.contains({p.id + "_opt_low", p.food})) << r.key;
  }
}

TEST(CannedRoutes, AreEachRefusedWithoutAltitude) {
  for (const auto& r : the_almanac().routes.all()) {
    if (!r.process) continue;
    const auto chosen = process_for(the_almanac(), r, process::Question{.canner = "weighted"});
    ASSERT_FALSE(chosen) << r.key;
    EXPECT_EQ(chosen.error().code, "altitude_missing") << r.key;
    EXPECT_FALSE(chosen.error().instead.empty()) << r.key;
  }
}

TEST(CannedRoutes, NeverTakeFoodWithMould) {
  for (const auto& r : the_almanac().routes.all()) {
    if (!r.process) continue;
    auto where = at(500, "weighted");
    where.conditions = {"mould"};
    EXPECT_FALSE(process_for(the_almanac(), r, where)) << r.key;
  }
}

TEST(CannedRoutes, TakeASteamCannerOnlyUpTo45Minutes) {
  std::set<std::string> refused;
  for (const auto& r : the_almanac().routes.all()) {
    if (!r.process || r.process->method != "boiling_water") continue;
    const auto chosen = process_for(the_almanac(), r, at(500, "steam"));
    if (!chosen) {
      refused.insert(r.process->id);
      EXPECT_GT((*process_for(the_almanac(), r, at(500)).value()).time_min, 45) << r.key;
      continue;
    }
    EXPECT_LE((*chosen)->time_min, 45) << r.key;
  }
  // USDA AIB-539 at 500 ft: Guide 3, whole tomatoes in juice or without liquid 85 minutes; Guide 2, quarts of figs 50.
  const std::set<std::string> longer{"figs_hot", "tomato_whole_juice_hot", "tomato_whole_juice_raw",
                                     "tomato_whole_noliquid_raw"};
  EXPECT_EQ(refused, longer);
  const auto high = process_for(the_almanac(), route("tomato/canned_crushed"), at(5000, "steam"));
  EXPECT_FALSE(high);  // USDA AIB-539 Guide 3: crushed tomatoes, quarts, 3,001 to 6,000 ft, 55 minutes
}

TEST(OtherRoutes, AskForNoProcess) {
  const auto chosen = process_for(the_almanac(), route("bean_snap/frozen"), process::Question{});
  ASSERT_TRUE(chosen);
  EXPECT_FALSE(*chosen);
}

}  // namespace
}  // namespace stillroom::kitchen
