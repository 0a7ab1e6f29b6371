#include <gmock/gmock.h>
#include <gtest/gtest.h>

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
  EXPECT_NEAR(card->steps[0].expected_min, 11.125, 1e-6);
  EXPECT_NEAR(card->steps[1].expected_min, 44.375, 1e-6);
  EXPECT_THAT(card->steps[0].text, HasSubstr("17½ lb"));
}

TEST(PearsWorkedByHand, TwiceAsMuchIsTwoLoadsEachForTheFullTime) {
  const auto card = make_card(the_almanac(), route("pear_european/canned_halves_hot"), kg(35), at(500));
  ASSERT_TRUE(card);
  EXPECT_EQ(card->loads, 2);
  EXPECT_NEAR(card->packs, 14, 1e-6);
  const Step* process = step_of(*card, "process");
  ASSERT_NE(process, nullptr);
  EXPECT_TRUE(process->shows_process);
  EXPECT_THAT(process->text, HasSubstr("quart jars, 25 min. 2 canner loads, each for the full time."));
  // Heating 30, process 25, rest 5: an hour a load.
  EXPECT_NEAR(process->expected_min, 120, 1e-9);
  EXPECT_THAT(process->timers, ElementsAre(TimerSpec{"Process", 25}, TimerSpec{"Rest, lid off", 5}));
  EXPECT_THAT(step_of(*card, "fill")->gather, Contains("4½ cups of sugar"));
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
  EXPECT_THAT(process->timers,
              ElementsAre(TimerSpec{"Vent", 10}, TimerSpec{"Process", 25}, TimerSpec{"Weight off", 10}));
  EXPECT_THAT(process->text, HasSubstr("25 min at 12 psi"));
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
  EXPECT_THAT(card->steps[0].text, HasSubstr("8 kg"));
  EXPECT_THAT(card->steps[0].text, Not(HasSubstr("lb")));
}

TEST(AnyCard, OfEveryRouteLeavesNoPlaceholderOpenAndDefersToTheManual) {
  for (const auto& r : the_almanac().routes.all()) {
    const auto card = make_card(the_almanac(), r, r.batch_min_kg, at(500, "weighted"));
    ASSERT_TRUE(card) << r.key << ": " << card.error().message;
    EXPECT_EQ(card->steps.size(), r.stages.size()) << r.key;
    EXPECT_THAT(card->defer_to, HasSubstr("local extension service"));
    for (const Step& s : card->steps) {
      EXPECT_THAT(s.text, Not(testing::AnyOf(HasSubstr("{"), HasSubstr("<"), HasSubstr("  ")))) << r.key;
      EXPECT_GT(s.expected_min, 0) << r.key << " " << s.stage;
    }
    const auto back = card_from_json(to_json(*card));
    ASSERT_TRUE(back) << r.key;
    EXPECT_EQ(*back, *card) << r.key;
  }
}

}  // namespace
}  // namespace stillroom::kitchen
