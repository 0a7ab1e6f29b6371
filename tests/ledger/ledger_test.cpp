#include <gmock/gmock.h>

#include <SQLiteCpp/SQLiteCpp.h>

#include <fstream>

#include "ledger/detail/migrations.h"
#include "ledger/every_kind.h"
#include "ledger/support.h"

namespace stillroom::ledger::tests {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

Ledger opened(const std::string& path) {
  auto book = Ledger::open(path);
  EXPECT_TRUE(book) << book.error().message;
  return std::move(*book);
}

TEST(LedgerFile, ReopensToTheSameHousehold) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom");
  State before;
  {
    Ledger book = opened(path);
    for (const Entry& e : every_kind()) {
      Entry told = e;
      told.live = false;
      ASSERT_TRUE(book.append(told, kNoon + std::chrono::hours(1)));
    }
    before = book.state();
    EXPECT_THAT(book.check(), IsEmpty());
  }
  const Ledger again = opened(path);
  EXPECT_TRUE(equal(again.state(), before));
  EXPECT_THAT(again.check(), IsEmpty());
  EXPECT_EQ(again.entries().size(), every_kind().size());
}

TEST(LedgerFile, GivesTheStandingEntriesOfOneKindInOrder) {
  Ledger book = opened(":memory:");
  ASSERT_TRUE(book.append(live("1", plums("A", 1)), kNoon));
  ASSERT_TRUE(book.append(live("2", plums("B", 1)), kNoon));
  ASSERT_TRUE(book.append(live("3", plums("C", 1)), kNoon));
  const auto all = book.standing_of_kind("brought_in");
  ASSERT_EQ(all.size(), 3U);
  ASSERT_TRUE(book.append(live("4", Undone{all[1].id}), kNoon));
  const auto left = book.standing_of_kind("brought_in");
  ASSERT_EQ(left.size(), 2U);
  EXPECT_EQ(left[0], all[0]);
  EXPECT_EQ(left[1], all[2]);
  EXPECT_THAT(book.standing_of_kind("stage_put_down"), IsEmpty());
}

TEST(LedgerFile, LeavesOneFileBehindWhenClosed) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom");
  { ASSERT_TRUE(opened(path).append(live("1", plums("A", 1)), kNoon)); }
  EXPECT_TRUE(std::filesystem::exists(path));
  EXPECT_FALSE(std::filesystem::exists(path + "-wal"));
  EXPECT_FALSE(std::filesystem::exists(path + "-shm"));
}

TEST(LedgerFile, EntriesCannotBeChangedOrRemovedEvenByHand) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom");
  { ASSERT_TRUE(opened(path).append(live("1", plums("A", 1)), kNoon)); }
  SQLite::Database db(path, SQLite::OPEN_READWRITE);
  EXPECT_THROW(db.exec("UPDATE entries SET body = '{}'"), SQLite::Exception);
  EXPECT_THROW(db.exec("DELETE FROM entries"), SQLite::Exception);
  EXPECT_EQ(db.execAndGet("SELECT count(*) FROM entries").getInt(), 1);
}

TEST(LedgerFile, IsReadableByAnySqliteTool) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom");
  { ASSERT_TRUE(opened(path).append(live("1", plums("A", 2)), kNoon)); }
  SQLite::Database db(path);
  EXPECT_EQ(db.execAndGet("PRAGMA application_id").getInt(), 0x5374696C);
  EXPECT_EQ(db.execAndGet("PRAGMA user_version").getInt(), 1);
  EXPECT_EQ(db.execAndGet("SELECT body ->> '$.what.mass_g' FROM entries").getDouble(), 2000);
  EXPECT_EQ(db.execAndGet("SELECT body ->> '$.food' FROM parcels").getString(), "plum");
}

TEST(Append, TheSameEntryTwiceIsOneEntry) {
  Ledger book = opened(":memory:");
  EXPECT_EQ(book.append(live("1", plums("A", 1)), kNoon).value(), 1U);
  EXPECT_EQ(book.append(live("2", plums("B", 1)), kNoon).value(), 2U);
  const State before = book.state();
  EXPECT_EQ(book.append(live("1", plums("A", 1)), kNoon + std::chrono::hours(9)).value(), 1U);
  EXPECT_TRUE(equal(book.state(), before));
  EXPECT_EQ(book.entries().size(), 2U);
}

TEST(Append, AnEntrySentAgainFromTheOutboxIsTheSameEntry) {
  Ledger book = opened(":memory:");
  ASSERT_TRUE(book.append(live("1", plums("A", 1)), kNoon));
  EXPECT_EQ(book.append(fact("1", plums("A", 1)), kNoon).value(), 1U);
  EXPECT_THAT(book.state().discrepancies, IsEmpty());
}

TEST(Append, AnUndoSentAgainIsTheSameUndo) {
  Ledger book = opened(":memory:");
  ASSERT_TRUE(book.append(live("1", plums("A", 1)), kNoon));
  ASSERT_TRUE(book.append(live("2", EatenFresh{id_of("A"), kilograms(1)}), kNoon));
  ASSERT_TRUE(book.append(live("u", Undone{id_of("1")}), kNoon));
  EXPECT_EQ(book.append(live("u", Undone{id_of("1")}), kNoon).value(), 3U);
}

