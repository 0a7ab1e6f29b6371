#include <gmock/gmock.h>

#include "ledger/support.h"

namespace stillroom::ledger::tests {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;
using ::testing::SizeIs;

void expect_refused(const Entry& e, std::string_view code, State s = furnished()) {
  const State before = s;
  EXPECT_EQ(outcome(s, e), code);
  EXPECT_TRUE(equal(s, before)) << "a refusal left something behind";
}

TEST(Settings, ASettingIsSetChangedAndCleared) {
  State s;
  ASSERT_EQ(outcome(s, live("1", SettingsChanged{{{"name", "Hill House"}, {"altitude_ft", "2900"}}})), "folded");
  ASSERT_EQ(outcome(s, live("2", SettingsChanged{{{"altitude_ft", ""}}})), "folded");
  EXPECT_THAT(s.settings, ElementsAre(std::pair<const std::string, std::string>{"name", "Hill House"}));
}

TEST(Settings, AnAltitudeThatIsNoNumberOrNoGroundIsRefused) {
  for (const char* feet : {"high", "2900 ft", "1e9", "-2000", "nan", " 2900"}) {
    expect_refused(live("e", SettingsChanged{{{"altitude_ft", feet}}}), "bad_setting");
  }
}

TEST(Settings, AFactWithABadAltitudeChangesTheRestOnly) {
  State s;
  ASSERT_EQ(outcome(s, fact("e", SettingsChanged{{{"altitude_ft", "high"}, {"name", "Hill House"}}})), "folded");
  EXPECT_FALSE(s.settings.contains("altitude_ft"));
  EXPECT_EQ(s.settings.at("name"), "Hill House");
  EXPECT_THAT(s.discrepancies, SizeIs(1));
}

TEST(People, TheFirstPersonWritesThemselvesDown) {
  State s;
  Entry first = live("1", PersonSet{{.key = "cy", .name = "Cy"}});
  first.who = "cy";
  EXPECT_EQ(outcome(s, first), "folded");
  EXPECT_TRUE(s.people.contains("cy"));
}

TEST(People, WhoIsRemovedIsNoLongerHere) {
  State s = furnished();
  ASSERT_EQ(outcome(s, live("1", PersonRemoved{"bo"})), "folded");
  EXPECT_FALSE(s.people.contains("bo"));
  expect_refused(live("2", PersonRemoved{"bo"}), "unknown_person", s);
}

TEST(People, ImpossiblePeopleAreRefused) {
  expect_refused(live("e", PersonSet{{.key = "", .name = "Nobody"}}), "bad_name");
  expect_refused(live("e", PersonSet{{.key = "cy", .age = -1}}), "bad_value");
  expect_refused(live("e", PersonSet{{.key = "cy", .free = {{0, std::nullopt, 700, 600}}}}), "bad_value");
  expect_refused(live("e", PersonSet{{.key = "cy", .free = {{-1, std::nullopt, 600, 700}}}}), "bad_value");
  expect_refused(live("e", PersonSet{{.key = "cy", .usable_minutes_per_hour = 61}}), "bad_value");
}

TEST(Places, ImpossiblePlacesAreRefused) {
  expect_refused(live("e", PlaceSet{{.key = ""}}), "bad_name");
  expect_refused(live("e", PlaceSet{{.key = "pit", .temp_c = 400}}), "bad_value");
  expect_refused(live("e", PlaceSet{{.key = "pit", .humidity_pct = 130}}), "bad_value");
  expect_refused(live("e", PlaceSet{{.key = "pit", .capacity = -1}}), "bad_value");
}

TEST(Stock, CountingSettlesWhatWasDueByThatDay) {
  State s;
  ASSERT_EQ(outcome(s, live("1", StockArriving{"lid", 144, day("2026-09-14")})), "folded");
  ASSERT_EQ(outcome(s, live("2", StockArriving{"lid", 72, day("2026-09-20")})), "folded");
  ASSERT_EQ(outcome(s, live("3", StockSet{"lid", 150})), "folded");
  EXPECT_EQ(s.stock.at("lid"), 150);
  ASSERT_THAT(s.arriving, SizeIs(1));
  EXPECT_EQ(s.arriving.front().day, day("2026-09-20"));
}

TEST(Stock, AnOrderForTheSameDayIsReplacedAndCalledOffByNone) {
  State s;
  ASSERT_EQ(outcome(s, live("1", StockArriving{"lid", 144, day("2026-09-20")})), "folded");
  ASSERT_EQ(outcome(s, live("2", StockArriving{"lid", 72, day("2026-09-20")})), "folded");
  ASSERT_THAT(s.arriving, SizeIs(1));
  EXPECT_EQ(s.arriving.front().amount, 72);
  ASSERT_EQ(outcome(s, live("3", StockArriving{"lid", 0, day("2026-09-20")})), "folded");
  EXPECT_THAT(s.arriving, IsEmpty());
}

TEST(Stock, NothingIsCountedBelowNothing) {
  expect_refused(live("e", StockSet{"lid", -1}), "negative");
  expect_refused(live("e", EquipmentSet{"canner", -1}), "negative");
  expect_refused(live("e", MoneySet{-5}), "negative");
  expect_refused(live("e", NeedSet{"tomato", "", -1, 1}), "negative");
}

TEST(Readings, LieInOrderOfTimeWhateverOrderTheyCameIn) {
  State s = furnished();
  const Instant one = kNoon - std::chrono::hours(1);
  ASSERT_EQ(outcome(s, live("1", TemperatureRead{"cellar", 11, {}})), "folded");
  ASSERT_EQ(outcome(s, fact("2", TemperatureRead{"cellar", 9, 80.0}, one)), "folded");
  ASSERT_EQ(outcome(s, live("3", TemperatureRead{"cellar", 12, {}})), "folded") << "read again in the same second";
  EXPECT_THAT(s.readings.at("cellar"), ElementsAre(TemperaturePoint{one, 9, 80.0}, TemperaturePoint{kNoon, 12, {}}));
}

TEST(Readings, OfUnknownPlacesOrImpossibleTemperaturesAreRefused) {
  expect_refused(live("e", TemperatureRead{"celler", 11, {}}), "unknown_place");
  expect_refused(live("e", TemperatureRead{"", 11, {}}), "bad_name");
  expect_refused(live("e", TemperatureRead{"cellar", 500, {}}), "bad_value");
  expect_refused(live("e", TemperatureRead{"cellar", 11, 120.0}), "bad_value");
}

TEST(Forecast, TheNewestReplacesTheOneBeforeInOrderOfDays) {
  State s;
  ASSERT_EQ(outcome(s, live("1", ForecastSet{{{day("2026-09-17"), 5, 15, 0, 10}, {day("2026-09-16"), 5, 15, 0, 10}}})),
            "folded");
  EXPECT_EQ(s.forecast.front().day, day("2026-09-16"));
  ASSERT_EQ(outcome(s, live("2", ForecastSet{})), "folded");
  EXPECT_THAT(s.forecast, IsEmpty());
  expect_refused(live("3", ForecastSet{{{day("2026-09-16"), 20, 5, 0, 10}}}), "bad_value");
}

TEST(OtherWork, IsSetAndDone) {
  State s;
  ASSERT_EQ(outcome(s, live("1", OtherWorkSet{.key = "firewood"})), "folded");
  ASSERT_EQ(outcome(s, live("2", OtherWorkDone{"firewood"})), "folded");
  EXPECT_TRUE(s.other_work.at("firewood").done);
  expect_refused(live("3", OtherWorkDone{"firewoods"}), "unknown_work", s);
  expect_refused(live("3", OtherWorkSet{.key = "x", .minutes = 0}), "bad_value", s);
}

TEST(Needs, ANeedIsOnePerFoodAndForm) {
  State s;
  ASSERT_EQ(outcome(s, live("1", NeedSet{"tomato", "canned", 40, 1})), "folded");
  ASSERT_EQ(outcome(s, live("2", NeedSet{"tomato", "dried", 2, 1})), "folded");
  ASSERT_EQ(outcome(s, live("3", NeedSet{"tomato", "canned", 60, 2})), "folded");
  ASSERT_THAT(s.needs, SizeIs(2));
  EXPECT_EQ(s.needs.front().per_year_kg, 60);
}

TEST(Plan, TheAcceptedPlanIsKeptAsItCame) {
  State s;
  ASSERT_EQ(outcome(s, live("1", PlanAccepted{R"({ "any": [1, 2] })", id_of("x")})), "folded");
  EXPECT_EQ(s.plan_json, R"({ "any": [1, 2] })");
  EXPECT_EQ(s.plan_last_entry, id_of("x"));
}

TEST(Discrepancies, AreSettledByNamingTheEntryThatRaisedThem) {
  State s;
  ASSERT_EQ(outcome(s, fact("odd", EatenFresh{id_of("X"), kilograms(1)})), "folded");
  expect_refused(live("e", DiscrepancySettled{id_of("even"), ""}), "unknown_discrepancy", s);
  ASSERT_EQ(outcome(s, live("settle", DiscrepancySettled{id_of("odd"), "it was the neighbours' lot"})), "folded");
  EXPECT_TRUE(s.discrepancies.front().settled);
  EXPECT_EQ(s.discrepancies.front().how, "it was the neighbours' lot");
}

}  // namespace
}  // namespace stillroom::ledger::tests
