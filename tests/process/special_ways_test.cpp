#include <algorithm>

#include "process/published.h"

// What has no heat process of the usual kind: juice drawn by steam, spreads by the pectin maker's leaflet, and pickles
// pasteurised below the boil.
namespace stillroom::process_tests {
namespace {

bool requires_word(const process::Choice& c, const char* word) { return std::ranges::count(c.requirements, word) == 1; }

// Juice rows are published for apple and grape only (USDA AIB-539 Guide 2); juice drawn by steam goes by them once it
// has boiled again.
TEST(SteamJuice, OfAppleAndGrapeGoesByItsJuiceRowAndSaysToBoilIt) {
  for (const auto* food : {"steam juiced apples", "grape juice from the steam juicer", "steam extracted grape juice",
                           "apple juice, steam juicer"}) {
    const auto answer = process::choose(published(), ask(food));
    ASSERT_TRUE(answer.has_value()) << food << ": " << answer.error().message;
    for (const auto& c : *answer) {
      EXPECT_TRUE(c.id == "apple_juice_hot" || c.id == "grape_juice_hot") << food << ": " << c.id;
      EXPECT_TRUE(requires_word(c, "steam_juice_to_the_boil"));
      EXPECT_TRUE(requires_word(c, "fill_at_first_boil"));
    }
  }
  const auto pressed = process::choose(published(), ask("apple juice"));
  for (const auto& c : *pressed) {
    EXPECT_FALSE(requires_word(c, "steam_juice_to_the_boil"));
  }
}

TEST(SteamJuice, OfAnyOtherFruitIsRefusedWithTheSyrupRowTheFridgeAndTheFreezer) {
  for (const auto* food : {"steam juiced cherries", "plum juice, steam juicer", "steam extracted blackberry juice",
                           "steamed juice of tomatoes", "pear juice from a steam juicer"}) {
    const auto answer = process::choose(published(), ask(food));
    ASSERT_FALSE(answer.has_value()) << food << " was given " << answer->front().id;
    EXPECT_EQ(answer.error().code, "not_safe_to_can") << food;
    EXPECT_NE(answer.error().instead.front().find("syrup row"), std::string::npos);
    EXPECT_NE(answer.error().instead.front().find("freezer"), std::string::npos);
  }
  EXPECT_EQ(code_of(ask("crab apple juice from the steam juicer")), "no_row");
  EXPECT_EQ(code_of(ask("elderberry syrup from the steam juicer")), "not_safe_to_can");
}

TEST(SteamJuice, BecomesSyrupOnlyWhereASyrupRowSpeaksForTheFruit) {
  const auto answer = process::choose(published(), ask("blueberry syrup from the steam juicer"));
  ASSERT_TRUE(answer.has_value()) << answer.error().message;
  for (const auto& c : *answer) EXPECT_EQ(c.id, "berry_syrup_hot");
  EXPECT_FALSE(process::choose(published(), ask("blackberry syrup from the steam juicer")).has_value());
}

// No table gives a time for low-methoxyl spreads (USDA AIB-539 Guide 7): the leaflet does.
TEST(LowMethoxyl, IsAnsweredByTheLeafletAndNeverByARow) {
  for (const auto* food : {"grape jelly with low methoxyl pectin", "low-methoxyl strawberry jam", "no sugar peach jam",
                           "low sugar raspberry jelly", "apple jelly with calcium water and pectin",
                           "strawberry jam with no sugar pectin", "grape jelly with low methoxil pectin"}) {
    const auto answer = process::choose(published(), ask(food));
    ASSERT_FALSE(answer.has_value()) << food << " was given " << answer->front().id;
    EXPECT_EQ(answer.error().code, "makers_leaflet") << food << ": " << answer.error().message;
    EXPECT_NE(answer.error().instead.front().find("leaflet"), std::string::npos);
  }
  // A published recipe with less sugar keeps its row.
  EXPECT_EQ(code_of(ask("peach", "pineapple spread reduced sugar")), "");
}

// USDA AIB-539 Guide 6: 30 full minutes in water of 180 to 185 degF, only where the recipe names it.
TEST(LowTemperature, IsOfferedForTheRecipesThatNameIt) {
  for (const auto* form : {"bread and butter pickle", "fermented dill pickle", "quick sweet pickle"}) {
    const auto answer = process::choose(published(), ask("cucumber", form, 2900, "pint", "low_temperature"));
    ASSERT_TRUE(answer.has_value()) << form << ": " << answer.error().message;
    for (const auto& c : *answer) {
      EXPECT_EQ(c.method, "low_temperature");
      EXPECT_EQ(c.time_min, 30);
      EXPECT_FALSE(c.pressure_psi.has_value());
      EXPECT_TRUE(requires_word(c, "low_temperature_pasteurising"));
      EXPECT_TRUE(requires_word(c, "compare_with_current_edition"));
      EXPECT_EQ(c.source, "USDA AIB-539 Guide 6");
    }
  }
}

TEST(LowTemperature, IsRefusedForReducedSaltAndEveryOtherFood) {
  const auto less_salt =
      process::choose(published(), ask("cucumber", "reduced sodium dill pickle", 500, "pint", "low_temperature"));
  ASSERT_FALSE(less_salt.has_value());
  EXPECT_NE(less_salt.error().message.find("reduced salt"), std::string::npos) << less_salt.error().message;
  for (const auto& row : published().processes.rows) {
    const auto& named = published().processes.low_temperature.front().ids;
    if (std::ranges::count(named, row.id) > 0 || row.covers.empty()) continue;
    auto q = ask(row.covers.front(), "", 500, row.jar, "low_temperature");
    q.id = row.id;
    EXPECT_NE(code_of(q), "") << row.id;
  }
}

TEST(LowTemperature, IsNeverOfferedUnasked) {
  const auto boiled = process::choose(published(), ask("cucumber", "bread and butter pickle"));
  for (const auto& c : *boiled) EXPECT_EQ(c.method, "boiling_water");
}

}  // namespace
}  // namespace stillroom::process_tests
