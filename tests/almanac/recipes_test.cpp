#include "almanac/recipes.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <map>

#include "almanac/csv.h"

// Each table of data/recipes is broken in one place; the refusal must name file, row and column.
namespace stillroom::almanac {
namespace {

using testing::HasSubstr;

const Crops& recipe_crops() {
  static const Crops all = load_crops().value();
  return all;
}
const ProcessTable& recipe_processes() {
  static const ProcessTable all = load_process_table(recipe_crops()).value();
  return all;
}

std::string fault_with(const std::string& file, const std::string& from, const std::string& to) {
  std::string text(embedded_file("recipes/" + file));
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << file << " holds no \"" << from << "\"";
  text.replace(at, from.size(), to);
  const auto book = read_recipes(recipe_crops(), recipe_processes(), [&](std::string_view name) {
    return name == file ? std::string_view(text) : embedded_file("recipes/" + std::string(name));
  });
  if (book) return {};
  EXPECT_EQ(book.error().code, "bad_table");
  EXPECT_FALSE(book.error().instead.empty());
  EXPECT_THAT(book.error().message, HasSubstr("recipes/" + file));
  return book.error().message;
}

TEST(Recipes, LoadAsTheyStand) {
  const auto book = load_recipes(recipe_crops(), recipe_processes());
  ASSERT_TRUE(book) << book.error().message;
  EXPECT_GE(book->recipes.size(), 50U);
  for (const auto& r : book->recipes) EXPECT_FALSE(r.from.source.empty()) << r.key;
}

TEST(Recipes, NameTheCellThatIsWrong) {
  EXPECT_THAT(fault_with("recipes.csv", "salsa_chile_hot", "my_salsa_hot"), HasSubstr("column process"));
  EXPECT_THAT(fault_with("recipes.csv", ",salsa,none,tomato,", ",salsa,none,tomatto,"), HasSubstr("column crops"));
  EXPECT_THAT(fault_with("recipes.csv", ",jelly,none,apple,", ",jellie,none,apple,"), HasSubstr("column kind"));
  EXPECT_THAT(fault_with("recipes.csv", ",canned,whole,", ",canned,free,"), HasSubstr("column most"));
  EXPECT_THAT(fault_with("ingredients.csv", "salsa_chile,acid", "salsa_chile,aroma"), HasSubstr("column role"));
  EXPECT_THAT(fault_with("ingredients.csv", "cup,yes,no", "cup,no,no"), HasSubstr("column base"));
  EXPECT_THAT(fault_with("ingredients.csv", "jam_peach,sugar,sugar,4,5", "jam_peach,sugar,sugar,6,5"),
              HasSubstr("column low"));
  EXPECT_THAT(fault_with("steps.csv", "jelly_apple,", "jelly_apples,"), HasSubstr("column recipe"));
  EXPECT_THAT(fault_with("ferments.csv", "70,75", "70,95"), HasSubstr("column temp_high_f"));
  EXPECT_THAT(fault_with("gel_point.csv", "2000,216", "2000,219"), HasSubstr("column gel_f"));
  EXPECT_THAT(fault_with("acid_per_jar.csv", "pint,1,", "pint,9,"), HasSubstr("column lemon_tbsp"));
  EXPECT_THAT(fault_with("salometer.csv", "100,26.4", "100,36.4"), HasSubstr("column salt_pct"));
  EXPECT_THAT(fault_with("syrups.csv", "very light,10", "very light,95"), HasSubstr("column sugar_pct"));
}

TEST(Recipes, NeverLoseTheirAcidNorAllowWhatWasNotRead) {
  const std::string acid = "salsa_chile,acid,5% vinegar,1,1,cup,no,no\n";
  std::string text(embedded_file("recipes/ingredients.csv"));
  text.erase(text.find(acid), acid.size());
  const auto book = read_recipes(recipe_crops(), recipe_processes(), [&](std::string_view name) {
    return name == "ingredients.csv" ? std::string_view(text) : embedded_file("recipes/" + std::string(name));
  });
  ASSERT_FALSE(book);
  EXPECT_THAT(book.error().message, HasSubstr("its acid is missing"));
  EXPECT_THAT(fault_with("changes.csv", "lemon_for_vinegar,salsa; pickle; sauce,,no", "lemon_for_vinegar,salsa,,yes"),
              HasSubstr("column checked"));
  EXPECT_THAT(fault_with("changes.csv", "less_acid,,,no", "less_acid,,,yes"), HasSubstr("column kinds"));
}

}  // namespace
}  // namespace stillroom::almanac
