#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "almanac/routes.h"
#include "routes_texts.h"

namespace stillroom::almanac {
namespace {

using testing::HasSubstr;

const Crops& crops() {
  static const Crops all = load_crops().value();
  return all;
}

/// The message of the refusal; empty when the texts load.
std::string fault(const SmallRoutes& texts, RouteOrigin origin = RouteOrigin::published) {
  const auto book = texts.load(crops(), origin);
  return book ? "" : book.error().message;
}

TEST(RouteLoader, FillsATemplateWithOneRow) {
  const auto book = SmallRoutes().load(crops());
  ASSERT_TRUE(book) << book.error().message;
  ASSERT_EQ(book->all().size(), 1U);
  const Route& r = book->all().front();
  EXPECT_EQ(r.key, "apple/dried");
  EXPECT_EQ(r.name, "dry rings");
  EXPECT_EQ(r.product_food, "apple");
  EXPECT_EQ(r.product_form, "dried rings");
  EXPECT_NEAR(r.load_kg, 10, 1e-6);           // 22.0462262 lb
  EXPECT_NEAR(r.yield_kg_per_kg, 0.2, 1e-9);  // 1 / 5
  EXPECT_NEAR(r.worth_per_kg_in, 2, 1e-6);    // 4.5359237 / 0.45359237 / 5
  EXPECT_EQ(r.quality, (std::array<double, kConditions>{0, 1, 0.9, 0.5, 0}));
  ASSERT_EQ(r.stages.size(), 3U);
  EXPECT_EQ(r.stages[0].key, "cut");
  // 1 to 3 minutes a pound are 2 a pound, 4.409 a kilogram; 5 to set up. The range read as 10 to 90 %: 2 / 2.5632 / 2.
  EXPECT_NEAR(r.stages[0].duration_min.at(10, 1), 5 + 2 * 22.0462262, 1e-4);
  EXPECT_NEAR(r.stages[0].spread, 0.390, 0.001);
}

TEST(RouteLoader, CountsMaterialsAndEnergyOverAFullLoad) {
  const auto book = SmallRoutes().load(crops());
  ASSERT_TRUE(book);
  const Route& r = book->all().front();
  // 10 kg take 1 kg of sugar at $2: $0.2 a kilogram.
  EXPECT_NEAR(r.materials_cost_per_kg, 0.2, 1e-9);
  // Burner 1.5 kW for 20 minutes, 0.5 kWh; 20 trays of 60 W for 10 h, 12 kWh; 12.5 kWh at $0.2 over 10 kg.
  EXPECT_NEAR(r.energy_cost_per_kg, 0.25, 1e-6);
}

TEST(RouteLoader, MakesARouteForEveryFormTheRowAccepts) {
  const auto book = SmallRoutes().with("dried,,,", "dried,fresh;frozen_whole,,").load(crops());
  ASSERT_TRUE(book) << book.error().message;
  ASSERT_EQ(book->all().size(), 2U);
  EXPECT_EQ(book->all()[1].key, "apple/dried_from_frozen_whole");
  EXPECT_EQ(book->all()[1].accepts_form, "frozen_whole");
}

TEST(RouteLoader, NamesFileAndKeyOfEveryFault) {
  struct Case {
    const char *from, *to, *file, *says;
  };
  const Case cases[] = {
      {"apple,dried", "aple,dried", "routes/small.csv: row 1", "\"aple\" is not in crops.csv"},
      {",cut,6", ",slice,6", "routes/small.csv: row 1", "\"slice\" is no task of labour.csv"},
      {"0;1;0.9;0.5;0", "0;1;0.9;0.5", "routes/small.csv: row 1", "five numbers"},
      {"0;1;0.9;0.5;0", "0;1;1.9;0.5;0", "routes/small.csv: row 1", "quality is not within 0 to 1"},
      {"0;1;0.9;0.5;0", "0;0;0;0;0", "routes/small.csv: row 1", "accepts no condition"},
      {"6,12,rings", "12,6,rings", "routes/small.csv: row 1", "is no range"},
      {"months_high,as", "months_high,sa", "routes/small.csv", "sa"},
      {"1 / shrink\"\nkg", "1 / shrnk\"\nkg", "routes/methods/small.toml", "\"shrnk\" is no number"},
      {"22.0462262,5,", "22.0462262,0,", "routes/methods/small.toml", "division by zero"},
      {"dry <as>", "dry <form>", "routes/methods/small.toml", "<form> is no column"},
      {"{sugar}", "{salt}", "stage \"dry\"", "unknown placeholder {salt}"},
      {"{packs}", "{packs", "stage \"dry\"", "unknown placeholder"},
      {"batch_max_kg = 20", "batch_max = 20", "routes/methods/small.toml: batch_max", "no key that is known"},
      {"fixed = 600", "fixed = 0", "stage \"dry\"", "duration is not above 0"},
      {"fixed = 600", "fixed = \"600 *\"", "routes/methods/small.toml", "a number or a name is missing"},
      {"lag_max_min = 60", "lag_min_min = 90\nlag_max_min = 60", "stage \"dry\"", "lag_max_min is below lag_min_min"},
      {"use = \"sugar_kg\", per_kg = 0.1", "use = \"sugar_kg\", per_kg = 0.1 }, { use = \"honey_kg\", fixed = 1",
       "stage \"dry\"", "no stock item"},
      {"[[stage]]\nlabour = \"boil\"", "[[stage]\nlabour = \"boil\"", "routes/methods/small.toml: line", ""},
      {"labour = \"boil\"", "labour = \"simmer\"", "routes/methods/small.toml: stage 2", "no task of labour.csv"},
      {"key = \"dry\"", "key = \"boil\"", "apple/dried", "stage \"boil\" stands twice"},
      {"20,20,load", "20,10,load", "routes/labour.csv: row 2: column minutes_high", "below"},
      {"store_in = \"shelf\"", "store_in = \"attic\"", "apple/dried", "store_in \"attic\" is no place"},
      {"method = \"dried\"", "method = \"smoked\"", "apple/dried", "unknown method \"smoked\""},
      {"method = \"dried\"", "method = \"canned\"", "apple/dried", "without a heat process"},
  };
  for (const Case& c : cases) {
    const std::string said = fault(SmallRoutes().with(c.from, c.to));
    EXPECT_THAT(said, HasSubstr(c.file)) << c.from << " -> " << c.to;
    EXPECT_THAT(said, HasSubstr(c.says)) << c.from << " -> " << c.to;
  }
}

TEST(RouteLoader, RefusesTheSameKeyTwice) {
  SmallRoutes texts;
  texts.rows += texts.rows.substr(texts.rows.find("\napple") + 1);
  EXPECT_THAT(fault(texts), HasSubstr("row 2: apple/dried: the key stands twice"));
}

TEST(RouteLoader, RefusesAColumnTheTemplateHasNoUseFor) {
  EXPECT_THAT(fault(SmallRoutes()
                        .with("price_per_lb,source", "price_per_lb,source,colour")
                        .with("a table,yes", "a table,red,yes")),
              HasSubstr("column colour"));
}

TEST(RouteRules, NothingHotIsEverUnattended) {
  EXPECT_THAT(fault(SmallRoutes().with("heat,nearby", "heat,unattended")), HasSubstr("heat is never unattended"));
  EXPECT_THAT(fault(SmallRoutes().with("use = \"dryer_tray\"", "use = \"boiling_water_canner\"")),
              HasSubstr("\"boiling_water_canner\" is never left running unattended"));
  EXPECT_THAT(fault(SmallRoutes().with("equipment = [{ use = \"dryer_tray\", per_kg = \"1 / 0.5\" }]\n", "")),
              HasSubstr("only resting stages"));
}

TEST(RouteRules, AgeFloorsCannotBeLowered) {
  EXPECT_THAT(fault(SmallRoutes().with("5,10,blade", "5,9,blade")), HasSubstr("below the floor of 10 for blade"));
  EXPECT_THAT(fault(SmallRoutes().with("0,14,heat", "0,13,heat")), HasSubstr("below the floor of 14 for heat"));
  EXPECT_THAT(fault(SmallRoutes().with("0,14,heat", "0,14,")), HasSubstr("without the danger \"heat\""));
  EXPECT_THAT(fault(SmallRoutes().with("0,14,heat", "0,17,heat;pressure")), HasSubstr("below the floor of 18"));
  EXPECT_THAT(fault(SmallRoutes().with("Sharp.", "")), HasSubstr("wants a caution"));
  // A household's own file is held to the same floors.
  EXPECT_THAT(fault(SmallRoutes().with("0,14,heat", "0,13,heat"), RouteOrigin::household),
              HasSubstr("below the floor of 14"));
}

TEST(RouteRules, AHazardClockHasALatestStartBehindIt) {
  SmallRoutes texts;
  texts.with("labour = \"boil\"\n", "labour = \"boil\"\nhazard = \"cooked_food\"\n").with("lag_max_min = 60\n", "");
  EXPECT_THAT(fault(texts), HasSubstr("stage \"dry\": wants a lag_max_min"));
}

SmallRoutes with_process(std::string_view accepts) {
  SmallRoutes texts;
  texts.with("method = \"dried\"", "method = \"canned\"")
      .with("[[stage]]\nprep",
            "[process]\nfood = \"apple\"\nform = \"slices\"\nstyle_of_pack = \"raw\"\n"
            "jar = \"quart\"\nmethod = \"boiling_water\"\nid = \"apples_sliced_hot\"\n[[stage]]\nprep")
      .with("labour = \"boil\"",
            "labour = \"boil\"\nkey = \"process\"\n"
            "equipment = [{ use = \"boiling_water_canner\", fixed = 1 }]")
      .with("dried,,,", "dried," + std::string(accepts) + ",,");
  return texts;
}

TEST(RouteRules, AHouseholdNeverAddsAHeatProcess) {
  EXPECT_EQ(fault(with_process("fresh")), "");
  EXPECT_THAT(fault(with_process("fresh"), RouteOrigin::household), HasSubstr("may not ask for a heat process"));
  EXPECT_EQ(fault(SmallRoutes(), RouteOrigin::household), "");
}

TEST(RouteRules, CannedFoodIsSoundAndWhatWasFrozenGoesHot) {
  EXPECT_THAT(fault(with_process("fresh;frozen_whole")), HasSubstr("frozen raw goes only to hot packs"));
  EXPECT_THAT(fault(with_process("fresh").with("0.5;0,cut", "0.5;0.4,cut")), HasSubstr("going over is not canned"));
}

TEST(RouteBookLookUp, AVarietysOwnRouteStandsInForItsParents) {
  SmallRoutes texts;
  texts.rows += "apple/early,dried,,,0;1;1;1;0,cut,3,6,rings,10,5,1,a table,yes\n";
  const auto book = texts.load(crops());
  ASSERT_TRUE(book) << book.error().message;
  const auto of = [&](std::string_view crop) {
    std::vector<std::string> keys;
    for (const Route* r : book->for_crop(crops(), crop)) keys.push_back(r->key);
    return keys;
  };
  EXPECT_THAT(of("apple/early"), testing::ElementsAre("apple/early/dried"));
  EXPECT_THAT(of("apple/late"), testing::ElementsAre("apple/dried"));
  EXPECT_THAT(of("apple"), testing::ElementsAre("apple/dried"));
  EXPECT_THAT(of("pear_european"), testing::IsEmpty());
}

TEST(RouteBookLookUp, LeavesOutWhatIsNotForAVariety) {
  const auto book = SmallRoutes().with("dried,,,", "dried,,apple/early,").load(crops());
  ASSERT_TRUE(book) << book.error().message;
  EXPECT_TRUE(book->for_crop(crops(), "apple/early").empty());
  EXPECT_EQ(book->for_crop(crops(), "apple/late").size(), 1U);
}

TEST(RouteLoads, AreFullCannersRoundedUp) {
  Route r;
  EXPECT_EQ(loads_for(r, 40), 1);
  r.load_kg = 7.9378664375;  // 17.5 lb, 7 quarts of pears
  EXPECT_EQ(loads_for(r, 7.93786644), 1);
  EXPECT_EQ(loads_for(r, 8), 2);
  EXPECT_EQ(loads_for(r, 0), 1);
}

}  // namespace
}  // namespace stillroom::almanac
