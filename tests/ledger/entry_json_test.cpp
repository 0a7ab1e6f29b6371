#include <gmock/gmock.h>

#include <fstream>
#include <set>

#include "ledger/detail/entry_fields.h"
#include "ledger/entry.h"
#include "ledger/every_kind.h"
#include "ledger/support.h"

namespace stillroom::ledger::tests {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

std::vector<std::string> stored_lines() {
  std::ifstream in(std::string(STILLROOM_SOURCE_DIR) + "/tests/ledger/older/entries_v1.ndjson");
  std::vector<std::string> lines;
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

std::string fault_in(std::string json) {
  const auto entry = entry_from_json(json);
  return entry ? "read" : entry.error().code + ": " + entry.error().message;
}

std::string with_what(std::string_view kind, std::string_view what) {
  return R"({"v":1,"kind":")" + std::string(kind) +
         R"(","id":"000102030405060708090a0b0c0d0e0f","happened":"2026-09-14T10:00:00Z","what":)" + std::string(what) +
         "}";
}

TEST(EntryJson, EveryLineAnOlderProgramWroteIsStillReadAndWrittenTheSame) {
  const auto lines = stored_lines();
  ASSERT_FALSE(lines.empty());
  for (const std::string& line : lines) {
    const auto entry = entry_from_json(line);
    ASSERT_TRUE(entry) << line << "\n" << entry.error().message;
    EXPECT_EQ(to_json(*entry), line);
  }
}

TEST(EntryJson, TheStoredLinesCoverEveryKind) {
  std::set<std::string> kinds;
  for (const std::string& line : stored_lines()) kinds.insert(kind_of(entry_from_json(line).value().what));
  const std::set<std::string> known(kKindNames.begin(), kKindNames.end());
  EXPECT_EQ(kinds, known);
}

TEST(EntryJson, EveryKindWithEveryFieldSetComesBackEqual) {
  for (const Entry& entry : every_kind()) {
    const auto back = entry_from_json(to_json(entry));
    ASSERT_TRUE(back) << to_json(entry) << "\n" << back.error().message;
    EXPECT_EQ(*back, entry) << to_json(entry);
  }
}

TEST(EntryJson, FieldsThatAKindGotLaterAreWrittenWhereTheySaySomething) {
  StandingPicked ducks{"pond", id_of("B"), kilograms(12), "firm", "porch"};
  for (const char* name : {"form", "note", "facts"}) EXPECT_THAT(to_json(live("1", ducks)), Not(HasSubstr(name)));
  ducks.form = "carcass";
  ducks.note = "to part";
  ducks.facts = {"carcass_middle"};
  const Entry entry = live("1", ducks);
  EXPECT_EQ(entry_from_json(to_json(entry)).value(), entry) << to_json(entry);
}

TEST(EntryJson, MassesAreWrittenInGramsAndComeBackToTheMilligram) {
  BroughtIn lot = plums("A", 0);
  lot.mass = measure::pounds(1);  // 453.59237 g
  const std::string json = to_json(live("1", lot));
  EXPECT_THAT(json, HasSubstr(R"("mass_g":453.592,)"));
  const auto back = entry_from_json(json).value();
  EXPECT_EQ(std::get<BroughtIn>(back.what).mass, kilograms(0.453592));
  EXPECT_EQ(to_json(back), json);
}

TEST(EntryJson, TextWithQuotesLineBreaksAndOtherScriptsComesBack) {
  BroughtIn lot = plums("A", 2);
  lot.note = "\"the far tree\"\n\tžluté švestky \xF0\x9F\x8D\x91";
  const Entry entry = live("1", lot);
  EXPECT_EQ(entry_from_json(to_json(entry)).value(), entry);
}

TEST(EntryJson, TextThatIsNoUtf8IsWrittenReadable) {
  BroughtIn lot = plums("A", 2);
  lot.note = "a\xFFz";
  const auto back = entry_from_json(to_json(live("1", lot)));
  ASSERT_TRUE(back);
  EXPECT_EQ(std::get<BroughtIn>(back->what).note, "a\xEF\xBF\xBDz");
}

TEST(EntryJson, FieldsThatAreLeftOutTakeTheirUsualValue) {
  const auto entry = entry_from_json(
      with_what("brought_in", R"({"parcel":"000102030405060708090a0b0c0d0e0f","crop":"pear","mass_g":1000})"));
  ASSERT_TRUE(entry) << entry.error().message;
  EXPECT_TRUE(entry->live);
  EXPECT_EQ(entry->who, "");
  EXPECT_EQ(std::get<BroughtIn>(entry->what).form, "fresh");
}