TEST(Append, AnIdThatSaysSomethingElseIsRefusedLiveOrNot) {
  Ledger book = opened(":memory:");
  ASSERT_TRUE(book.append(live("1", plums("A", 1)), kNoon));
  const State before = book.state();
  EXPECT_EQ(book.append(live("1", plums("A", 2)), kNoon).error().code, "id_reused");
  EXPECT_EQ(book.append(fact("1", plums("A", 2)), kNoon).error().code, "id_reused");
  EXPECT_TRUE(equal(book.state(), before));
}

TEST(Append, ARefusedEntryLeavesNothingBehind) {
  Ledger book = opened(":memory:");
  ASSERT_TRUE(book.append(live("1", plums("A", 1)), kNoon));
  const State before = book.state();
  EXPECT_EQ(book.append(live("2", EatenFresh{id_of("A"), kilograms(5)}), kNoon).error().code, "more_than_there");
  EXPECT_TRUE(equal(book.state(), before));
  EXPECT_EQ(book.entries().size(), 1U);
  EXPECT_THAT(book.check(), IsEmpty());
}

TEST(Append, WhatCannotBeWrittenDownIsRefusedEvenAsAFact) {
  Ledger book = opened(":memory:");
  EXPECT_EQ(book.append(fact("1", Taken{id_of("A"), std::numeric_limits<double>::quiet_NaN(), ""}), kNoon).error().code,
            "bad_entry");
  EXPECT_EQ(book.append({{}, kNoon, "", false, plums("A", 1)}, kNoon).error().code, "bad_entry");
  EXPECT_EQ(book.state().sequence, 0U);
}

TEST(Append, ManyAreAllWrittenOrNone) {
  Ledger book = opened(":memory:");
  const State before = book.state();
  const auto refused = book.append_all(
      {live("1", plums("A", 1)), live("2", plums("B", 1)), live("3", EatenFresh{id_of("B"), kilograms(2)})}, kNoon);
  EXPECT_EQ(refused.error().code, "more_than_there");
  EXPECT_TRUE(equal(book.state(), before));
  EXPECT_THAT(book.entries(), IsEmpty());
  EXPECT_EQ(book.append_all({live("1", plums("A", 1)), live("2", plums("B", 1))}, kNoon).value(), 2U);
  EXPECT_THAT(book.check(), IsEmpty());
}

TEST(Append, AnUndoAmongManyIsRolledBackWithThem) {
  Ledger book = opened(":memory:");
  ASSERT_TRUE(book.append(live("1", plums("A", 1)), kNoon));
  const State before = book.state();
  EXPECT_FALSE(book.append_all({live("u", Undone{id_of("1")}), live("2", Undone{id_of("none")})}, kNoon));
  EXPECT_TRUE(equal(book.state(), before));
  EXPECT_FALSE(book.is_undone(id_of("1")));
  EXPECT_THAT(book.check(), IsEmpty());
}

TEST(Append, WhatHappenedEarlierMayArriveLater) {
  Ledger book = opened(":memory:");
  ASSERT_TRUE(book.append(live("1", plums("A", 10)), kNoon));
  ASSERT_TRUE(book.append(fact("3", EatenFresh{id_of("A"), kilograms(1)}, kNoon + std::chrono::hours(2)),
                          kNoon + std::chrono::hours(3)));
  ASSERT_TRUE(book.append(fact("2", Observed{id_of("A"), "soft", {}}, kNoon + std::chrono::hours(1)),
                          kNoon + std::chrono::hours(3)));
  EXPECT_EQ(parcel(book.state(), "A").sights.back().at, kNoon + std::chrono::hours(1));
  EXPECT_EQ(book.state().last_entry, id_of("2")) << "sequence is by arrival";
  EXPECT_THAT(book.check(), IsEmpty());
}

TEST(Append, TheFutureIsJudgedByTheMomentOfArrivalAlsoWhenFoldedAgain) {
  Ledger book = opened(":memory:");
  ASSERT_TRUE(book.append(fact("1", plums("A", 10), kNoon + std::chrono::hours(1)), kNoon));
  EXPECT_EQ(book.state().discrepancies.size(), 1U);
  EXPECT_THAT(book.check(), IsEmpty());
}

TEST(TwoPrograms, SeeWhatTheOtherWrote) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom");
  Ledger server = opened(path), command = opened(path);
  ASSERT_TRUE(server.append(live("1", plums("A", 10)), kNoon));
  EXPECT_TRUE(command.catch_up().value());
  EXPECT_FALSE(command.catch_up().value());
  EXPECT_TRUE(equal(command.state(), server.state()));
  ASSERT_TRUE(command.append(live("2", EatenFresh{id_of("A"), kilograms(9)}), kNoon));
  EXPECT_EQ(server.append(live("3", EatenFresh{id_of("A"), kilograms(9)}), kNoon).error().code, "more_than_there")
      << "judged by what stands in the file, not by what this program remembers";
  ASSERT_TRUE(server.append(live("u", Undone{id_of("2")}), kNoon));
  EXPECT_EQ(command.append(live("v", Undone{id_of("2")}), kNoon).error().code, "already_undone");
  EXPECT_THAT(server.check(), IsEmpty());
}

