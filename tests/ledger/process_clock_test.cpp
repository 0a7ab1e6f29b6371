#include <gmock/gmock.h>

#include "ledger/support.h"

// Packs are said to be processed only when their process ran its published minutes, whatever else is said.
namespace stillroom::ledger::tests {
namespace {

using std::chrono::minutes;
using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

State with_canning() {
  State s = furnished();
  s.places["freezer"] = {"freezer", "Freezer", "freezer", -18, 60, 200};
  EXPECT_EQ(outcome(s, live("in", plums("A", 20), kNoon - minutes(200))), "folded");
  EXPECT_EQ(outcome(s, live("start", plum_batch("K", "A", 4), kNoon - minutes(180))), "folded");
  return s;
}

/// Two loads of 7 and 4 quarts.
State with_two_loads() {
  State s = with_canning();
  BatchStarted two = plum_batch("L", "A", 6);
  two.steps_json = R"({"packs":11,"process":{"time_min":25},"steps":[{"stage":"pit","can_pause":true},)"
                   R"({"stage":"fill:1","load":1},{"stage":"process:1","load":1,"packs":7,"can_pause":false},)"
                   R"({"stage":"fill:2","load":2},{"stage":"process:2","load":2,"packs":4,"can_pause":false}]})";
  EXPECT_EQ(outcome(s, live("two", two, kNoon - minutes(180))), "folded");
  return s;
}

Entry begin(std::string_view batch, const std::string& stage, int ago) {
  return live("b " + stage + std::to_string(ago), StageStarted{id_of(batch), stage, ""}, kNoon - minutes(ago));
}
Entry finish(std::string_view batch, const std::string& stage, int ago = 0) {
  return live("f " + stage + std::to_string(ago), StageFinished{id_of(batch), stage}, kNoon - minutes(ago));
}
Entry unlive(Entry e) {
  e.live = false;
  return e;
}
TroubleMet trouble(std::string_view batch, std::string fault, std::string outcome) {
  return {.fault = std::move(fault),
          .outcome = std::move(outcome),
          .batch = id_of(batch),
          .stage = "",
          .place = "",
          .parcels = {}};
}

TEST(Processed, ABatchStartedAMomentAgoIsNotPacked) {
  State s = with_canning();
  expect_refused(live("pack", quarts("K", "P", 7, 6)), "not_processed", s);
  const auto folded = fold(s, live("pack", quarts("K", "P", 7, 6)), kNoon);
  ASSERT_FALSE(folded);
  EXPECT_THAT(folded.error().instead, Contains(HasSubstr("when its clock started")));
}

TEST(Processed, AFactOfPackingIsKeptAndFlaggedAndNeverSaidToBeProcessed) {
  State s = with_canning();
  ASSERT_EQ(outcome(s, fact("pack", quarts("K", "P", 7, 6))), "folded");
  EXPECT_EQ(parcel(s, "P").process_json, "");
  EXPECT_THAT(parcel(s, "P").facts, Contains("not_known_processed"));
  EXPECT_EQ(s.discrepancies.back().code, "not_processed");
  expect_refused(live("eat", Taken{id_of("P"), 1, ""}), "do_not_eat", s);
  expect_refused(live("give", GivenAway{id_of("P"), {}, 1, ""}), "do_not_eat", s);
  expect_refused(live("use", plum_batch("J", "P", 1)), "do_not_eat", s);
  EXPECT_EQ(outcome(s, live("throw", ThrownAway{id_of("P"), {}, 7, ""})), "folded");
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Processed, OneMinuteOfTwentyFiveIsNotAProcess) {
  State s = with_canning();
  ASSERT_EQ(outcome(s, begin("K", "process", 1)), "folded");
  const auto early = fold(s, finish("K", "process"), kNoon);
  ASSERT_FALSE(early);
  EXPECT_EQ(early.error().code, "process_too_short");
  EXPECT_THAT(early.error().message, HasSubstr("1 of 25 minutes"));
  EXPECT_THAT(early.error().instead, Contains(HasSubstr("24 minutes more")));
  // Going on to another step is no way round it.
  expect_refused(live("x", StageStarted{id_of("K"), "pit", ""}), "process_too_short", s);
  ASSERT_EQ(outcome(s, unlive(finish("K", "process"))), "folded");
  EXPECT_EQ(s.discrepancies.back().code, "process_too_short");
  expect_refused(live("pack", quarts("K", "P", 7, 6)), "not_processed", s);
}

TEST(Processed, AClockThatRunsAheadDoesNotShortenIt) {
  State s = with_canning();
  ASSERT_EQ(outcome(s, begin("K", "process", 21)), "folded");
  EXPECT_EQ(outcome(s, live("f", StageFinished{id_of("K"), "process"}, kNoon + minutes(4))), "process_too_short");
}

TEST(Processed, ItsTrueStartMayBeSaidAfterwards) {
  State s = with_canning();
  ASSERT_EQ(outcome(s, begin("K", "process", 1)), "folded");
  Entry said = live("said", ClockCorrected{id_of("K"), "process", kNoon - minutes(30)});
  said.who = "ann";
  ASSERT_EQ(outcome(s, said), "folded");
  EXPECT_EQ(batch(s, "K").clock_said.at("process"), "ann");
  ASSERT_EQ(outcome(s, finish("K", "process")), "folded");
  ASSERT_EQ(outcome(s, live("pack", quarts("K", "P", 7, 6))), "folded");
  EXPECT_NE(parcel(s, "P").process_json, "");
}

TEST(Processed, ATrueStartLiesInThePastAndInTheBatch) {
  const State s = with_canning();
  const auto said = [](Instant began, std::string stage = "process") {
    return live("said", ClockCorrected{id_of("K"), std::move(stage), began});
  };
  expect_refused(said(kNoon + minutes(1)), "future", s);
  expect_refused(said(kNoon - minutes(181)), "before_the_batch", s);
  expect_refused(said(kNoon - minutes(30), "pit"), "no_clock", s);
}

TEST(Processed, AClockPutDownStartsAgain) {
  State s = with_canning();
  ASSERT_EQ(outcome(s, begin("K", "process", 30)), "folded");
  ASSERT_EQ(outcome(s, live("down", StagePutDown{id_of("K"), "process"}, kNoon - minutes(20))), "folded");
  expect_refused(finish("K", "process"), "process_too_short", s);
  ASSERT_EQ(outcome(s, begin("K", "process", 10)), "folded");
  expect_refused(finish("K", "process"), "process_too_short", s);
}

TEST(Processed, NothingGetsPastAHoldPointThatIsNotFinished) {
  State s = with_canning();
  BatchStarted broth = plum_batch("L", "A", 6);
  broth.steps_json = R"({"packs":7,"process":{"time_min":25},"steps":[{"stage":"chill"},)"
                     R"({"stage":"look","hold_point":true},{"stage":"fill"},{"stage":"process"}]})";
  ASSERT_EQ(outcome(s, live("broth", broth, kNoon - minutes(180))), "folded");
  ASSERT_EQ(outcome(s, begin("L", "chill", 170)), "folded");
  expect_refused(begin("L", "process", 100), "hold_point", s);
  expect_refused(begin("L", "fill", 100), "hold_point", s);
  const Entry clock = live("clock", ClockCorrected{id_of("L"), "process", kNoon - minutes(90)}, kNoon);
  expect_refused(clock, "hold_point", s);
  // Begun is not seen; going on from it says that it is.
  ASSERT_EQ(outcome(s, begin("L", "look", 60)), "folded");
  ASSERT_EQ(outcome(s, begin("L", "fill", 50)), "folded");
  EXPECT_EQ(outcome(s, begin("L", "process", 40)), "folded");
  // What a phone wrote down out of range has happened: it is kept and comes up.
  State phone = with_canning();
  ASSERT_EQ(outcome(phone, live("broth", broth, kNoon - minutes(180))), "folded");
  ASSERT_EQ(outcome(phone, unlive(begin("L", "process", 100))), "folded");
  EXPECT_EQ(phone.discrepancies.back().code, "hold_point");
}

TEST(Processed, WhatTheCardSaysCannotBePutDownIsNot) {
  State s = with_two_loads();
  ASSERT_EQ(outcome(s, begin("L", "process:1", 30)), "folded");
  const Entry down = live("down", StagePutDown{id_of("L"), "process:1"}, kNoon - minutes(20));
  expect_refused(down, "cannot_be_put_down", s);
  ASSERT_EQ(outcome(s, unlive(down)), "folded");
  EXPECT_TRUE(batch(s, "L").put_down);
  EXPECT_EQ(s.discrepancies.back().code, "cannot_be_put_down");
  expect_refused(finish("L", "process:1"), "process_too_short", s);
}

TEST(Loads, OneLoadGoesOnWhileAnotherIsFilled) {
  State s = with_two_loads();
  ASSERT_EQ(outcome(s, begin("L", "process:1", 40)), "folded");
  ASSERT_EQ(outcome(s, begin("L", "fill:2", 35)), "folded");
  EXPECT_FALSE(batch(s, "L").stage_finished.contains("process:1")) << "the other load is not done by that";
  ASSERT_EQ(outcome(s, finish("L", "process:1", 10)), "folded");
  EXPECT_EQ(batch(s, "L").current_stage, "fill:2");
}

TEST(Loads, OnlyThePacksOfALoadThatIsDoneArePacked) {
  State s = with_two_loads();
  process(s, "L", 25, "process:1");
  expect_refused(live("p", quarts("L", "P", 8, 5)), "not_processed", s);
  ASSERT_EQ(outcome(s, live("p", quarts("L", "P", 7, 5))), "folded");
  expect_refused(live("q", quarts("L", "Q", 1, 1)), "not_processed", s);
  process(s, "L", 25, "process:2");
  ASSERT_EQ(outcome(s, live("q", quarts("L", "Q", 4, 3))), "folded");
  EXPECT_NE(parcel(s, "Q").process_json, "");
}

TEST(Loads, ABatchThatEndedIsNotKnownToBeProcessed) {
  State s = with_canning();
  process(s, "K");
  ASSERT_EQ(outcome(s, live("end", BatchAbandoned{id_of("K"), "", false})), "folded");
  ASSERT_EQ(outcome(s, fact("pack", quarts("K", "P", 7, 6))), "folded");
  EXPECT_THAT(parcel(s, "P").facts, Contains("not_known_processed"));
}

TEST(Troubles, ALoadThatFailedHasItsWholeTimeAgain) {
  State s = with_canning();
  ASSERT_EQ(outcome(s, begin("K", "process", 40)), "folded");
  ASSERT_EQ(outcome(s, live("t", trouble("K", "boil_stopped", "process_again"), kNoon - minutes(20))), "folded");
  EXPECT_FALSE(batch(s, "K").stage_started.contains("process")) << "it is to be started anew";
  expect_refused(live("c", ClockCorrected{id_of("K"), "process", kNoon - minutes(40)}), "before_the_batch", s);
  ASSERT_EQ(outcome(s, begin("K", "process", 19)), "folded");
  expect_refused(finish("K", "process"), "process_too_short", s);
}

State with_packs() {
  State s = with_canning();
  process(s, "K");
  EXPECT_EQ(outcome(s, live("pack", quarts("K", "P", 7, 6.3))), "folded");
  return s;
}

TEST(Troubles, DiscardFlagsThePacks) {
  State s = with_packs();
  ASSERT_EQ(outcome(s, live("t", trouble("K", "wrong_setting", "discard"))), "folded");
  EXPECT_EQ(parcel(s, "P").process_json, "");
  EXPECT_THAT(parcel(s, "P").facts, Contains("do_not_eat"));
  EXPECT_THAT(parcel(s, "P").facts, Contains("wrong_setting"));
  expect_refused(live("eat", Taken{id_of("P"), 1, ""}), "do_not_eat", s);
  EXPECT_EQ(batch(s, "K").troubles.size(), 1U);
}

TEST(Troubles, SomePacksOnlyBecomeAParcelOfTheirOwn) {
  State s = with_packs();
  TroubleMet two{.fault = "mould",
                 .outcome = "discard",
                 .batch = {},
                 .stage = "",
                 .place = "",
                 .parcels = {id_of("P")},
                 .packs = 2};
  ASSERT_EQ(outcome(s, live("t", two)), "folded");
  EXPECT_EQ(parcel(s, "P").packs, 5);
  EXPECT_NE(parcel(s, "P").process_json, "");
  EXPECT_EQ(parcel(s, "t").packs, 2);
  EXPECT_THAT(parcel(s, "t").facts, Contains("do_not_eat"));
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Troubles, PacksProcessedAgainAreFoodAgain) {
  State s = with_packs();
  ASSERT_EQ(outcome(s, live("t", trouble("K", "wrong_process", "process_again"), kNoon)), "folded");
  EXPECT_THAT(parcel(s, "P").facts, Contains("process_again"));
  expect_refused(live("eat", Taken{id_of("P"), 1, ""}), "do_not_eat", s);
  const Instant later = kNoon + minutes(60);
  ASSERT_EQ(outcome(s, live("b", StageStarted{id_of("K"), "process", ""}, kNoon + minutes(30)), later), "folded");
  ASSERT_EQ(outcome(s, live("f", StageFinished{id_of("K"), "process"}, later), later), "folded");
  EXPECT_THAT(parcel(s, "P").facts, Not(Contains("process_again")));
  EXPECT_NE(parcel(s, "P").process_json, "");
  EXPECT_TRUE(parcel(s, "P").seals_unchecked) << "new lids";
}

TEST(Troubles, ChilledFoodIsNoShelfFood) {
  State s = with_canning();
  ASSERT_EQ(outcome(s, live("t", trouble("K", "power_cut_boiling", "chill"))), "folded");
  Packed p = quarts("K", "P", 7, 6);
  p.place = "cellar";
  expect_refused(live("pack", p), "needs_cold", s);
  p.place = "fridge";
  ASSERT_EQ(outcome(s, live("pack", p)), "folded");
  EXPECT_EQ(parcel(s, "P").process_json, "");
  EXPECT_EQ(parcel(s, "P").eat_by, day("2026-09-17"));
  EXPECT_EQ(barred_as_food(parcel(s, "P")), "") << "food, from the fridge, within days";
}

TEST(Troubles, DiscardEndsABatchThatIsUnderway) {
  State s = with_canning();
  ASSERT_EQ(outcome(s, live("t", trouble("K", "meat_warm", "discard"))), "folded");
  EXPECT_TRUE(batch(s, "K").abandoned);
  EXPECT_EQ(batch(s, "K").lost, kilograms(4));
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Troubles, WhatMakesNoSenseIsRefused) {
  const State s = with_packs();
  expect_refused(live("t", trouble("K", "mould", "boil_it")), "bad_value", s);
  expect_refused(live("t", trouble("X", "mould", "discard")), "unknown_batch", s);
  TroubleMet nothing = trouble("K", "mould", "discard");
  nothing.batch = {};
  expect_refused(live("t", nothing), "nothing_named", s);
  TroubleMet step = trouble("K", "boil_stopped", "process_again");
  step.stage = "pit";
  expect_refused(live("t", step), "no_clock", s);
}

}  // namespace
}  // namespace stillroom::ledger::tests
