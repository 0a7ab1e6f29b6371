#include "kitchen/recipe.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "kitchen/recipe_sheet.h"
#include "kitchen_almanac.h"
#include "measure/quantity.h"

namespace stillroom::kitchen {
namespace {

using testing::HasSubstr;

const almanac::Recipe& recipe(std::string_view key) {
  const auto* found = the_almanac().recipes.find(key);
  if (found == nullptr) throw std::runtime_error("no recipe " + std::string(key));
  return *found;
}

measure::Result<ScaledRecipe> scaled(std::string_view key, std::string_view amount, bool one_pot = false) {
  ScaleWish wish;
  wish.one_pot = one_pot;
  if (!amount.empty()) wish.amount = measure::parse_amount(amount).value();
  return scale_recipe(the_almanac(), recipe(key), wish);
}

std::string said(const ScaledRecipe& s, std::string_view item) {
  for (const auto& line : s.lines)
    if (line.ingredient->item == item) return line.said;
  return "no " + std::string(item);
}

TEST(Recipe, IsSaidAsPrintedWhereNoAmountIsGiven) {
  const auto s = scaled("salsa_chile", "").value();
  EXPECT_EQ(said(s, "tomatoes"), "5 lb");
  EXPECT_EQ(said(s, "chile peppers"), "2 lb");
  EXPECT_EQ(said(s, "5% vinegar"), "1 cup");
  EXPECT_EQ(said(scaled("jam_pear_apple", "").value(), "bottled lemon juice"), "⅓ cup");
  EXPECT_EQ(said(scaled("jelly_grape", "").value(), "sugar"), "3 to 4 cups");
  EXPECT_EQ(said(scaled("jelly_grape_low_methoxyl", "").value(), "calcium water"), "8 tsp");
  EXPECT_EQ(said(scaled("salsa_paste_tomato", "").value(), "chopped paste tomatoes"), "7 qt");
}

// 12.5 lb of tomatoes are 2.5 batches: 5 lb chiles, 2.5 lb onions, 2.5 cups vinegar.
TEST(Recipe, KeepsItsProportionsWhenItGrows) {
  const auto s = scaled("salsa_chile", "12.5 lb").value();
  EXPECT_EQ(s.pots, 1);
  EXPECT_EQ(said(s, "chile peppers"), "5 lb");
  EXPECT_EQ(said(s, "onions"), "2½ lb");
  EXPECT_EQ(said(s, "5% vinegar"), "2½ cups");
}

// 7 lb of 5: 1.4 x 3 tbsp = 4.2 tbsp of salt; never less salt, so 4½.
TEST(Recipe, NeverCutsTheSaltOfAFerment) {
  EXPECT_EQ(said(scaled("sauerkraut", "7 lb").value(), "canning salt"), "4½ tbsp");
}

// 3 lb of 7: 4 cups x 3/7 = 82.3 tsp of vinegar goes up to 84 (1 cup 12 tbsp), 2 cups x 3/7 = 41.1 tsp of water down
// to 39.
TEST(Recipe, RoundsAcidUpAndWaterDown) {
  const auto s = scaled("beets_pickled", "3 lb").value();
  EXPECT_EQ(said(s, "5% vinegar"), "1¾ cups");
  EXPECT_EQ(said(s, "water"), "13 tbsp");
}

TEST(Recipe, IsSplitWhereAPotMayHoldNoMore) {
  const auto s = scaled("jelly_apple", "14 cups").value();
  EXPECT_EQ(s.pots, 3);  // 6 cups at most
  EXPECT_DOUBLE_EQ(s.lines.front().measured.low, 14.0 / 3);
  const auto refused = scaled("jelly_apple", "14 cups", true);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, "not_doubled");
  EXPECT_THAT(refused.error().instead.front(), HasSubstr("3 pots"));
}

TEST(Recipe, WithAPacketOfPectinIsCookedInWholeBatchesOnly) {
  const auto s = scaled("jam_blueberry_spice", "12 cups").value();
  EXPECT_EQ(s.pots, 2);
  EXPECT_EQ(said(s, "sugar"), "5½ cups");
  EXPECT_THAT(s.left_over, HasSubstr("2 cups of blueberries is left"));
  EXPECT_EQ(scaled("jam_blueberry_spice", "12 cups", true).error().code, "not_doubled");
  EXPECT_EQ(scaled("jam_blueberry_spice", "4 cups").error().code, "less_than_a_batch");
}

/// Every recipe whose pectin or gel forbids it refuses one doubled pot; the others have no bound to break.
TEST(Recipe, IsNeverDoubledWhereItsKindForbidsIt) {
  std::size_t bound = 0;
  for (const auto& r : the_almanac().recipes.recipes) {
    ScaleWish wish;
    wish.one_pot = true;
    measure::Amount twice;
    twice.value = (r.most ? *r.most : r.base().amount.high) * 2;
    wish.amount = twice;
    const auto s = scale_recipe(the_almanac(), r, wish);
    if (r.kind == "jelly" || r.kind == "jam") {
      EXPECT_TRUE(r.most.has_value()) << r.key;
    }
    if (r.most) {
      ASSERT_FALSE(s) << r.key;
      EXPECT_EQ(s.error().code, "not_doubled") << r.key;
      ++bound;
    } else {
      EXPECT_TRUE(s) << r.key << ": " << s.error().message;
    }
  }
  EXPECT_GT(bound, 12U);
}

TEST(Recipe, TakesAmountsOnlyAsItGoes) {
  EXPECT_EQ(scaled("salsa_chile", "4 cups").error().code, "wrong_unit");
  EXPECT_EQ(scaled("jam_apricot", "4 lb").error().code, "wrong_unit");
  EXPECT_EQ(scaled("salsa_chile", "1 oz").error().code, "too_little");
  EXPECT_EQ(scaled("salsa_chile", "0 lb").error().code, "too_little");
  // USDA AIB-539 Guide 7: a pound of fruit gives at least a cup of juice.
  EXPECT_THAT(scaled("jelly_plum", "6 lb").value().how, HasSubstr("at least 1 cup"));
  // A bushel of tomatoes is 53 lb.
  EXPECT_THAT(scaled("salsa_chile", "1 bushel").value().how, HasSubstr("53 lb"));
}

std::string change_code(std::string_view key, std::string_view words) {
  const auto change = allowed_change(the_almanac(), recipe(key), words);
  if (change) return (*change)->key;
  EXPECT_FALSE(change.error().instead.empty()) << words;
  for (const auto& way : change.error().instead) EXPECT_FALSE(way.empty()) << words;
  return change.error().code;
}

TEST(Change, IsAllowedOnlyWhereItIsPublished) {
  EXPECT_EQ(change_code("salsa_chile", "more cumin"), "spices");
  EXPECT_EQ(change_code("salsa_chile", "leave out the dried oregano"), "spices");
  EXPECT_EQ(change_code("salsa_choice", "jalapeno peppers instead of bell peppers"), "peppers_any_kind");
  EXPECT_EQ(change_code("pickles_bread_butter", "slender summer squash"), "squash_for_cucumber");
  EXPECT_EQ(change_code("jelly_apple", "no lemon"), "apple_no_lemon");
  EXPECT_EQ(change_code("spread_peach_pineapple", "less sugar"), "spread_sugar");
  EXPECT_EQ(change_code("pickles_gherkin", "low temperature pasteurisation"), "low_temperature");
}

TEST(Change, IsRefusedWithAWayOnWhereItIsNot) {
  for (const auto& [key, words] : std::initializer_list<std::pair<const char*, const char*>>{
           {"salsa_chile", "less vinegar"},
           {"salsa_chile", "double the onions"},
           {"salsa_chile", "more cumin and less vinegar"},
           {"salsa_choice", "more peppers"},
           {"salsa_paste_tomato", "vinegar instead of lemon juice"},
           {"salsa_chile", "thicken it with cornstarch"},
           {"salsa_chile", "fresh cilantro"},
           {"beets_pickled", "dilute the vinegar"},
           {"jam_apricot", "half the sugar"},
           {"jelly_grape_plum", "double batch"},
           {"jam_blueberry_spice", "liquid pectin"},
           {"sauerkraut", "less salt"},
           {"pickles_dill_less_salt", "pasteurise at low temperature"},
           {"jelly_plum", "no lemon, half gallon jars"}})
    EXPECT_THAT(change_code(key, words), testing::AnyOf("change_not_allowed", "change_not_tested")) << words;
  EXPECT_EQ(change_code("salsa_chile", "a cup of walnuts"), "change_not_tested");
  EXPECT_EQ(change_code("salsa_chile", "more"), "change_not_tested");
  EXPECT_EQ(change_code("salsa_chile", ""), "change_not_tested");
}

TEST(GelTest, NamesTheNearerPublishedRowAndNeverAFigureBetweenTwo) {
  const auto& book = the_almanac().recipes;
  const auto at = [&](double feet) { return gel_test(book, measure::Altitude::feet(feet), measure::Units::us); };
  EXPECT_EQ(at(2900).gel_f, 214);
  EXPECT_THAT(at(2900).said, HasSubstr("the published row for 3,000 ft"));
  EXPECT_EQ(at(2400).gel_f, 216);
  EXPECT_EQ(at(2500).gel_f, 216);  // of two equally near the hotter
  for (double feet = 0; feet <= 8500; feet += 50) {
    const auto test = at(feet);
    EXPECT_EQ(std::ranges::count(book.gel_points, *test.gel_f, &almanac::GelPoint::gel_f), 1) << feet;
  }
  for (const double feet : {-50.0, 8501.0, 12000.0}) EXPECT_FALSE(at(feet).gel_f.has_value()) << feet;
  const auto unknown = gel_test(book, std::nullopt, measure::Units::us);
  EXPECT_FALSE(unknown.gel_f.has_value());
  EXPECT_THAT(unknown.said, HasSubstr("8 °F above"));
}

// 5 percent of brine by weight: 52.6 g of salt to a litre (1 kg) of water.
TEST(Brine, IsByWeightOfTheWholeBrine) {
  const auto salt = salt_for_brine(measure::kilograms(1), 5);
  ASSERT_TRUE(salt);
  EXPECT_NEAR(measure::in_kilograms(*salt), 0.0526, 0.0001);
  EXPECT_EQ(salt_for_brine(measure::kilograms(1), 30).error().code, "bad_strength");
  EXPECT_EQ(salt_for_brine(measure::kilograms(1), 0).error().code, "bad_strength");
}

RecipePlace at_feet(double feet) { return {.altitude = measure::Altitude::feet(feet), .units = measure::Units::us}; }

nlohmann::json sheet(const RecipeWords& words, const RecipePlace& place) {
  return nlohmann::json::parse(recipe_answer(the_almanac(), words, place).value().json);
}

/// The process beside a recipe is what process/ says, for its own id; without an altitude there is none.
TEST(RecipeSheet, ShowsTheAnswerOfProcessAndNothingElse) {
  for (const auto& r : the_almanac().recipes.recipes) {
    const auto here = sheet({.name = r.key}, at_feet(500)).at("process");
    EXPECT_EQ(here.is_null(), r.ask_food.empty()) << r.key;
    if (here.is_null()) continue;
    if (r.process.empty()) {
      EXPECT_EQ(here.at("code"), "makers_leaflet") << r.key;
      continue;
    }
    if (here.at("ok") == true) {
      for (const auto& c : here.at("choices")) EXPECT_EQ(c.at("id"), r.process);
    } else {
      EXPECT_EQ(here.at("code"), "recalled_only") << r.key;
    }
    EXPECT_EQ(sheet({.name = r.key}, {}).at("process").at("ok"), false) << r.key;
  }
}

TEST(RecipeSheet, OfACropListsItsRecipesAcidDryingAndFreezing) {
  const auto tomato = sheet({.name = "tomato"}, at_feet(500));
  EXPECT_EQ(tomato.at("answer"), "crop");
  EXPECT_GT(tomato.at("recipes").size(), 6U);
  EXPECT_EQ(tomato.at("acid_per_jar").size(), 2U);
  const auto apple = sheet({.name = "apples"}, at_feet(500));
  EXPECT_FALSE(apple.at("drying").empty());
  EXPECT_FALSE(apple.at("syrups").empty());
  EXPECT_FALSE(sheet({.name = "green beans"}, at_feet(500)).at("freezing").empty());
}

TEST(RecipeSheet, OfAnUnknownNameOffersNearOnes) {
  const auto refused = recipe_answer(the_almanac(), {.name = "grape jely"}, {});
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, "unknown_recipe");
  EXPECT_THAT(refused.error().instead.back(), HasSubstr("never into a canner"));
}

}  // namespace
}  // namespace stillroom::kitchen