TEST(Check, SeesATableThatDoesNotFollowFromTheEntries) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom");
  { ASSERT_TRUE(opened(path).append(live("1", plums("A", 1)), kNoon)); }
  {
    SQLite::Database db(path, SQLite::OPEN_READWRITE);
    db.exec("UPDATE parcels SET body = json_set(body, '$.mass_g', 5000)");
    db.exec("INSERT INTO stock (key, body) VALUES ('lid', '{\"value\":9}')");
  }
  Ledger book = opened(path);
  EXPECT_THAT(book.check(),
              ElementsAre("stock lid: no entry made it", "parcels " + id_of("A").hex() + ": mass_g 5000 is 1000.0"));
  ASSERT_TRUE(book.rebuild());
  EXPECT_THAT(book.check(), IsEmpty());
  EXPECT_EQ(parcel(book.state(), "A").mass, kilograms(1));
}

TEST(Check, SeesThatTheGuardsAreGone) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom");
  { opened(path); }
  { SQLite::Database(path, SQLite::OPEN_READWRITE).exec("DROP TRIGGER entries_are_not_removed"); }
  EXPECT_THAT(opened(path).check(), ElementsAre(HasSubstr("no longer guarded")));
}

TEST(Open, TablesMadeInAnotherShapeAreMadeAnewFromTheEntries) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom");
  State before;
  {
    Ledger book = opened(path);
    ASSERT_TRUE(book.append(live("1", plums("A", 1)), kNoon));
    before = book.state();
  }
  {
    SQLite::Database db(path, SQLite::OPEN_READWRITE);
    db.exec("UPDATE made_with SET value = 0; DELETE FROM parcels; INSERT INTO parcels VALUES ('old', '{}')");
  }
  const Ledger book = opened(path);
  EXPECT_TRUE(equal(book.state(), before));
  EXPECT_THAT(book.check(), IsEmpty());
}

TEST(Open, AFileOfTheFirstVersionIsTakenUpFromItsEntriesAlone) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom");
  {
    SQLite::Database db(path, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    db.exec(std::string(detail::migrations().front().sql));
    db.exec("PRAGMA application_id = 0x5374696C; PRAGMA user_version = 1");
    std::ifstream lines(STILLROOM_SOURCE_DIR "/tests/ledger/older/entries_v1.ndjson");
    int sequence = 0;
    for (std::string line; std::getline(lines, line);) {
      SQLite::Statement insert(db,
                               "INSERT INTO entries SELECT ?1, ?2 ->> '$.id', ?2 ->> '$.kind', ?2 ->> '$.happened', "
                               "'2026-09-14T13:00:00Z', ?2, '[]'");
      insert.bind(1, ++sequence);
      insert.bind(2, line);
      insert.exec();
    }
  }
  const Ledger book = opened(path);
  EXPECT_EQ(book.state().sequence, every_kind().size());
  EXPECT_EQ(book.entries(), every_kind());
  EXPECT_EQ(book.state().settings.at("altitude_ft"), "2900");
  EXPECT_THAT(book.check(), IsEmpty());
}

TEST(Open, TablesThatLagBehindTheEntriesAreMadeAnew) {
  const Folder folder;
  const std::string path = folder.file("home.stillroom");
  { ASSERT_TRUE(opened(path).append(live("1", plums("A", 1)), kNoon)); }
  {
    SQLite::Database db(path, SQLite::OPEN_READWRITE);
    db.exec("UPDATE sections SET body = json_set(body, '$.sequence', 0) WHERE key = 'head'");
  }
  EXPECT_THAT(opened(path).check(), IsEmpty());
}

TEST(Entries, AreReadFromAnyPointOn) {
  Ledger book = opened(":memory:");
  for (const char* name : {"A", "B", "C"}) ASSERT_TRUE(book.append(live(name, plums(name, 1)), kNoon));
  ASSERT_EQ(book.entries(1).size(), 2U);
  EXPECT_EQ(book.entries(1).front().id, id_of("B"));
  EXPECT_THAT(book.entries(3), IsEmpty());
}

TEST(LastEntry, IsTheNewestThatStands) {
  Ledger book = opened(":memory:");
  EXPECT_FALSE(book.last_entry());
  for (int i = 0; i < 120; ++i) {
    ASSERT_TRUE(book.append(live(std::to_string(i), StockSet{"lid", static_cast<double>(i)}), kNoon));
  }
  for (int i = 119; i > 2; --i) {
    ASSERT_EQ(book.last_entry()->id, id_of(std::to_string(i)));
    ASSERT_TRUE(book.append(live("u" + std::to_string(i), Undone{id_of(std::to_string(i))}), kNoon));
  }
  EXPECT_EQ(book.state().stock.at("lid"), 2);
  EXPECT_THAT(book.check(), IsEmpty());
}

}  // namespace
}  // namespace stillroom::ledger::tests
