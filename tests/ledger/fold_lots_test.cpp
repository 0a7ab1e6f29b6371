#include <gmock/gmock.h>

#include "ledger/support.h"

namespace stillroom::ledger::tests {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

/// Furnished, with 10 kg of plums as lot "A" on the porch.
State with_plums() {
  State s = furnished();
  BroughtIn lot = plums("A", 10);
  lot.place = "porch";
  EXPECT_EQ(outcome(s, live("in", lot)), "folded");
  return s;
}

void expect_lot_refused(const Entry& e, std::string_view code, const State& s = with_plums()) {
  expect_refused(e, code, s);
}

TEST(Lots, ALotBroughtInWaitsWhereItWasPut) {
  const State s = with_plums();
  const Parcel& lot = parcel(s, "A");
  EXPECT_EQ(lot.food, "plum");
  EXPECT_EQ(lot.mass, kilograms(10));
  EXPECT_EQ(lot.state, ParcelState::waiting);
  EXPECT_EQ(lot.place, "porch");
  EXPECT_EQ(lot.since, kNoon);
  EXPECT_THAT(lot.sights, ElementsAre(Parcel::Sight{kNoon, "ripe"}));
  EXPECT_EQ(s.sequence, 1U);
  EXPECT_EQ(s.last_entry, id_of("in"));
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Lots, TheSameParcelIsNotBroughtInTwice) { expect_lot_refused(live("again", plums("A", 3)), "parcel_exists"); }

TEST(Lots, ALotOfNothingOrLessIsRefused) {
  expect_lot_refused(live("e", plums("B", 0)), "zero");
  expect_lot_refused(live("e", plums("B", -1)), "negative");
  expect_lot_refused(live("e", plums("B", std::numeric_limits<double>::quiet_NaN())), "negative");
  expect_lot_refused(live("e", plums("B", std::numeric_limits<double>::infinity())), "negative");
  expect_lot_refused(live("e", plums("B", 1e-9)), "zero");
}

TEST(Lots, AnUnknownPlaceIsRefusedWithNamesThatAreNear) {
  State s = with_plums();
  BroughtIn lot = plums("B", 3);
  lot.place = "celar";
  const auto folded = fold(s, live("e", lot), kNoon);
  ASSERT_FALSE(folded);
  EXPECT_EQ(folded.error().code, "unknown_place");
  EXPECT_THAT(folded.error().message, HasSubstr("'celar'"));
  EXPECT_EQ(folded.error().instead.front(), "Did you mean cellar?");
}

TEST(Lots, AnUnknownPersonIsRefusedWithNamesThatAreNear) {
  State s = with_plums();
  Entry e = live("e", plums("B", 3));
  e.who = "anna";
  const auto folded = fold(s, e, kNoon);
  ASSERT_FALSE(folded);
  EXPECT_EQ(folded.error().code, "unknown_person");
  EXPECT_EQ(folded.error().instead.front(), "Did you mean ann?");
}

TEST(Lots, FiveMinutesOfClockSlackAreFine) {
  State s = with_plums();
  EXPECT_EQ(outcome(s, live("e", plums("B", 3), kNoon + std::chrono::minutes(5)), kNoon), "folded");
}

TEST(Lots, WhatLiesFurtherAheadIsRefused) {
  expect_lot_refused(live("e", plums("B", 3), kNoon + std::chrono::minutes(5) + std::chrono::seconds(1)), "future");
}

TEST(Lots, AFactFromTheFutureIsKeptAsOfItsArrival) {
  State s = with_plums();
  EXPECT_EQ(outcome(s, fact("e", plums("B", 3), kNoon + std::chrono::hours(3))), "folded");
  EXPECT_EQ(parcel(s, "B").since, kNoon);
  ASSERT_EQ(s.discrepancies.size(), 1U);
  EXPECT_EQ(s.discrepancies.front().code, "future");
  EXPECT_EQ(s.discrepancies.front().about, id_of("e"));
}

TEST(Lots, SortingSplitsALotAndKeepsItsHistory) {
  State s = with_plums();
  const Instant later = kNoon + std::chrono::hours(2);
  const Sorted sorted{id_of("A"),
                      {{id_of("A1"), kilograms(6), "firm", "cellar"}, {id_of("A2"), kilograms(3), "soft", ""}},
                      kilograms(0.5)};
  ASSERT_EQ(outcome(s, live("sort", sorted, later), later), "folded");
  EXPECT_EQ(parcel(s, "A").mass, kilograms(0.5));
  EXPECT_EQ(parcel(s, "A").thrown, kilograms(0.5));
  EXPECT_EQ(parcel(s, "A").split, kilograms(9));
  const Parcel& firm = parcel(s, "A1");
  EXPECT_EQ(firm.mass, kilograms(6));
  EXPECT_EQ(firm.food, "plum");
  EXPECT_EQ(firm.since, kNoon) << "it was gathered when the lot was";
  EXPECT_THAT(firm.parents, ElementsAre(id_of("A")));
  EXPECT_THAT(firm.sights, ElementsAre(Parcel::Sight{kNoon, "ripe"}, Parcel::Sight{later, "firm"}));
  EXPECT_THAT(firm.stays, ElementsAre(Parcel::Stay{kNoon, "porch"}, Parcel::Stay{later, "cellar"}));
  EXPECT_EQ(parcel(s, "A2").place, "porch");
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Lots, ALotSortedWhollyIsNoLongerWaiting) {
  State s = with_plums();
  const Sorted sorted{id_of("A"), {{id_of("A1"), kilograms(9.995), "firm", ""}}, {}};
  ASSERT_EQ(outcome(s, live("sort", sorted)), "folded");
  EXPECT_EQ(parcel(s, "A").state, ParcelState::let_go);
  EXPECT_FALSE(is_here(parcel(s, "A")));
  EXPECT_EQ(parcel(s, "A1").mass, kilograms(10)) << "what rounding left over goes with the last part";
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Lots, PartsHeavierThanTheLotAreRefused) {
  expect_lot_refused(live("sort", Sorted{id_of("A"), {{id_of("A1"), kilograms(8), "", ""}}, kilograms(2.5)}),
                     "more_than_there");
}

TEST(Lots, PartsNeedIdsOfTheirOwn) {
  expect_lot_refused(live("sort", Sorted{id_of("A"), {{id_of("A"), kilograms(8), "", ""}}, {}}), "parcel_exists");
  expect_lot_refused(
      live("sort", Sorted{id_of("A"), {{id_of("B"), kilograms(4), "", ""}, {id_of("B"), kilograms(4), "", ""}}, {}}),
      "parcel_exists");
}

TEST(Lots, ASortingIntoNothingIsRefused) { expect_lot_refused(live("sort", Sorted{id_of("A"), {}, {}}), "zero"); }

TEST(Lots, AFactThatSortsMoreThanThereWasIsFoldedDownToIt) {
  State s = with_plums();
  const Sorted sorted{
      id_of("A"), {{id_of("A1"), kilograms(8), "firm", ""}, {id_of("A2"), kilograms(8), "soft", ""}}, kilograms(1)};
  ASSERT_EQ(outcome(s, fact("sort", sorted)), "folded");
  EXPECT_EQ(parcel(s, "A1").mass, kilograms(8));
  EXPECT_EQ(parcel(s, "A2").mass, kilograms(2));
  EXPECT_EQ(s.discrepancies.size(), 1U);
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Lots, AMoveAddsAStay) {
  State s = with_plums();
  ASSERT_EQ(outcome(s, live("move", Moved{id_of("A"), "cellar"})), "folded");
  EXPECT_EQ(parcel(s, "A").place, "cellar");
  EXPECT_EQ(parcel(s, "A").stays.size(), 2U);
}

TEST(Lots, AMoveHeardOfLateTakesItsPlaceInTime) {
  State s = with_plums();
  const Instant two = kNoon + std::chrono::hours(2), one = kNoon + std::chrono::hours(1);
  ASSERT_EQ(outcome(s, live("second", Moved{id_of("A"), "fridge"}, two), two), "folded");
  ASSERT_EQ(outcome(s, fact("first", Moved{id_of("A"), "cellar"}, one), two), "folded");
  EXPECT_EQ(parcel(s, "A").place, "fridge") << "the later move stands";
  EXPECT_THAT(parcel(s, "A").stays,
              ElementsAre(Parcel::Stay{kNoon, "porch"}, Parcel::Stay{one, "cellar"}, Parcel::Stay{two, "fridge"}));
}

TEST(Lots, ALookHeardOfLateDoesNotHideALaterLook) {
  State s = with_plums();
  const Instant two = kNoon + std::chrono::hours(2), one = kNoon + std::chrono::hours(1);
  ASSERT_EQ(outcome(s, live("second", Observed{id_of("A"), "soft", {}}, two), two), "folded");
  ASSERT_EQ(outcome(s, fact("first", Observed{id_of("A"), "firm", {}}, one), two), "folded");
  EXPECT_EQ(parcel(s, "A").condition, "soft");
}

TEST(Lots, FactsSeenAreKeptOnceAndForGood) {
  State s = with_plums();
  ASSERT_EQ(outcome(s, live("1", Observed{id_of("A"), "", {"mould"}})), "folded");
  ASSERT_EQ(outcome(s, live("2", Observed{id_of("A"), "ripe", {"mould", "windfall"}})), "folded");
  EXPECT_THAT(parcel(s, "A").facts, ElementsAre("mould", "windfall"));
}

TEST(Lots, WhatIsUnknownCannotBeMovedSeenWeighedOrEaten) {
  expect_lot_refused(live("e", Moved{id_of("X"), "cellar"}), "unknown_parcel");
  expect_lot_refused(live("e", Observed{id_of("X"), "soft", {}}), "unknown_parcel");
  expect_lot_refused(live("e", Weighed{id_of("X"), kilograms(1)}), "unknown_parcel");
  expect_lot_refused(live("e", EatenFresh{id_of("X"), kilograms(1)}), "unknown_parcel");
  expect_lot_refused(live("e", GivenAway{id_of("X"), kilograms(1), 0, ""}), "unknown_parcel");
  expect_lot_refused(live("e", ThrownAway{id_of("X"), kilograms(1), 0, ""}), "unknown_parcel");
  expect_lot_refused(live("e", FedToStock{id_of("X"), kilograms(1)}), "unknown_parcel");
  expect_lot_refused(live("e", Taken{id_of("X"), 1, ""}), "unknown_parcel");
  expect_lot_refused(live("e", Sorted{id_of("X"), {}, kilograms(1)}), "unknown_parcel");
}

TEST(Lots, FoodLeavesByEveryWayAndTheBalanceHolds) {
  State s = with_plums();
  ASSERT_EQ(outcome(s, live("1", EatenFresh{id_of("A"), kilograms(1)})), "folded");
  ASSERT_EQ(outcome(s, live("2", GivenAway{id_of("A"), kilograms(2), 0, "next door"})), "folded");
  ASSERT_EQ(outcome(s, live("3", ThrownAway{id_of("A"), kilograms(0.5), 0, "wasps"})), "folded");
  ASSERT_EQ(outcome(s, live("4", FedToStock{id_of("A"), kilograms(0.7)})), "folded");
  EXPECT_EQ(parcel(s, "A").mass, kilograms(5.8));
  const MassAccount account = mass_account(s);
  EXPECT_EQ(account.brought, kilograms(10));
  EXPECT_EQ(account.here, kilograms(5.8));
  EXPECT_EQ(account.given, kilograms(2));
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Lots, MoreThanIsThereIsRefusedInTheFamilysUnits) {
  State s = with_plums();
  auto folded = fold(s, live("e", EatenFresh{id_of("A"), kilograms(11)}), kNoon);
  ASSERT_FALSE(folded);
  EXPECT_EQ(folded.error().code, "more_than_there");
  EXPECT_THAT(folded.error().message, HasSubstr("22 lb of plum"));
  s.settings["units"] = "metric";
  folded = fold(s, live("e", EatenFresh{id_of("A"), kilograms(11)}), kNoon);
  EXPECT_THAT(folded.error().message, HasSubstr("10 kg of plum"));
}

TEST(Lots, WhatAScaleRoundsUpToStillMeansAllOfIt) {
  State s = with_plums();
  ASSERT_EQ(outcome(s, live("e", EatenFresh{id_of("A"), kilograms(10.04)})), "folded");
  EXPECT_EQ(parcel(s, "A").mass, kilograms(0));
  EXPECT_EQ(parcel(s, "A").eaten, kilograms(10));
  EXPECT_EQ(parcel(s, "A").state, ParcelState::eaten);
}

TEST(Lots, AFactThatEatsMoreThanThereWasEatsWhatThereWas) {
  State s = with_plums();
  ASSERT_EQ(outcome(s, fact("e", EatenFresh{id_of("A"), kilograms(15)})), "folded");
  EXPECT_EQ(parcel(s, "A").eaten, kilograms(10));
  ASSERT_EQ(s.discrepancies.size(), 1U);
  EXPECT_EQ(s.discrepancies.front().thing, id_of("A"));
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Lots, AFactAboutAnUnknownParcelIsNotedAndNothingElse) {
  State s = with_plums();
  const auto parcels = s.parcels;
  ASSERT_EQ(outcome(s, fact("e", EatenFresh{id_of("X"), kilograms(1)})), "folded");
  EXPECT_EQ(s.parcels, parcels);
  EXPECT_EQ(s.discrepancies.size(), 1U);
  EXPECT_EQ(s.sequence, 2U) << "it is in the book";
}

TEST(Lots, AParcelThatIsUpIsUp) {
  State s = with_plums();
  ASSERT_EQ(outcome(s, live("1", GivenAway{id_of("A"), kilograms(10), 0, ""})), "folded");
  EXPECT_EQ(parcel(s, "A").state, ParcelState::let_go);
  expect_lot_refused(live("2", EatenFresh{id_of("A"), kilograms(1)}), "nothing_left", s);
  expect_lot_refused(live("2", Moved{id_of("A"), "cellar"}), "nothing_left", s);
}

TEST(Lots, TheScalesCorrectTheBookBothWays) {
  State s = with_plums();
  ASSERT_EQ(outcome(s, live("1", Weighed{id_of("A"), kilograms(9.2)})), "folded");
  EXPECT_EQ(parcel(s, "A").adjusted, kilograms(0.8));
  ASSERT_EQ(outcome(s, live("2", Weighed{id_of("A"), kilograms(11)})), "folded");
  EXPECT_EQ(parcel(s, "A").adjusted, kilograms(-1));
  EXPECT_THAT(s.discrepancies, IsEmpty());
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(Lots, WeighingWhatTheBookHasEatenBringsItBackAndAsksWhy) {
  State s = with_plums();
  ASSERT_EQ(outcome(s, live("1", EatenFresh{id_of("A"), kilograms(10)})), "folded");
  ASSERT_EQ(outcome(s, live("2", Weighed{id_of("A"), kilograms(2)})), "folded");
  EXPECT_EQ(parcel(s, "A").state, ParcelState::waiting);
  EXPECT_EQ(s.discrepancies.size(), 1U);
  EXPECT_THAT(mass_balance(s), IsEmpty());
}

TEST(StandingCrops, PickingMakesALotAndClosesTheRow) {
  State s = furnished();
  const StandingSet row{"far-tree", "pear", kilograms(40), day("2026-09-10"), day("2026-10-01"), 2, ""};
  ASSERT_EQ(outcome(s, live("1", row)), "folded");
  ASSERT_EQ(outcome(s, live("2", StandingPicked{"far-tree", id_of("B"), kilograms(35), "firm", "porch"})), "folded");
  EXPECT_EQ(parcel(s, "B").food, "pear");
  EXPECT_TRUE(s.standing.at("far-tree").picked);
  expect_lot_refused(live("3", StandingPicked{"far-tree", id_of("C"), kilograms(1), "firm", "porch"}), "already_picked",
                     s);
}

TEST(StandingCrops, PickingInTurnsLeavesTheRest) {
  State s = furnished();
  const StandingSet row{"vines", "tomato", kilograms(30), day("2026-08-10"), day("2026-10-01"), 2, ""};
  ASSERT_EQ(outcome(s, live("1", row)), "folded");
  StandingPicked pick{"vines", id_of("B"), kilograms(12), "ripe", "porch"};
  pick.more_to_come = true;
  ASSERT_EQ(outcome(s, live("2", pick)), "folded");
  EXPECT_FALSE(s.standing.at("vines").picked);
  EXPECT_EQ(s.standing.at("vines").set.expected, kilograms(18));
}

TEST(StandingCrops, WhatIsButcheredKeepsItsFormItsNoteAndItsClock) {
  State s = furnished();
  ASSERT_EQ(
      outcome(s, live("1", StandingSet{"pond", "duck", kilograms(20), day("2026-09-10"), day("2026-10-01"), 9, ""})),
      "folded");
  StandingPicked butchered{"pond", id_of("B"), kilograms(12), "firm", "porch"};
  butchered.form = "carcass";
  butchered.note = "to part";
  butchered.facts = {"carcass_middle"};
  ASSERT_EQ(outcome(s, live("2", butchered)), "folded");
  EXPECT_EQ(parcel(s, "B").form, "carcass");
  EXPECT_EQ(parcel(s, "B").note, "to part");
  EXPECT_THAT(parcel(s, "B").facts, ElementsAre("carcass_middle"));
}

TEST(StandingCrops, AnUnknownRowIsRefusedAndAFactAboutItStillBringsFoodIn) {
  State s = furnished();
  const StandingPicked pick{"far-tre", id_of("B"), kilograms(12), "ripe", "porch"};
  expect_lot_refused(live("1", pick), "unknown_standing", s);
  ASSERT_EQ(outcome(s, fact("1", pick)), "folded");
  EXPECT_EQ(parcel(s, "B").mass, kilograms(12));
  EXPECT_EQ(s.discrepancies.size(), 1U);
}

}  // namespace
}  // namespace stillroom::ledger::tests
