#include <gmock/gmock.h>

#include "ledger/support.h"

namespace stillroom::ledger::tests {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

State with_windfalls() {
  State s = furnished();
  BroughtIn lot = plums("A", 10);
  lot.facts = {"windfall"};
  EXPECT_EQ(outcome(s, live("in", lot)), "folded");
  EXPECT_EQ(outcome(s, live("start", plum_batch("K", "A", 4))), "folded");
  process(s, "K");
  return s;
}

/// 7 quarts, 6.3 kg, as parcel "P".
State with_quarts() {
  State s = with_windfalls();
  EXPECT_EQ(outcome(s, live("pack", quarts("K", "P", 7, 6.3))), "folded");
  return s;
}

TEST(Packing, PacksDescendFromTheBatchAndItsLots) {
  const State s = with_quarts();
  const Parcel& p = parcel(s, "P");
  EXPECT_EQ(p.state, ParcelState::put_by);
  EXPECT_THAT(p.parents, ElementsAre(id_of("A")));
  EXPECT_EQ(p.made_by, id_of("K"));
  EXPECT_EQ(p.process_json, R"({"id":"plum-quart","time_min":25})") << "as frozen when the batch started";
  EXPECT_TRUE(p.seals_unchecked);
  EXPECT_THAT(p.facts, ElementsAre("windfall"));
  EXPECT_EQ(p.eat_by, day("2027-09-14"));
  EXPECT_TRUE(batch(s, "K").finished);
  EXPECT_THAT(batch(s, "K").packed, ElementsAre(id_of("P")));
}

TEST(Packing, SyrupIsBookedAsAdded) {
  const State s = with_quarts();
  EXPECT_EQ(batch(s, "K").added, kilograms(2.3));
  EXPECT_EQ(batch(s, "K").lost, kilograms(0));
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Packing, PeelAndStonesAreBookedAsLost) {
  State s = with_windfalls();
  ASSERT_EQ(outcome(s, live("pack", quarts("K", "P", 7, 3.2))), "folded");
  EXPECT_EQ(batch(s, "K").lost, kilograms(0.8));
  EXPECT_EQ(mass_account(s).lost, kilograms(0.8));
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Packing, ASecondKindOfPackMakesUpForWhatWasThoughtLost) {
  State s = with_windfalls();
  ASSERT_EQ(outcome(s, live("1", quarts("K", "P", 5, 3))), "folded");
  ASSERT_EQ(outcome(s, live("2", quarts("K", "Q", 1, 0.6))), "folded");
  EXPECT_EQ(batch(s, "K").lost, kilograms(0.4));
  EXPECT_EQ(batch(s, "K").packs_made, 6);
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Packing, AMassThatIsNotSaidIsAllTheBatchHolds) {
  State s = with_windfalls();
  ASSERT_EQ(outcome(s, live("pack", quarts("K", "P", 7, 0))), "folded");
  EXPECT_EQ(parcel(s, "P").mass, kilograms(4));
}

TEST(Packing, WhatIsPackedWithoutAProcessHasNoSealsToCheck) {
  State s = with_windfalls();
  BatchStarted freezing = plum_batch("F", "A", 3);
  freezing.steps_json = R"({"packs":6,"process":null})";
  ASSERT_EQ(outcome(s, live("1", freezing)), "folded");
  ASSERT_EQ(outcome(s, live("2", quarts("F", "P", 6, 2.8))), "folded");
  EXPECT_EQ(parcel(s, "P").process_json, "");
  EXPECT_FALSE(parcel(s, "P").seals_unchecked);
}

TEST(Packing, WhatComesOutLooseIsResting) {
  State s = with_windfalls();
  ASSERT_EQ(outcome(s, live("pack", quarts("K", "P", 0, 3.9))), "folded");
  EXPECT_EQ(parcel(s, "P").state, ParcelState::resting);
}

TEST(Packing, MorePacksThanTheBatchCanHaveMadeAreRefused) {
  expect_refused(live("pack", quarts("K", "P", 13, 6)), "more_packs_than_made", with_windfalls());
  State s = with_windfalls();
  EXPECT_EQ(outcome(s, live("pack", quarts("K", "P", 12, 6))), "folded")
      << "7 expected: 1.5 times and 2 more is the bound";
}

TEST(Packing, TheBoundCountsEveryPackOfTheBatch) {
  State s = with_windfalls();
  ASSERT_EQ(outcome(s, live("1", quarts("K", "P", 10, 4))), "folded");
  expect_refused(live("2", quarts("K", "Q", 3, 1)), "more_packs_than_made", s);
}

TEST(Packing, MoreMassThanTheBatchCanHaveMadeIsRefused) {
  expect_refused(live("pack", quarts("K", "P", 7, 70)), "more_than_made", with_windfalls());
}

TEST(Packing, WhatCannotBeIsRefused) {
  expect_refused(live("e", quarts("X", "P", 7, 6)), "unknown_batch", with_windfalls());
  expect_refused(live("e", quarts("K", "A", 7, 6)), "parcel_exists", with_windfalls());
  expect_refused(live("e", quarts("K", "P", -1, 6)), "negative", with_windfalls());
  expect_refused(live("e", quarts("K", "P", 7, -6)), "negative", with_windfalls());
  Packed lost = quarts("K", "P", 7, 6);
  lost.place = "attic";
  expect_refused(live("e", lost), "unknown_place", with_windfalls());
}

TEST(Packing, ACodeIsOnOneShelfOnly) {
  State s = with_windfalls();
  Packed first = quarts("K", "P", 5, 3), second = quarts("K", "Q", 2, 1);
  first.code = second.code = "7K3QD-4";
  ASSERT_EQ(outcome(s, live("1", first)), "folded");
  expect_refused(live("2", second), "code_in_use", s);
  ASSERT_EQ(outcome(s, live("2", Taken{id_of("P"), 5, ""})), "folded");
  EXPECT_EQ(outcome(s, live("3", second)), "folded") << "free again when the last jar is eaten";
}

TEST(Packing, TwoPhonesWithoutASignalThatWroteTheSameCodeEndWithTwoCodes) {
  State s = with_windfalls();
  Packed first = quarts("K", "P", 3, 1), second = quarts("K", "Q", 2, 1), third = quarts("K", "R", 2, 1);
  first.code = second.code = third.code = "7K3QD-4";
  EXPECT_EQ(outcome(s, fact("1", first)), "folded");
  EXPECT_TRUE(s.discrepancies.empty());
  EXPECT_EQ(outcome(s, fact("2", second)), "folded");
  EXPECT_EQ(outcome(s, fact("3", third)), "folded");
  EXPECT_EQ(parcel(s, "P").code, "7K3QD-4");
  EXPECT_EQ(parcel(s, "Q").code, "7K3QD-4/2");
  EXPECT_EQ(parcel(s, "R").code, "7K3QD-4/3");
  ASSERT_EQ(s.discrepancies.size(), 2U);
  EXPECT_EQ(s.discrepancies.front().code, "code_in_use");
  EXPECT_THAT(s.discrepancies.front().what, HasSubstr("write /2 on their labels"));
}

TEST(Packing, AFactAboutAnUnknownBatchStillPutsJarsOnTheShelf) {
  State s = with_windfalls();
  ASSERT_EQ(outcome(s, fact("e", quarts("X", "P", 7, 6))), "folded");
  EXPECT_EQ(parcel(s, "P").packs, 7);
  EXPECT_THAT(parcel(s, "P").parents, IsEmpty());
  EXPECT_EQ(s.discrepancies.front().code, "unknown_batch");
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Packing, PacksFromBeforeTheBookAreBroughtIntoIt) {
  State s = furnished();
  PutByBefore old{.parcel = id_of("Q"), .food = "bean", .form = "canned", .pack = "pint jar", .packs = 12};
  expect_refused(live("e", old), "zero", s);
  old.mass = kilograms(5.4);
  ASSERT_EQ(outcome(s, live("e", old)), "folded");
  EXPECT_EQ(parcel(s, "Q").state, ParcelState::put_by);
  EXPECT_EQ(parcel(s, "Q").process_json, "") << "nobody knows how they were processed";
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Seals, AllSealedIsAllWell) {
  State s = with_quarts();
  ASSERT_EQ(outcome(s, live("seals", SealChecked{id_of("P"), 7, 0})), "folded");
  EXPECT_FALSE(parcel(s, "P").seals_unchecked);
  EXPECT_EQ(parcel(s, "P").packs, 7);
}

TEST(Seals, FailedLidsGoToTheFridgeToBeEatenFirst) {
  State s = with_quarts();
  const Instant morning = kNoon + std::chrono::hours(20);
  ASSERT_EQ(outcome(s, live("seals", SealChecked{id_of("P"), 5, 2}, morning), morning), "folded");
  EXPECT_EQ(parcel(s, "P").packs, 5);
  EXPECT_EQ(parcel(s, "P").mass, kilograms(4.5));
  const Parcel& loose = parcel(s, "seals");
  EXPECT_EQ(loose.packs, 2);
  EXPECT_EQ(loose.mass, kilograms(1.8));
  EXPECT_EQ(loose.place, "fridge");
  EXPECT_THAT(loose.facts, ElementsAre("windfall", "unsealed"));
  EXPECT_EQ(loose.eat_by, day("2026-09-18"));
  EXPECT_EQ(loose.process_json, "") << "without a seal it is not shelf food";
  EXPECT_THAT(loose.parents, ElementsAre(id_of("P")));
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Seals, LidsFoundLooseAfterADayAreInDoubt) {
  State s = with_quarts();
  const Instant late = kNoon + std::chrono::hours(25);
  ASSERT_EQ(outcome(s, live("seals", SealChecked{id_of("P"), 6, 1}, late), late), "folded");
  EXPECT_THAT(parcel(s, "seals").facts, ElementsAre("windfall", "unsealed", "in_doubt"));
  EXPECT_EQ(parcel(s, "seals").eat_by, day("2026-09-15")) << "not a day more";
}

TEST(Seals, SealedAndFailedMustBeAllOfThem) {
  expect_refused(live("e", SealChecked{id_of("P"), 6, 0}), "seals_do_not_add_up", with_quarts());
  expect_refused(live("e", SealChecked{id_of("P"), 6, 2}), "seals_do_not_add_up", with_quarts());
  expect_refused(live("e", SealChecked{id_of("P"), 8, -1}), "negative", with_quarts());
}

TEST(Seals, ASealIsCheckedOnce) {
  State s = with_quarts();
  ASSERT_EQ(outcome(s, live("1", SealChecked{id_of("P"), 7, 0})), "folded");
  expect_refused(live("2", SealChecked{id_of("P"), 6, 1}), "nothing_to_check", s);
  ASSERT_EQ(outcome(s, fact("2", SealChecked{id_of("P"), 6, 1})), "folded");
  EXPECT_THAT(parcel(s, "2").facts, ElementsAre("windfall", "unsealed", "in_doubt"));
}

TEST(Larder, TakingPacksOutEatsThem) {
  State s = with_quarts();
  ASSERT_EQ(outcome(s, live("1", Taken{id_of("P"), 3, "Sunday"})), "folded");
  EXPECT_EQ(parcel(s, "P").packs, 4);
  EXPECT_EQ(parcel(s, "P").mass, kilograms(3.6));
  ASSERT_EQ(outcome(s, live("2", Taken{id_of("P"), 4, ""})), "folded");
  EXPECT_EQ(parcel(s, "P").state, ParcelState::eaten);
  EXPECT_EQ(parcel(s, "P").eaten, kilograms(6.3));
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Larder, MorePacksThanThereAreRefused) {
  State s = with_quarts();
  const auto folded = fold(s, live("e", Taken{id_of("P"), 8, ""}), kNoon);
  ASSERT_FALSE(folded);
  EXPECT_EQ(folded.error().code, "more_than_there");
  EXPECT_EQ(folded.error().message, "Only 7 quart jars of plum left, not 8.");
  expect_refused(live("e", Taken{id_of("P"), 0, ""}), "zero", s);
  expect_refused(live("e", Taken{id_of("P"), -1, ""}), "negative", s);
}

TEST(Larder, ThirdsOfABagAddUpToABag) {
  State s = with_quarts();
  for (const char* name : {"1", "2", "3"}) {
    ASSERT_EQ(outcome(s, live(name, Taken{id_of("P"), 7.0 / 3, ""})), "folded") << name;
  }
  EXPECT_EQ(parcel(s, "P").packs, 0);
  EXPECT_EQ(parcel(s, "P").mass, kilograms(0));
  EXPECT_EQ(parcel(s, "P").state, ParcelState::eaten);
}

TEST(Larder, ALooseLotHasNoPacksToTake) {
  expect_refused(live("e", Taken{id_of("A"), 1, ""}), "not_in_packs", with_quarts());
  expect_refused(live("e", Counted{id_of("A"), 1}), "not_in_packs", with_quarts());
}

TEST(Larder, PacksAreNotSorted) {
  expect_refused(live("e", Sorted{id_of("P"), {{id_of("P1"), kilograms(1), "", ""}}, {}}), "not_loose", with_quarts());
}

TEST(Larder, TheCountWinsAndTheDifferenceIsNoted) {
  State s = with_quarts();
  ASSERT_EQ(outcome(s, live("count", Counted{id_of("P"), 5})), "folded");
  EXPECT_EQ(parcel(s, "P").packs, 5);
  EXPECT_EQ(parcel(s, "P").mass, kilograms(4.5));
  EXPECT_EQ(parcel(s, "P").adjusted, kilograms(1.8));
  ASSERT_EQ(s.discrepancies.size(), 1U);
  EXPECT_EQ(s.discrepancies.front().what, "5 quart jars of plum were counted where the book had 7.");
  EXPECT_EQ(s.discrepancies.front().thing, id_of("P"));
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Larder, ACountThatAgreesIsNoDiscrepancy) {
  State s = with_quarts();
  ASSERT_EQ(outcome(s, live("count", Counted{id_of("P"), 7})), "folded");
  EXPECT_THAT(s.discrepancies, IsEmpty());
}

TEST(Larder, ACountFindsWhatTheBookHadEaten) {
  State s = with_quarts();
  ASSERT_EQ(outcome(s, live("1", Taken{id_of("P"), 7, ""})), "folded");
  ASSERT_EQ(outcome(s, live("2", Counted{id_of("P"), 2})), "folded");
  EXPECT_EQ(parcel(s, "P").mass, kilograms(1.8)) << "at what a jar weighed when it was filled";
  EXPECT_EQ(parcel(s, "P").state, ParcelState::put_by);
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Larder, ACountNoShelfCouldHoldIsRefused) {
  expect_refused(live("e", Counted{id_of("P"), 900000}), "more_than_made", with_quarts());
  State s = with_quarts();
  ASSERT_EQ(outcome(s, fact("e", Counted{id_of("P"), 900000})), "folded");
  EXPECT_EQ(parcel(s, "P").packs, 7);
  EXPECT_EQ(s.discrepancies.size(), 1U);
}

TEST(Larder, ACountOfNoneIsAnAnswer) {
  State s = with_quarts();
  ASSERT_EQ(outcome(s, live("count", Counted{id_of("P"), 0})), "folded");
  EXPECT_EQ(parcel(s, "P").state, ParcelState::let_go);
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Larder, PacksAreGivenAndThrownAwayByNumber) {
  State s = with_quarts();
  ASSERT_EQ(outcome(s, live("1", GivenAway{id_of("P"), {}, 2, "the school"})), "folded");
  ASSERT_EQ(outcome(s, live("2", ThrownAway{id_of("P"), {}, 1, "bulging lid"})), "folded");
  EXPECT_EQ(parcel(s, "P").packs, 4);
  EXPECT_EQ(parcel(s, "P").given, kilograms(1.8));
  EXPECT_EQ(parcel(s, "P").thrown, kilograms(0.9));
}

TEST(Larder, FrozenFoodGoesIntoALaterBatchPackByPack) {
  State s = with_quarts();
  ASSERT_EQ(outcome(s, live("1", plum_batch("J", "P", 2.7))), "folded");
  EXPECT_EQ(parcel(s, "P").packs, 4);
  EXPECT_EQ(parcel(s, "P").used, kilograms(2.7));
  EXPECT_EQ(parcel(s, "P").batch, id_of("K")) << "still the batch that made it";
  process(s, "J");
  ASSERT_EQ(outcome(s, live("2", quarts("J", "R", 3, 2.5))), "folded");
  EXPECT_THAT(parcel(s, "R").parents, ElementsAre(id_of("P")));
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

// The order in which devices come back in range is no order of what happened.

TEST(LateFacts, AJarTakenBeforeTheCountIsNotTakenAgain) {
  State s = furnished();
  ASSERT_TRUE(fold(
      s, live("jars", PutByBefore{.parcel = id_of("jars"), .food = "bean", .packs = 10, .mass = kilograms(5)}), kNoon));
  const Instant later = kNoon + std::chrono::hours(3);
  ASSERT_TRUE(fold(s, fact("count", Counted{id_of("jars"), 7}, kNoon + std::chrono::hours(2)), later));
  ASSERT_TRUE(fold(s, fact("take", Taken{id_of("jars"), 2, ""}, kNoon + std::chrono::hours(1)), later));
  const Parcel& p = s.parcels.at(id_of("jars"));
  EXPECT_EQ(p.packs, 7);
  EXPECT_EQ(p.mass, kilograms(3.5));
  EXPECT_EQ(p.eaten, kilograms(1));       // the two that were taken
  EXPECT_EQ(p.adjusted, kilograms(0.5));  // and one nobody knows of
  EXPECT_TRUE(mass_balance(s).empty());
}

TEST(LateFacts, ACountHeardOfLateLeavesWhatWasTakenSince) {
  State s = furnished();
  ASSERT_TRUE(fold(
      s, live("jars", PutByBefore{.parcel = id_of("jars"), .food = "bean", .packs = 10, .mass = kilograms(5)}), kNoon));
  const Instant later = kNoon + std::chrono::hours(3);
  ASSERT_TRUE(fold(s, fact("take", Taken{id_of("jars"), 2, ""}, kNoon + std::chrono::hours(2)), later));
  ASSERT_TRUE(fold(s, fact("count", Counted{id_of("jars"), 9}, kNoon + std::chrono::hours(1)), later));
  EXPECT_EQ(s.parcels.at(id_of("jars")).packs, 7);
  ASSERT_EQ(s.discrepancies.size(), 1U);
  EXPECT_EQ(s.discrepancies[0].what, "9 packs of bean were counted where the book had 10.");
}

TEST(LateFacts, WhatWentIntoABatchSinceStaysThere) {
  State s = furnished();
  ASSERT_TRUE(fold(s, live("in", plums("A", 10)), kNoon));
  ASSERT_TRUE(
      fold(s, live("batch", plum_batch("B", "A", 8), kNoon + std::chrono::hours(2)), kNoon + std::chrono::hours(2)));
  const Instant later = kNoon + std::chrono::hours(3);
  // Eaten before the batch took its eight: there were more than ten to begin with.
  ASSERT_TRUE(fold(s, fact("eat", EatenFresh{id_of("A"), kilograms(3)}, kNoon + std::chrono::hours(1)), later));
  const Parcel& p = s.parcels.at(id_of("A"));
  EXPECT_EQ(p.used, kilograms(8));
  EXPECT_EQ(p.eaten, kilograms(3));
  EXPECT_EQ(p.mass, Mass{});
  EXPECT_EQ(p.adjusted, kilograms(-1));
  EXPECT_TRUE(mass_balance(s).empty());
}

}  // namespace
}  // namespace stillroom::ledger::tests
