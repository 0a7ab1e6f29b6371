#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "kitchen/process_words.h"
#include "kitchen_almanac.h"
#include "measure/quantity.h"

namespace stillroom::kitchen {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

double kg(double pounds) { return measure::in_kilograms(measure::pounds(pounds)); }

// USDA AIB-539 Guide 2: 17.5 lb of pears make one canner load of 7 quarts, with light syrup of 2 1/4 cups of sugar to
// 9 cups of water; hot pack, quarts, 0 to 1,000 ft: 25 minutes, headspace 1/2 inch.
TEST(PearsWorkedByHand, OneLoadIsSevenQuarts) {
  const auto card = make_card(the_almanac(), route("pear_european/canned_halves_hot"), kg(17.5), at(500));
  ASSERT_TRUE(card) << card.error().message;
  EXPECT_EQ(card->loads, 1);
  EXPECT_NEAR(card->packs, 7, 1e-6);
  EXPECT_EQ(card->pack, "quart jar");
  ASSERT_TRUE(card->process);
  EXPECT_EQ(card->process->id, "pears_hot");
  EXPECT_EQ(card->process->time_min, 25);
  EXPECT_EQ(card->process->headspace_in, 0.5);
  const Step* fill = step_of(*card, "fill");
  ASSERT_NE(fill, nullptr);
  EXPECT_THAT(fill->gather, ElementsAre("big pot", "7 quart jars and 1 spare", "7 lids", "2¼ cups of sugar"));
  EXPECT_THAT(fill->text, HasSubstr("2¼ cups of sugar in 2¼ qt of water"));  // 9 cups
  EXPECT_THAT(fill->text, HasSubstr("Headspace: ½ inch."));
  // Washing 0.2 to 0.5 minutes a pound after 5 to set up: 5 + 0.35 x 17.5 = 11.1. Peeling 1.5 to 3 after 5: 44.4.
  EXPECT_NEAR(card->steps[1].expected_min, 11.125, 1e-6);
  EXPECT_NEAR(card->steps[2].expected_min, 44.375, 1e-6);
  EXPECT_THAT(card->steps[1].text, HasSubstr("17½ lb"));
}

TEST(PearsWorkedByHand, TwiceAsMuchIsTwoLoadsEachForTheFullTime) {
  const auto card = make_card(the_almanac(), route("pear_european/canned_halves_hot"), kg(35), at(500));
  ASSERT_TRUE(card);
  EXPECT_EQ(card->loads, 2);
  EXPECT_NEAR(card->packs, 14, 1e-6);
  const Step* process = step_of(*card, "process:2");
  ASSERT_NE(process, nullptr);
  EXPECT_TRUE(process->shows_process);
  EXPECT_EQ(process->load, 2);
  EXPECT_THAT(process->title, HasSubstr("load 2 of 2"));
  EXPECT_THAT(process->text, HasSubstr("quart jars, 25 min. 2 canner loads, each for the full time."));
  EXPECT_NEAR(process->packs.value_or(0), 7, 1e-6);
  // Heating 30, process 25, rest 5: an hour a load.
  EXPECT_NEAR(step_of(*card, "heat:1")->expected_min + process->expected_min + step_of(*card, "lift:1")->expected_min,
              60, 1e-9);
  EXPECT_THAT(process->timers, ElementsAre(TimerSpec{"Process, load 2", 25}));
  EXPECT_THAT(step_of(*card, "lift:1")->timers, ElementsAre(TimerSpec{"Lid off, wait, load 1", 5}));
  // Each load its own sugar; all of it laid ready at the start.
  EXPECT_THAT(step_of(*card, "fill:2")->gather, Contains("2¼ cups of sugar"));
  EXPECT_THAT(card->steps.front().gather, Contains("4½ cups of sugar"));
}

TEST(PearsWorkedByHand, EveryLoadGoesItsOwnWayFromFillingToRest) {
  // 24.5 lb: a load of 7 quarts, and what is left, 2.8.
  const auto card = make_card(the_almanac(), route("pear_european/canned_halves_hot"), kg(24.5), at(500));
  ASSERT_TRUE(card);
  std::vector<std::string> stages;
  for (const Step& s : card->steps) stages.push_back(s.stage);
  EXPECT_THAT(stages,
              ElementsAre("gather", "wash_firm", "peel_core_halve_pears", "fill:1", "heat:1", "process:1", "lift:1",
                          "cool:1", "fill:2", "heat:2", "process:2", "lift:2", "clear_up", "cool:2", "check_seals"));
  EXPECT_NEAR(*step_of(*card, "process:1")->packs, 7, 1e-6);
  EXPECT_NEAR(*step_of(*card, "process:2")->packs, 2.8, 1e-6);
}

TEST(RouteStage, EveryStepButGatheringIsPartOfOneAndTheCannerIsThereUntilTheJarsAreLifted) {
  int canned = 0;
  for (const almanac::Route& r : the_almanac().routes.all()) {
    const std::string canner = r.process && r.process->method == "pressure" ? "weighted" : "boiling_water";
    const auto card = make_card(the_almanac(), r, r.batch_max_kg, at(500, canner));
    if (!card) continue;  // as no row is published for it here
    for (const Step& step : card->steps) {
      const almanac::Stage* stage = route_stage(r, step.stage);
      ASSERT_EQ(stage == nullptr, step.stage == "gather") << r.key << " " << step.stage;
      const std::string base = stage_of_step(step.stage);
      if (!r.process || (base != "heat" && base != "process" && base != "lift")) continue;
      EXPECT_EQ(stage->key, "process") << r.key << " " << step.stage;
      EXPECT_TRUE(std::ranges::any_of(stage->equipment, [](const almanac::EquipmentUse& use) {
        return use.key.ends_with("canner");
      })) << r.key;
      ++canned;
    }
  }
  EXPECT_GT(canned, 100);
}

TEST(CannedCard, MatchesJarAndWaterAndSaysWhenTheClockStarts) {
  const auto hot = make_card(the_almanac(), route("pear_european/canned_halves_hot"), kg(17.5), at(500));
  // USDA AIB-539 Guide 1: 180 degF for hot-packed jars, 140 degF for raw-packed ones.
  EXPECT_THAT(step_of(*hot, "heat")->text, HasSubstr("180 degF"));
  EXPECT_THAT(step_of(*hot, "process")->text, HasSubstr("starts when the water boils hard"));
  const auto raw = make_card(the_almanac(), route("bean_snap/canned_raw"), kg(14), at(2900, "dial"));
  EXPECT_THAT(step_of(*raw, "heat")->text, HasSubstr("140 degF"));
  EXPECT_THAT(step_of(*raw, "heat")->text, HasSubstr("tested every year"));
  EXPECT_THAT(step_of(*raw, "process")->text, HasSubstr("when the dial shows 12 psi"));
  const auto weighted = make_card(the_almanac(), route("bean_snap/canned_raw"), kg(14), at(2900, "weighted"));
  EXPECT_THAT(step_of(*weighted, "process")->text, HasSubstr("first jiggles or rocks"));
  EXPECT_THAT(step_of(*weighted, "heat")->text, Not(HasSubstr("dial")));
}

TEST(CannedCard, ByASteamCannerIsCalledSo) {
  const auto card = make_card(the_almanac(), route("pear_european/canned_halves_hot"), kg(17.5), at(500, "steam"));
  ASSERT_TRUE(card) << card.error().message;
  EXPECT_EQ(canner_words(*card->process), "steam canner");
  EXPECT_THAT(step_of(*card, "heat")->text, HasSubstr("column of steam"));
  EXPECT_THAT(processed_sentence(*card->process), HasSubstr("steam canner"));
}

TEST(ProcessedSentence, NamesSourceEditionMinutesAndBand) {
  const auto card = make_card(the_almanac(), route("bean_snap/canned_raw"), kg(14), at(2900, "dial"));
  // USDA AIB-539 Guide 4, snap beans, quarts, dial gauge, 2,001 to 4,000 ft.
  EXPECT_THAT(processed_sentence(*card->process),
              testing::AllOf(testing::StartsWith("Processed as published in USDA AIB-539 Guide 4"),
                             HasSubstr("edition read"), HasSubstr("25 min at 12 lb"), HasSubstr("2,001 to 4,000 ft")));
  EXPECT_EQ(processed_sentence("no json"), "");
}

TEST(PearsWorkedByHand, TheProcessIsThatOfTheAltitude) {
  const auto card = make_card(the_almanac(), route("pear_european/canned_halves_hot"), kg(17.5), at(2900));
  ASSERT_TRUE(card);
  EXPECT_EQ(card->process->time_min, 30);  // USDA AIB-539 Guide 2, pears hot, quarts, 1,001 to 3,000 ft
}

// USDA AIB-539 Guide 3: bottled lemon juice, 2 tablespoons to the quart, whatever the canner. 22 lb fill 7 quarts:
// 14 tablespoons are 7/8 cup, rounded up to a whole cup.
TEST(TomatoCard, PutsAcidIntoEveryJarAndRoundsItUp) {
  const auto card = make_card(the_almanac(), route("tomato/canned_crushed"), kg(22), at(500));
  ASSERT_TRUE(card) << card.error().message;
  const Step* fill = step_of(*card, "fill");
  EXPECT_THAT(fill->text, testing::StartsWith("Into every jar first: bottled lemon juice 2 tbsp per quart"));
  EXPECT_THAT(fill->gather, Contains("1 cup of bottled lemon juice"));
}

// USDA AIB-539 Guide 6, fresh-pack dills: 8 lb take 6 cups of vinegar, 8 cups of water, 1/2 cup of salt.
TEST(PickleCard, NeverWeakensTheBrineByRounding) {
  const auto one = make_card(the_almanac(), route("cucumber/pickled_dill"), kg(8), at(500));
  ASSERT_TRUE(one) << one.error().message;
  EXPECT_THAT(step_of(*one, "brine")->text, HasSubstr("6 cups of 5 % vinegar, 2 qt of water, ½ cup (144 g)"));
  // 5 lb: 3.75 cups of vinegar and 5 of water. 5.2 lb: 3.9 go up to 4, 5.2 go down to 5.
  const auto some = make_card(the_almanac(), route("cucumber/pickled_dill"), kg(5.2), at(500));
  ASSERT_TRUE(some);
  EXPECT_THAT(step_of(*some, "brine")->text, HasSubstr("4 cups of 5 % vinegar, 5 cups of water"));
}

TEST(PressureCard, VentsTenMinutesAndStaysWithAnAdult) {
  const auto card = make_card(the_almanac(), route("bean_snap/canned_raw"), kg(14), at(2900, "dial"));
  ASSERT_TRUE(card) << card.error().message;
  EXPECT_EQ(card->process->time_min, 25);      // USDA AIB-539 Guide 4, snap beans, quarts
  EXPECT_EQ(card->process->pressure_psi, 12);  // dial gauge, 2,001 to 4,000 ft
  const Step* process = step_of(*card, "process");
  EXPECT_EQ(process->least_age, 18);
  EXPECT_EQ(process->attention, "nearby");
  EXPECT_FALSE(process->caution.empty());
  EXPECT_THAT(process->timers, ElementsAre(TimerSpec{"Process", 25}));
  EXPECT_THAT(step_of(*card, "heat")->timers, ElementsAre(TimerSpec{"Vent", 10}));
  EXPECT_THAT(step_of(*card, "lift")->timers, ElementsAre(TimerSpec{"Weight off, wait", 10}));
  EXPECT_FALSE(process->can_pause);
  EXPECT_THAT(process->text, HasSubstr("25 min at 12 psi"));
}

// Two slow cookers of 2.8 lb of bones give 7 quarts, one canner load, or 14 pints, of which a canner holds 9.
TEST(PressureCard, CountsLoadsOfTheCannerNotOfTheCooker) {
  const auto packs_at_process = [](std::string_view key) {
    std::vector<double> packs;
    const auto card = make_card(the_almanac(), route(key), kg(5.6), at(800, "weighted"));
    EXPECT_TRUE(card) << card.error().message;
    for (const Step& step : card->steps)
      if (step.shows_process) packs.push_back(step.packs.value_or(card->packs));
    return packs;
  };
  EXPECT_THAT(packs_at_process("chicken/broth"), ElementsAre(testing::DoubleNear(7, 1e-6)));
  EXPECT_THAT(packs_at_process("chicken/broth_pint"),
              ElementsAre(testing::DoubleNear(9, 1e-6), testing::DoubleNear(5, 1e-6)));
}

TEST(PressureCard, AsksWhichGaugeWhereTheyDiffer) {
  const auto card = make_card(the_almanac(), route("bean_snap/canned_raw"), kg(14), at(2900));
  ASSERT_FALSE(card);
  EXPECT_EQ(card.error().code, "canner_unknown");
}

TEST(CannedCard, IsRefusedWithoutAltitudeAndOffersAnotherWay) {
  const auto card = make_card(the_almanac(), route("bean_snap/canned_raw"), kg(14), process::Question{});
  ASSERT_FALSE(card);
  EXPECT_EQ(card.error().code, "altitude_missing");
  EXPECT_THAT(card.error().instead, Contains("blanch and freeze snap beans"));
}

TEST(CannedCard, IsRefusedWhereTheRowWasOnlyRecalled) {
  // Asian pears: the times above 1,000 ft were never re-read.
  const auto card = make_card(the_almanac(), route("pear_asian/canned_halves_hot"), 5, at(2900));
  ASSERT_FALSE(card);
  EXPECT_EQ(card.error().code, "recalled_only");
}

TEST(CannedCard, HearsTheVarietyThatIsBarred) {
  auto where = at(500, "dial");
  where.food = "squash_winter/spaghetti";
  const auto card = make_card(the_almanac(), route("squash_winter/canned_cubes_hot"), 5, where);
  ASSERT_FALSE(card);
  where.food = "squash_winter/butternut";
  EXPECT_TRUE(make_card(the_almanac(), route("squash_winter/canned_cubes_hot"), 5, where));
}

TEST(CannedCard, RefusesMouldAndFrostKilledVines) {
  auto where = at(500);
  where.conditions = {"mould"};
  EXPECT_FALSE(make_card(the_almanac(), route("pear_european/canned_halves_hot"), 5, where));
  where.conditions = {"frost_killed_vine"};
  EXPECT_FALSE(make_card(the_almanac(), route("tomato/canned_crushed"), 5, where));
}

TEST(FrozenCard, NeedsNoAltitudeAndTimesTheBlanching) {
  const auto card = make_card(the_almanac(), route("bean_snap/frozen"), 5, process::Question{});
  ASSERT_TRUE(card) << card.error().message;
  EXPECT_FALSE(card->process);
  EXPECT_THAT(step_of(*card, "blanch")->timers, ElementsAre(TimerSpec{"Blanch", 3}));  // UMN Extension: 3 minutes
  EXPECT_EQ(step_of(*card, "pack")->lag_max_min, 30);
}

// 3 1/2 lb of plums to 3 lb of Concord grapes, USDA AIB-539 Guide 7, grape-plum jelly; about 10 half-pints.
TEST(ManyLotCard, SaysWhatElseGoesIn) {
  const auto card = make_card(the_almanac(), route("grape/grape_plum_jelly"), kg(3), at(500));
  ASSERT_TRUE(card) << card.error().message;
  EXPECT_NEAR(card->packs, 10, 1e-6);
  EXPECT_THAT(card->steps.front().gather, Contains("3 lb 8 oz of plums"));
  EXPECT_THAT(step_of(*card, "boil")->gather, Contains("8½ cups of sugar"));
  EXPECT_THAT(step_of(*card, "boil")->text, HasSubstr("Boil the empty jars 10 minutes"));  // a 5-minute process
}

TEST(AnyCard, RefusesAnAmountThatIsNone) {
  for (const double none : {0.0, -1.0, std::numeric_limits<double>::quiet_NaN()}) {
    const auto card = make_card(the_almanac(), route("bean_snap/frozen"), none, process::Question{});
    ASSERT_FALSE(card);
    EXPECT_EQ(card.error().code, "bad_amount");
  }
}

TEST(AnyCard, SpeaksMetricWhenAsked) {
  const auto card =
      make_card(the_almanac(), route("pear_european/canned_halves_hot"), 8, at(500), measure::Units::metric);
  ASSERT_TRUE(card);
  EXPECT_THAT(card->steps[1].text, HasSubstr("8 kg"));
  EXPECT_THAT(card->steps[1].text, Not(HasSubstr("lb")));
}

TEST(AnyCard, OfEveryRouteLeavesNoPlaceholderOpenAndDefersToTheManual) {
  for (const auto& r : the_almanac().routes.all()) {
    const auto card = make_card(the_almanac(), r, r.batch_min_kg, at(500, "weighted"));
    ASSERT_TRUE(card) << r.key << ": " << card.error().message;
    EXPECT_GE(card->steps.size(), r.stages.size()) << r.key;
    EXPECT_THAT(card->defer_to, HasSubstr("local extension service"));
    for (const Step& s : card->steps) {
      EXPECT_THAT(s.text, Not(testing::AnyOf(HasSubstr("{"), HasSubstr("<"), HasSubstr("  ")))) << r.key;
      EXPECT_GT(s.expected_min, 0) << r.key << " " << s.stage;
      EXPECT_FALSE(s.looks_right.empty()) << r.key << " " << s.stage << ": nobody knows what good looks like";
    }
    const auto back = card_from_json(to_json(*card));
    ASSERT_TRUE(back) << r.key;
    EXPECT_EQ(*back, *card) << r.key;
  }
}

}  // namespace
}  // namespace stillroom::kitchen
