#include <gmock/gmock.h>

#include "ledger/support.h"

namespace stillroom::ledger::tests {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

/// A household with 10 kg of plums ("in"), 4 kg of them started as batch "K" ("start").
class Undo : public ::testing::Test {
 protected:
  Undo() {
    add(live("cellar", PlaceSet{{"cellar", "Cellar", "cellar", 10, 85, 0}}));
    add(live("fridge", PlaceSet{{"fridge", "Fridge", "fridge", 4, 60, 0}}));
    add(live("in", plums("A", 10)));
  }
  void add(const Entry& e) {
    const auto done = book_.append(e, kNoon);
    ASSERT_TRUE(done) << done.error().message;
  }
  std::string outcome_of(const Entry& e) {
    const auto done = book_.append(e, kNoon);
    return done ? "folded" : done.error().code;
  }
  std::string undo(std::string_view name, std::string_view of) { return outcome_of(live(name, Undone{id_of(of)})); }
  std::vector<Id> with(std::string_view entry) {
    std::vector<Id> ids;
    for (const Entry& e : book_.dependants_of(id_of(entry))) ids.push_back(e.id);
    return ids;
  }
  /// The household, without where in the book it stands.
  [[nodiscard]] State household() const {
    State s = book_.state();
    s.sequence = 0;
    s.last_entry = {};
    return s;
  }
  void TearDown() override { EXPECT_THAT(book_.check(), IsEmpty()); }

