#include <gmock/gmock.h>

#include "ledger/support.h"

namespace stillroom::ledger::tests {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

/// Furnished, 10 kg of plums as lot "A", 12 quart jars, and batch "K" begun with 4 kg of it.
State with_batch() {
  State s = furnished();
  s.stock["jar_quart"] = 12;
  EXPECT_EQ(outcome(s, live("in", plums("A", 10))), "folded");
  EXPECT_EQ(outcome(s, live("start", plum_batch("K", "A", 4))), "folded");
  return s;
}

void expect_batch_refused(const Entry& e, std::string_view code, const State& s = with_batch()) {
  expect_refused(e, code, s);
}

TEST(Batches, StartingTakesPartOfALot) {
  const State s = with_batch();
  EXPECT_EQ(parcel(s, "A").mass, kilograms(6));
  EXPECT_EQ(parcel(s, "A").state, ParcelState::waiting);
  EXPECT_EQ(parcel(s, "A").used, kilograms(4));
  EXPECT_EQ(still_in(batch(s, "K")), kilograms(4));
  EXPECT_EQ(mass_account(s).in_batches, kilograms(4));
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Batches, ALotThatGoesInWhollyIsUnderwayThenPutBy) {
  State s = with_batch();
  ASSERT_EQ(outcome(s, live("rest", plain_batch("L", "A", 6))), "folded");
  EXPECT_EQ(parcel(s, "A").state, ParcelState::underway);
  EXPECT_EQ(parcel(s, "A").batch, id_of("L"));
  ASSERT_EQ(outcome(s, live("pack", quarts("L", "P", 7, 6))), "folded");
  EXPECT_EQ(parcel(s, "A").state, ParcelState::put_by);
  EXPECT_FALSE(is_here(parcel(s, "A")));
}

TEST(Batches, StockFallsWhenABatchStarts) {
  const State s = with_batch();
  EXPECT_EQ(s.stock.at("jar_quart"), 5);
  EXPECT_EQ(batch(s, "K").stock_taken.at("jar_quart"), 7);
}

TEST(Batches, StockNeverFallsBelowNothing) {
  State s = with_batch();
  ASSERT_EQ(outcome(s, live("second", plum_batch("L", "A", 4))), "folded")
      << "the jars are there, whatever the book says";
  EXPECT_EQ(s.stock.at("jar_quart"), 0);
  ASSERT_EQ(s.discrepancies.size(), 1U);
  EXPECT_EQ(s.discrepancies.front().code, "stock_short");
}

TEST(Batches, StockThatWasNeverCountedIsNotKeptTrackOf) {
  State s = furnished();
  ASSERT_EQ(outcome(s, live("in", plums("A", 10))), "folded");
  ASSERT_EQ(outcome(s, live("start", plum_batch("K", "A", 4))), "folded");
  EXPECT_THAT(s.stock, IsEmpty());
  EXPECT_THAT(s.discrepancies, IsEmpty());
}

TEST(Batches, WhatCannotGoInIsRefused) {
  expect_batch_refused(live("e", plum_batch("L", "A", 7)), "more_than_there");
  expect_batch_refused(live("e", plum_batch("L", "X", 1)), "unknown_parcel");
  expect_batch_refused(live("e", plum_batch("L", "A", 0)), "zero");
  expect_batch_refused(live("e", plum_batch("K", "A", 1)), "batch_exists");
  BatchStarted empty = plum_batch("L", "A", 1);
  empty.inputs.clear();
  expect_batch_refused(live("e", empty), "no_inputs");
  BatchStarted twice = plum_batch("L", "A", 4);
  twice.inputs.push_back(twice.inputs.front());
  expect_batch_refused(live("e", twice), "parcel_twice");
  BatchStarted unread = plum_batch("L", "A", 4);
  unread.steps_json = "{\"packs\":\"seven\"}";
  expect_batch_refused(live("e", unread), "bad_card");
}

TEST(Batches, AFactThatTakesMoreThanThereWasTakesWhatThereWas) {
  State s = with_batch();
  ASSERT_EQ(outcome(s, fact("e", plum_batch("L", "A", 9))), "folded");
  EXPECT_EQ(batch(s, "L").in, kilograms(6));
  EXPECT_EQ(s.discrepancies.front().code, "more_than_there");
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Stages, AStageRunsIsPutDownPickedUpAndFinished) {
  State s = with_batch();
  ASSERT_EQ(outcome(s, live("1", StageStarted{id_of("K"), "pit", "bo"})), "folded");
  EXPECT_EQ(batch(s, "K").current_stage, "pit");
  EXPECT_EQ(batch(s, "K").stage_who.at("pit"), "bo");
  ASSERT_EQ(outcome(s, live("2", StagePutDown{id_of("K"), "pit"})), "folded");
  EXPECT_TRUE(batch(s, "K").put_down);
  ASSERT_EQ(outcome(s, live("3", StageStarted{id_of("K"), "pit", ""})), "folded");
  EXPECT_FALSE(batch(s, "K").put_down);
  ASSERT_EQ(outcome(s, live("4", StageFinished{id_of("K"), "pit"})), "folded");
  EXPECT_EQ(batch(s, "K").current_stage, "");
  EXPECT_TRUE(batch(s, "K").stage_finished.contains("pit"));
}

TEST(Stages, AStageIsNotStartedTwice) {
  State s = with_batch();
  ASSERT_EQ(outcome(s, live("1", StageStarted{id_of("K"), "pit", ""})), "folded");
  expect_batch_refused(live("2", StageStarted{id_of("K"), "pit", ""}), "stage_started_already", s);
  ASSERT_EQ(outcome(s, live("2", StageFinished{id_of("K"), "pit"})), "folded");
  expect_batch_refused(live("3", StageStarted{id_of("K"), "pit", ""}), "stage_started_already", s);
  expect_batch_refused(live("3", StageFinished{id_of("K"), "pit"}), "stage_finished_already", s);
}

TEST(Stages, StartingTheNextStageFinishesTheOneBefore) {
  State s = with_batch();
  ASSERT_EQ(outcome(s, live("1", StageStarted{id_of("K"), "pit", ""})), "folded");
  const Instant later = kNoon + std::chrono::minutes(40);
  ASSERT_EQ(outcome(s, live("2", StageStarted{id_of("K"), "fill", ""}, later), later), "folded");
  EXPECT_EQ(batch(s, "K").stage_finished.at("pit"), later);
  EXPECT_EQ(batch(s, "K").current_stage, "fill");
}

TEST(Stages, WhatTheBatchDoesNotHaveIsRefused) {
  expect_batch_refused(live("e", StageStarted{id_of("K"), "pitt", ""}), "unknown_stage");
  expect_batch_refused(live("e", StageStarted{id_of("X"), "pit", ""}), "unknown_batch");
  expect_batch_refused(live("e", StageStarted{id_of("K"), "pit", "nobody"}), "unknown_person");
  expect_batch_refused(live("e", StagePutDown{id_of("K"), "pit"}), "stage_not_running");
  expect_batch_refused(live("e", StageFinished{id_of("K"), "pit"}), "stage_not_started");
}

TEST(Stages, AFactThatAStageIsFinishedCountsWithoutItsStart) {
  State s = with_batch();
  ASSERT_EQ(outcome(s, fact("e", StageFinished{id_of("K"), "pit"})), "folded");
  EXPECT_TRUE(batch(s, "K").stage_finished.contains("pit"));
  EXPECT_EQ(s.discrepancies.front().code, "stage_not_started");
}

TEST(Abandoning, BeforeTheFirstStageEverythingGoesBack) {
  State s = with_batch();
  ASSERT_EQ(outcome(s, live("e", BatchAbandoned{id_of("K"), "rain", false})), "folded");
  EXPECT_EQ(parcel(s, "A").mass, kilograms(10));
  EXPECT_EQ(s.stock.at("jar_quart"), 12);
  EXPECT_TRUE(batch(s, "K").abandoned);
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Abandoning, AfterAStageTheFoodIsLostUnlessSaidOtherwise) {
  State s = with_batch();
  ASSERT_EQ(outcome(s, live("1", StageStarted{id_of("K"), "pit", ""})), "folded");
  State kept = s;
  ASSERT_EQ(outcome(s, live("2", BatchAbandoned{id_of("K"), "power cut", false})), "folded");
  EXPECT_EQ(parcel(s, "A").mass, kilograms(6));
  EXPECT_EQ(batch(s, "K").lost, kilograms(4));
  EXPECT_EQ(s.stock.at("jar_quart"), 5);
  ASSERT_EQ(outcome(kept, live("2", BatchAbandoned{id_of("K"), "called away", true})), "folded");
  EXPECT_EQ(parcel(kept, "A").mass, kilograms(10));
  EXPECT_THAT(mass_balance(s), IsEmpty());
  EXPECT_THAT(mass_balance(kept), IsEmpty());
}

TEST(Abandoning, SeveralLotsGetBackWhatEachGave) {
  State s = furnished();
  BatchStarted mixed = plum_batch("K", "A", 1.111111);
  for (const char* lot : {"A", "B", "C"}) ASSERT_EQ(outcome(s, live(lot, plums(lot, 1.111111))), "folded");
  mixed.inputs.push_back({id_of("B"), kilograms(0.333333)});
  mixed.inputs.push_back({id_of("C"), kilograms(0.777777)});
  ASSERT_EQ(outcome(s, live("1", mixed)), "folded");
  EXPECT_EQ(parcel(s, "A").state, ParcelState::underway);
  ASSERT_EQ(outcome(s, live("2", BatchAbandoned{id_of("K"), "", true})), "folded");
  for (const char* lot : {"A", "B", "C"}) {
    EXPECT_EQ(parcel(s, lot).mass, kilograms(1.111111)) << lot;
    EXPECT_EQ(parcel(s, lot).state, ParcelState::waiting) << lot;
  }
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Abandoning, AnAbandonedBatchIsOver) {
  State s = with_batch();
  ASSERT_EQ(outcome(s, live("1", BatchAbandoned{id_of("K"), "", false})), "folded");
  expect_batch_refused(live("2", StageStarted{id_of("K"), "pit", ""}), "batch_over", s);
  expect_batch_refused(live("2", BatchAbandoned{id_of("K"), "", false}), "batch_over", s);
  expect_batch_refused(live("2", quarts("K", "P", 7, 4)), "batch_over", s);
}

TEST(Timers, ATimerRingsUntilItIsStopped) {
  State s = with_batch();
  const Instant due = kNoon + std::chrono::minutes(25);
  ASSERT_EQ(outcome(s, live("1", TimerSet{id_of("T"), id_of("K"), "Boil", due})), "folded");
  EXPECT_EQ(s.timers.at(id_of("T")), (Timer{id_of("T"), id_of("K"), "Boil", kNoon, due, false}));
  expect_batch_refused(live("2", TimerSet{id_of("T"), id_of("K"), "Boil", due}), "timer_exists", s);
  ASSERT_EQ(outcome(s, live("2", TimerStopped{id_of("T")})), "folded");
  EXPECT_TRUE(s.timers.at(id_of("T")).stopped);
  EXPECT_EQ(outcome(s, live("3", TimerStopped{id_of("T")})), "folded") << "two phones stop the same timer";
}

TEST(Timers, ThoseOfABatchThatIsGivenUpStopWithIt) {
  State s = with_batch();
  const Instant due = kNoon + std::chrono::minutes(25);
  ASSERT_EQ(outcome(s, live("1", TimerSet{id_of("T"), id_of("K"), "Boil", due})), "folded");
  ASSERT_EQ(outcome(s, live("2", TimerSet{id_of("U"), {}, "Kettle", due})), "folded");
  ASSERT_EQ(outcome(s, live("3", BatchAbandoned{id_of("K"), "called away", true})), "folded");
  EXPECT_TRUE(s.timers.at(id_of("T")).stopped);
  EXPECT_FALSE(s.timers.at(id_of("U")).stopped) << "it belongs to no batch";
}

TEST(Timers, WhatMakesNoSenseIsRefused) {
  expect_batch_refused(live("e", TimerSet{id_of("T"), id_of("X"), "", kNoon}), "unknown_batch");
  expect_batch_refused(live("e", TimerSet{id_of("T"), {}, "", kNoon - std::chrono::minutes(1)}), "negative");
  expect_batch_refused(live("e", TimerSet{{}, {}, "", kNoon}), "timer_exists");
  expect_batch_refused(live("e", TimerStopped{id_of("T")}), "unknown_timer");
}

}  // namespace
}  // namespace stillroom::ledger::tests
