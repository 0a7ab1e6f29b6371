#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "kitchen/recipe.h"
#include "kitchen_almanac.h"
#include "reference_rows.h"

// Recipes and the tables beside them against their publications: tests/reference/recipe_amounts.csv, and below.
namespace stillroom::kitchen {
namespace {

TEST(RecipeAmounts, AreAsPrinted) {
  const auto table = reference_rows("recipe_amounts.csv");
  for (std::size_t n = 0; n < table.rows.size(); ++n) {
    almanac::RowReader row(table, n);
    const auto* recipe = the_almanac().recipes.find(row.text("recipe"));
    ASSERT_NE(recipe, nullptr) << row.text("recipe");
    const auto it = std::ranges::find(recipe->ingredients, row.text("item"), &almanac::Ingredient::item);
    ASSERT_NE(it, recipe->ingredients.end()) << recipe->key << ": " << row.text("item");
    EXPECT_EQ(it->unit, row.text("unit")) << recipe->key << ": " << it->item;
    EXPECT_DOUBLE_EQ(it->amount.low, row.required_number("low", 0, 100)) << recipe->key << ": " << it->item;
    EXPECT_DOUBLE_EQ(it->amount.high, row.required_number("high", 0, 100)) << recipe->key << ": " << it->item;
  }
  EXPECT_GE(table.rows.size(), 30U);
}

// The recipe and the process rows it points to come from one publication.
TEST(Recipes, NameTheSourceOfTheirProcess) {
  for (const auto& r : the_almanac().recipes.recipes) {
    if (r.process.empty()) continue;
    const auto& rows = the_almanac().processes.rows;
    const auto it = std::ranges::find(rows, r.process, &almanac::ProcessRow::id);
    ASSERT_NE(it, rows.end()) << r.key;
    EXPECT_EQ(r.from.source, it->source) << r.key;
    EXPECT_EQ(r.source_place, it->source_place) << r.key;
  }
}

// USDA AIB-539 Guide 7: 220 degF at sea level, 8 degF above the boiling point of water. The boiling points of the US
// Standard Atmosphere 1976 with the steam tables: 212.0, 208.3, 204.7, 201.0 and 197.3 degF at 0, 2,000 ... 8,000 ft.
TEST(GelPoints, LieEightDegreesAboveTheBoilingPoint) {
  constexpr std::pair<double, double> kBoils[] = {
      {0, 212.0}, {2000, 208.3}, {4000, 204.7}, {6000, 201.0}, {8000, 197.3}};
  for (const auto& [feet, boils] : kBoils) {
    const auto test = gel_test(the_almanac().recipes, measure::Altitude::feet(feet), measure::Units::us);
    ASSERT_TRUE(test.gel_f.has_value());
    EXPECT_NEAR(*test.gel_f, boils + 8, 1.0) << feet;
  }
}

// USDA AIB-539 Guide 3: 2 tbsp of bottled lemon juice, 1/2 tsp of citric acid or 4 tbsp of 5 percent vinegar to a
// quart.
TEST(AcidPerJar, OfTomatoesIsAsPrinted) {
  const auto& rows = the_almanac().recipes.acid_per_jar;
  const auto it = std::ranges::find_if(
      rows, [](const auto& a) { return a.jar == "quart" && std::ranges::count(a.crops, "tomato") == 1; });
  ASSERT_NE(it, rows.end());
  EXPECT_EQ(it->lemon_tbsp, 2);
  EXPECT_EQ(it->citric_tsp, 0.5);
  EXPECT_EQ(it->vinegar_tbsp, 4);
}

// Salometer: a saturated brine at 60 degF is 26.395 percent salt by weight, and 100 degrees.
TEST(Salometer, RisesEvenlyToASaturatedBrine) {
  for (const auto& b : the_almanac().recipes.brines) EXPECT_NEAR(b.salt_pct, 0.26395 * b.degrees, 0.006) << b.degrees;
}

// USDA AIB-539 Guide 2, syrups: light for 7 quarts 9 cups of water and 2-1/4 of sugar, medium for 9 pints 5-1/4 and
// 2-1/4; each strength is sweeter than the one before.
TEST(Syrups, AreAsPrintedAndRiseInStrength) {
  const auto& rows = the_almanac().recipes.syrups;
  const auto cups = [&](const char* strength, const char* jars) {
    const auto it =
        std::ranges::find_if(rows, [&](const auto& s) { return s.strength == strength && s.makes_for == jars; });
    return it == rows.end() ? std::pair(0.0, 0.0) : std::pair(it->water_cups, it->sugar_cups);
  };
  EXPECT_EQ(cups("light", "7 quarts"), std::pair(9.0, 2.25));
  EXPECT_EQ(cups("medium", "9 pints or 4 quarts"), std::pair(5.25, 2.25));
  for (std::size_t n = 2; n < rows.size(); ++n) {
    EXPECT_GT(rows[n].sugar_cups / rows[n].water_cups, rows[n - 2].sugar_cups / rows[n - 2].water_cups) << n;
    EXPECT_GT(rows[n].sugar_pct, rows[n - 2].sugar_pct) << n;
  }
}

}  // namespace
}  // namespace stillroom::kitchen