  Ledger book_ = Ledger::open(":memory:").value();
};

TEST_F(Undo, OfTheLastEntryGivesTheHouseholdBefore) {
  const State before = household();
  add(live("eat", EatenFresh{id_of("A"), kilograms(2)}));
  EXPECT_FALSE(equal(household(), before));
  ASSERT_EQ(undo("u", "eat"), "folded");
  EXPECT_TRUE(equal(household(), before));
  EXPECT_TRUE(book_.is_undone(id_of("eat")));
  EXPECT_EQ(book_.last_entry()->id, id_of("in"));
}

TEST_F(Undo, TakesBackWhatHangsOnIt) {
  add(live("start", plain_batch("K", "A", 4)));
  add(live("pit", StageStarted{id_of("K"), "pit", ""}));
  add(live("pack", quarts("K", "P", 7, 6)));
  add(live("eat", Taken{id_of("P"), 1, ""}));
  EXPECT_THAT(with("start"), ElementsAre(id_of("pit"), id_of("pack"), id_of("eat")));
  EXPECT_THAT(with("pack"), ElementsAre(id_of("eat")));
  ASSERT_EQ(undo("u", "start"), "folded");
  EXPECT_EQ(parcel(book_.state(), "A").mass, kilograms(10));
  EXPECT_THAT(book_.state().batches, IsEmpty());
  EXPECT_EQ(book_.entries().back(),
            (Entry{id_of("u"), kNoon, "", true, Undone{id_of("start"), {id_of("pit"), id_of("pack"), id_of("eat")}}}))
      << "the undo names what it took back";
}

TEST_F(Undo, LeavesLaterEntriesThatStandWithoutIt) {
  add(live("eat", EatenFresh{id_of("A"), kilograms(1)}));
  add(live("move", Moved{id_of("A"), "cellar"}));
  add(live("start", plum_batch("K", "A", 4)));
  EXPECT_THAT(with("eat"), IsEmpty());
  ASSERT_EQ(undo("u", "eat"), "folded");
  EXPECT_EQ(parcel(book_.state(), "A").mass, kilograms(6));
  EXPECT_EQ(parcel(book_.state(), "A").place, "cellar");
}

TEST_F(Undo, TakesBackWhatIsNoLongerThereToTake) {
  add(live("weigh", Weighed{id_of("A"), kilograms(15)}));
  add(live("little", EatenFresh{id_of("A"), kilograms(2)}));
  add(live("much", EatenFresh{id_of("A"), kilograms(12)}));
  EXPECT_THAT(with("weigh"), ElementsAre(id_of("much")));
}

TEST_F(Undo, OfAPlaceKeepsTheLotsThatLieThere) {
  BroughtIn lot = plums("B", 3);
  lot.place = "cellar";
  add(live("b", lot));
  EXPECT_THAT(with("cellar"), IsEmpty());
  ASSERT_EQ(undo("u", "cellar"), "folded");
  EXPECT_EQ(parcel(book_.state(), "B").place, "cellar");
  EXPECT_EQ(book_.state().discrepancies.front().code, "unknown_place");
}

TEST_F(Undo, OfAnUnknownOrUndoneEntryIsRefused) {
  EXPECT_EQ(undo("u", "nothing"), "unknown_entry");
  ASSERT_EQ(undo("u", "in"), "folded");
  EXPECT_EQ(undo("v", "in"), "already_undone");
  EXPECT_THAT(with("in"), IsEmpty());
}

TEST_F(Undo, CanItselfBeUndone) {
  add(live("start", plum_batch("K", "A", 4)));
  add(live("pit", StageStarted{id_of("K"), "pit", ""}));
  const State before = household();
  ASSERT_EQ(undo("u", "start"), "folded");
  ASSERT_EQ(undo("redo", "u"), "folded");
  EXPECT_TRUE(equal(household(), before));
  EXPECT_FALSE(book_.is_undone(id_of("pit")));
  ASSERT_EQ(undo("again", "redo"), "folded");
  EXPECT_THAT(book_.state().batches, IsEmpty());
}

TEST_F(Undo, UndoneTakesBackWhatCameInBetweenAndNoLongerFits) {
  add(live("start", plum_batch("K", "A", 8)));
  ASSERT_EQ(undo("u", "start"), "folded");
  add(live("eat", EatenFresh{id_of("A"), kilograms(5)}));
  EXPECT_THAT(with("u"), ElementsAre(id_of("eat")));
  ASSERT_EQ(undo("redo", "u"), "folded");
  EXPECT_EQ(parcel(book_.state(), "A").mass, kilograms(2));
  EXPECT_EQ(parcel(book_.state(), "A").eaten, kilograms(0));
}

TEST_F(Undo, UndosAreUndoneLastFirst) {
  add(live("eat", EatenFresh{id_of("A"), kilograms(1)}));
  ASSERT_EQ(undo("u", "eat"), "folded");
  ASSERT_EQ(undo("v", "in"), "folded");
  EXPECT_EQ(undo("w", "u"), "later_undo_stands");
  ASSERT_EQ(undo("w", "v"), "folded");
  ASSERT_EQ(undo("x", "u"), "later_undo_stands") << "the undo of v stands now";
  ASSERT_EQ(undo("x", "w"), "folded");
}

TEST_F(Undo, HeardOfFromAPhoneIsKeptEvenIfItTakesNothingBack) {
  EXPECT_EQ(outcome_of(fact("u", Undone{id_of("nothing")})), "folded");
  ASSERT_EQ(book_.state().discrepancies.size(), 1U);
  EXPECT_EQ(book_.state().discrepancies.front().code, "unknown_entry");
  EXPECT_EQ(outcome_of(fact("v", Undone{id_of("in")})), "folded");
  EXPECT_EQ(outcome_of(fact("w", Undone{id_of("in")})), "folded");
  EXPECT_EQ(book_.state().discrepancies.size(), 2U);
  EXPECT_THAT(book_.state().parcels, IsEmpty());
}

TEST_F(Undo, WhatAnEntryThatIsGoneRaisedIsGoneToo) {
  add(fact("odd", EatenFresh{id_of("X"), kilograms(1)}));
  add(live("settle", DiscrepancySettled{id_of("odd"), "a slip"}));
  EXPECT_THAT(with("odd"), ElementsAre(id_of("settle")));
  ASSERT_EQ(undo("u", "odd"), "folded");
  EXPECT_THAT(book_.state().discrepancies, IsEmpty());
}

TEST_F(Undo, WhatAClientSaysAboutDependantsIsNotUsed) {
  add(live("eat", EatenFresh{id_of("A"), kilograms(1)}));
  ASSERT_EQ(outcome_of(live("u", Undone{id_of("eat"), {id_of("in")}})), "folded");
  EXPECT_EQ(parcel(book_.state(), "A").mass, kilograms(10));
}

TEST_F(Undo, ReachesBackBeyondACheckpoint) {
  // Checkpoints are made every 500 entries: cross two of them, then take back what lies before both.
  for (int i = 0; i < 1100; ++i) {
    add(live("read " + std::to_string(i), TemperatureRead{"cellar", 10, {}}, kNoon - std::chrono::minutes(i)));
  }
  ASSERT_EQ(undo("u", "in"), "folded");
  EXPECT_THAT(book_.state().parcels, IsEmpty());
  ASSERT_EQ(undo("v", "read 1090"), "folded");
  EXPECT_EQ(book_.state().readings.at("cellar").size(), 1099U);
  EXPECT_THAT(book_.check(), IsEmpty());
}

TEST(FoldAll, EqualsFoldingOneByOne) {
  std::vector<Arrived> book;
  State state;
  for (const Entry& e : {live("in", plums("A", 10)), live("start", plain_batch("K", "A", 4)),
                         live("pack", quarts("K", "P", 7, 6)), fact("eat", Taken{id_of("P"), 9, ""})}) {
    ASSERT_TRUE(fold(state, e, kNoon));
    book.push_back({e, kNoon});
  }
  EXPECT_TRUE(equal(fold_all(book), state));
}

}  // namespace
}  // namespace stillroom::ledger::tests
