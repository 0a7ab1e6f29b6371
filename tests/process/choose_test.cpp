#include <algorithm>
#include <set>

#include "process/published.h"

namespace stillroom::process_tests {
namespace {

std::set<std::string> ids_of(const process::Question& q) {
  std::set<std::string> ids;
  const auto answer = process::choose(published(), q);
  EXPECT_TRUE(answer.has_value()) << q.food << " " << q.form << ": " << answer.error().message;
  if (!answer) return ids;
  for (const auto& c : *answer) ids.insert(c.id);
  return ids;
}

TEST(Choosing, TakesAnyWordingOfFoodAndForm) {
  const std::set<std::string> halves{"pears_hot"};
  EXPECT_EQ(ids_of(ask("pear", "halves")), halves);
  EXPECT_EQ(ids_of(ask("pear_european", "halved")), halves);
  EXPECT_EQ(ids_of(ask("BARTLETT PEARS", "Halves in light syrup")), halves);
  EXPECT_EQ(ids_of(ask("canned pear halves")), halves);
  EXPECT_EQ(ids_of(ask("tomatoes", "with okra")), std::set<std::string>{"tomato_okra_zucchini_hot"});
  EXPECT_EQ(ids_of(ask("okra and tomatoes")), std::set<std::string>{"tomato_okra_zucchini_hot"});
  EXPECT_EQ(ids_of(ask("corn, cream style")), std::set<std::string>{"corn_cream_style_hot"});
}

TEST(Choosing, RefusesAWordNoRowIsAskedForBy) {
  EXPECT_EQ(code_of(ask("pear", "halves in brandy")), "no_row");
  EXPECT_EQ(code_of(ask("pear", "halves")), "");
  EXPECT_EQ(code_of(ask("tomato", "sauce with basil")), "no_row");
}

TEST(Choosing, OffersPicklesAndRelishesOnlyWhenNamed) {
  EXPECT_EQ(ids_of(ask("beets")), std::set<std::string>{"beets_hot"});
  EXPECT_EQ(ids_of(ask("green beans")), (std::set<std::string>{"snap_beans_hot", "snap_beans_raw"}));
  EXPECT_EQ(ids_of(ask("green beans", "dilled")), std::set<std::string>{"beans_dilled_raw"});
  EXPECT_TRUE(ids_of(ask("bell peppers", "pickled")).contains("peppers_bell_pickled_hot"));
  EXPECT_EQ(ids_of(ask("bell peppers")), std::set<std::string>{"peppers_hot"});
}

TEST(Choosing, CoversAVarietyByItsParentUnlessExcluded) {
  EXPECT_EQ(ids_of(ask("butternut squash", "cubes")), std::set<std::string>{"pumpkin_winter_squash_cubed_hot"});
  EXPECT_EQ(ids_of(ask("peach", "halves")), (std::set<std::string>{"peaches_hot", "peaches_raw"}));
  EXPECT_EQ(code_of(ask("peach/white_flesh", "halves")), "not_safe_to_can");
  EXPECT_EQ(code_of(ask("squash_winter/spaghetti", "cubes")), "not_safe_to_can");
  EXPECT_EQ(ids_of(ask("pear_asian", "halves")), std::set<std::string>{"pears_asian_hot"});
}

TEST(Choosing, LetsAHalfPintTakeThePintTimeAndNoOtherJarStandIn) {
  const auto answer = process::choose(published(), ask("peaches", "halves", 500, "half_pint", "boiling_water"));
  ASSERT_TRUE(answer.has_value());
  for (const auto& c : *answer) {
    EXPECT_EQ(c.jar, "pint");
    EXPECT_EQ(std::ranges::count(c.requirements, "half_pint_takes_pint_time"), 1);
  }
  // Where half-pints are printed, only they are offered.
  const auto printed = process::choose(published(), ask("mushrooms", "", 500, "half_pint"));
  ASSERT_TRUE(printed.has_value());
  for (const auto& c : *printed) EXPECT_EQ(c.jar, "half_pint");
  EXPECT_EQ(code_of(ask("mincemeat", "", 500, "pint")), "no_row");           // quarts only
  EXPECT_EQ(code_of(ask("cream style corn", "", 500, "half_pint")), "");     // by the pint row
  EXPECT_EQ(code_of(ask("mushrooms", "marinated", 500, "pint")), "no_row");  // half-pints only
}

TEST(Choosing, GivesASteamCannerOnlyAcidFoodOfAtMost45Minutes) {
  const auto answer = process::choose(published(), ask("pears", "halves", 500, "quart", "steam"));
  ASSERT_TRUE(answer.has_value());
  EXPECT_EQ(answer->front().method, "boiling_water");
  EXPECT_EQ(answer->front().time_min, 25);
  EXPECT_EQ(std::ranges::count(answer->front().requirements, "manufacturer_approved_steam_canner"), 1);
  EXPECT_EQ(code_of(ask("tomatoes", "crushed", 1000, "quart", "steam")), "");        // 45 minutes
  EXPECT_EQ(code_of(ask("tomatoes", "crushed", 1001, "quart", "steam")), "no_row");  // 50 minutes
}

TEST(Choosing, TellsDialFromWeightedGauge) {
  for (const auto& [canner, method] : {std::pair{"dial", "dial_gauge"}, std::pair{"weighted", "weighted_gauge"}}) {
    const auto answer = process::choose(published(), ask("carrots", "sliced", 500, "pint", canner));
    ASSERT_TRUE(answer.has_value());
    for (const auto& c : *answer) EXPECT_EQ(c.method, method);
  }
  const auto either = process::choose(published(), ask("carrots", "sliced", 500, "pint", "pressure"));
  ASSERT_TRUE(either.has_value());
  EXPECT_EQ(either->size(), 4U);  // hot and raw, dial and weighted
}

TEST(Choosing, PutsWhatWasFrozenRawOnlyIntoCookedHotPackedForms) {
  auto q = ask("tomatoes", "sauce");
  q.conditions = {"frozen_raw"};
  EXPECT_EQ(code_of(q), "");
  q = ask("tomatoes");
  q.conditions = {"frozen_raw"};
  const auto answer = process::choose(published(), q);
  ASSERT_TRUE(answer.has_value());
  for (const auto& c : *answer) {
    EXPECT_EQ(c.style_of_pack, "hot");
    EXPECT_NE(c.form, "whole_or_halves");
  }
  q = ask("apples", "jelly without pectin");  // asks for fresh fruit, no frozen juice
  q.conditions = {"frozen_raw"};
  EXPECT_EQ(code_of(q), "condition_bars");
}

TEST(Choosing, KnowsABandBorderInMetresToo) {
  auto q = ask("pears", "halves", 0, "pint", "boiling_water");
  q.altitude = measure::Altitude::metres(304.8);  // 1,000 ft
  EXPECT_EQ(process::choose(published(), q)->front().time_min, 20);
  q.altitude = measure::Altitude::metres(305);
  EXPECT_EQ(process::choose(published(), q)->front().time_min, 25);
}

TEST(Choosing, ListsHotBeforeRawAndBoilingWaterBeforePressureAndSmallJarsFirst) {
  const auto answer = process::choose(published(), ask("peaches", "halves"));
  ASSERT_TRUE(answer.has_value());
  std::vector<std::string> got;
  for (const auto& c : *answer) got.push_back(c.style_of_pack + " " + c.method + " " + c.jar);
  const std::vector<std::string> wanted{
      "hot boiling_water pint",  "hot boiling_water quart",  "hot dial_gauge pint",     "hot dial_gauge quart",
      "hot weighted_gauge pint", "hot weighted_gauge quart", "raw boiling_water pint",  "raw boiling_water quart",
      "raw dial_gauge pint",     "raw dial_gauge quart",     "raw weighted_gauge pint", "raw weighted_gauge quart"};
  EXPECT_EQ(got, wanted);
}

TEST(Choosing, TakesTheRecipeByItsProcessId) {
  auto q = ask("cucumber", "pickle");
  q.id = "bread_butter_pickles_hot";
  EXPECT_EQ(ids_of(q), std::set<std::string>{"bread_butter_pickles_hot"});
  q = ask("tomato", "juice", 500, "quart", "weighted");
  q.id = "tomato_juice_hot";
  EXPECT_EQ(ids_of(q).size(), 3U);  // equal time and pressure pairs
  q.id = "pears_hot";
  EXPECT_EQ(code_of(q), "no_row");
  q = ask("zucchini", "slices");  // the id does not lift the deny list
  q.id = "bread_butter_zucchini_hot";
  EXPECT_EQ(code_of(q), "not_safe_to_can");
}

TEST(Choosing, SaysThatAnOldEditionWasRead) {
  const auto answer = process::choose(published(), ask("pineapple", "pieces", 500, "pint"));
  ASSERT_TRUE(answer.has_value());
  EXPECT_EQ(answer->front().edition_read, "1994");
  EXPECT_NE(answer->front().notes.find("compare with the current edition (2015)"), std::string::npos);
  EXPECT_EQ(std::ranges::count(answer->front().requirements, "compare_with_current_edition"), 1);
}

TEST(Choosing, AnswersEveryCannedRouteOrSaysThatItsRowWasNotReadAgain) {
  auto almanac = published();
  auto routes = almanac::load_routes(almanac.crops);
  ASSERT_TRUE(routes.has_value()) << routes.error().message;
  std::size_t asked = 0;
  for (const auto& route : routes->all()) {
    if (!route.process) continue;
    const auto& id = route.process->id;
    // A dish that names no crop is asked for by its own name: tests/kitchen/route_process_test.cpp.
    if (std::ranges::none_of(almanac.processes.rows, [&](const auto& row) {
          return (row.id == id || row.id.starts_with(id + "_opt_")) && !row.covers.empty();
        }))
      continue;
    ++asked;
    auto q = ask(route.crop, route.process->form, 500, route.process->jar, route.process->method);
    q.style_of_pack = route.process->style_of_pack;
    q.id = id;
    if (route.accepts_form == "frozen_whole") q.conditions = {"frozen_raw"};
    const auto code = code_of(q);
    EXPECT_TRUE(code.empty() || code == "recalled_only") << route.key << ": " << code;
    const bool known = std::ranges::any_of(almanac.processes.rows, [&](const auto& row) {
      return row.id.starts_with(q.id) && row.food == route.process->food;
    });
    EXPECT_TRUE(known) << route.key << " names a food that no row of " << q.id << " has";
  }
  EXPECT_GT(asked, 400U);
}

}  // namespace
}  // namespace stillroom::process_tests