TEST(EntryJson, ADayOrIdThatMayBeLeftOutMayBeEmpty) {
  const auto packed = entry_from_json(
      with_what("packed", R"({"batch":"000102030405060708090a0b0c0d0e0f","parcel":"100102030405060708090a0b0c0d0e0f",)"
                          R"("food":"plum","packs":7,"eat_by":""})"));
  ASSERT_TRUE(packed) << packed.error().message;
  EXPECT_EQ(std::get<Packed>(packed->what).eat_by, measure::Date{});
  EXPECT_TRUE(entry_from_json(with_what(
      "timer_set", R"({"timer":"000102030405060708090a0b0c0d0e0f","batch":"","due":"2026-09-14T12:25:00Z"})")));
  EXPECT_THAT(fault_in(with_what("timer_stopped", R"({"timer":""})")), HasSubstr("must be 32 hex digits"));
}

TEST(EntryJson, AMissingFieldIsNamed) {
  EXPECT_EQ(fault_in(with_what("brought_in", R"({"parcel":"000102030405060708090a0b0c0d0e0f","crop":"pear"})")),
            "bad_entry: The entry cannot be read: what.mass_g is missing.");
}

TEST(EntryJson, AMisspeltFieldIsNamedAndNotLostInSilence) {
  EXPECT_THAT(fault_in(with_what("taken", R"({"parcel":"000102030405060708090a0b0c0d0e0f","packs":1,"wy":"soup"})")),
              HasSubstr("what.wy is not a field"));
  EXPECT_THAT(fault_in(R"({"v":1,"kind":"undone","id":"000102030405060708090a0b0c0d0e0f","hapened":"x","what":{}})"),
              HasSubstr("hapened is not a field"));
}

TEST(EntryJson, AFaultInsideAListSaysWhichOne) {
  EXPECT_THAT(fault_in(with_what("sorted", R"({"parcel":"000102030405060708090a0b0c0d0e0f","parts":[
      {"parcel":"100102030405060708090a0b0c0d0e0f","mass_g":1},{"parcel":"1","mass_g":1}]})")),
              HasSubstr("what.parts[1].parcel must be 32 hex digits"));
}

TEST(EntryJson, WrongTypesAreNamed) {
  EXPECT_THAT(fault_in(with_what("equipment_set", R"({"key":"canner","count":"two"})")),
              HasSubstr("what.count must be a number"));
  EXPECT_THAT(fault_in(with_what("settings_changed", R"({"values":{"name":7}})")),
              HasSubstr("what.values.name must be text"));
  EXPECT_THAT(fault_in(with_what("stock_arriving", R"({"item":"lid","amount":1,"day":"2026-02-30"})")),
              HasSubstr("what.day must be a day"));
  EXPECT_THAT(fault_in(with_what("timer_set", R"({"timer":"000102030405060708090a0b0c0d0e0f","due":"soon"})")),
              HasSubstr("what.due must be a moment"));
  EXPECT_THAT(fault_in(with_what("brought_in", "[]")), HasSubstr("what must be an object"));
  EXPECT_THAT(fault_in(with_what("weighed", R"({"parcel":"000102030405060708090a0b0c0d0e0f","mass_g":1e999})")),
              HasSubstr("bad_entry"));
  EXPECT_THAT(fault_in(with_what("weighed", R"({"parcel":"000102030405060708090a0b0c0d0e0f","mass_g":1e13})")),
              HasSubstr("more than a household can hold"));
}

TEST(EntryJson, ANumberThatIsNoneIsNotReadBack) {
  Entry entry = live("1", Taken{id_of("A"), std::numeric_limits<double>::quiet_NaN(), ""});
  EXPECT_THAT(fault_in(to_json(entry)), HasSubstr("what.packs must be a number"));
}

TEST(EntryJson, AnIdOfZerosIsNoId) {
  EXPECT_THAT(fault_in(to_json(Entry{{}, kNoon, "", true, PersonRemoved{"ann"}})), HasSubstr("id must be 32 hex"));
}

TEST(EntryJson, AKindThisProgramDoesNotKnowIsFromANewerOne) {
  EXPECT_THAT(fault_in(with_what("bottled_sunshine", "{}")), HasSubstr("newer_entry"));
}

TEST(EntryJson, ALaterVersionIsFromANewerProgram) {
  EXPECT_THAT(fault_in(R"({"v":2,"kind":"taken","what":{}})"), HasSubstr("newer_entry"));
  EXPECT_THAT(fault_in(R"({"v":0,"kind":"taken","what":{}})"), HasSubstr("bad_entry"));
  EXPECT_THAT(fault_in(R"({"kind":"taken","what":{}})"), HasSubstr("bad_entry"));
}

TEST(EntryJson, WhatIsNoJsonObjectIsRefused) {
  for (const char* text : {"", "null", "[]", "{", "\"taken\"", "{\"v\":1}", "\xFF\xFE"}) {
    EXPECT_THAT(fault_in(text), HasSubstr("bad_entry")) << text;
  }
}

TEST(EntryJson, DeepNestingIsRefusedAndNotFollowed) {
  EXPECT_THAT(fault_in(std::string(200000, '[')), HasSubstr("bad_entry"));
}

}  // namespace
}  // namespace stillroom::ledger::tests
