#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "app/household.h"
#include "app/json.h"

namespace stillroom::app {
namespace {

TEST(History, TellsNewestFirstAndMarksWhatWasUndone) {
  House h = test::kitchen();
  test::bring(h, test::morning(), "10 lb plums, ripe, on the counter");
  ASSERT_TRUE(undo(h, test::morning(), ""));
  const auto lines = history(h, 5);
  ASSERT_FALSE(lines.empty());
  EXPECT_TRUE(lines.front().undone);
  EXPECT_NE(lines.front().words.find("plums"), std::string::npos);
}

TEST(History, WhatDoesNotAddUpIsToldWithNamesAndTimes) {
  House h = test::kitchen();
  const std::string parcel(32, 'a');
  const auto entry = [&](char id, const char* kind, nlohmann::json what) {
    what["parcel"] = parcel;
    return nlohmann::json{{"v", 1},
                          {"id", std::string(32, id)},
                          {"happened", measure::to_iso(test::morning())},
                          {"who", ""},
                          {"live", false},
                          {"kind", kind},
                          {"what", what}};
  };
  const nlohmann::json beans = {{"food", "bean_snap"}, {"form", "canned"}, {"pack", "quart jar"}, {"packs", 1},
                                {"mass_g", 900},       {"place", "shelf"}, {"note", ""}};
  const nlohmann::json one = {{"packs", 1}, {"why", ""}};
  const nlohmann::json all = {entry('1', "put_by_before", beans), entry('2', "taken", one), entry('3', "taken", one)};
  const auto received = receive_entries(h, test::morning(), all.dump());
  ASSERT_TRUE(received);
  for (const Received& r : *received) ASSERT_TRUE(r.stored) << (r.refusal ? r.refusal->message : "");
  const auto differ = discrepancies(h);
  ASSERT_EQ(differ.size(), 1U);
  EXPECT_EQ(differ[0].about, std::string(32, '3'));
  EXPECT_EQ(differ[0].what.find("bean_snap"), std::string::npos) << differ[0].what;
  EXPECT_NE(differ[0].what.find("bean"), std::string::npos) << differ[0].what;
  ASSERT_EQ(differ[0].before.size(), 2U);
  EXPECT_EQ(differ[0].before[0].entry, std::string(32, '2'));
  EXPECT_EQ(differ[0].before[0].at, differ[0].at);
}

TEST(Json, ADayCarriesTheFieldsThePagesDraw) {
  House h = test::kitchen();
  test::bring(h, test::morning(), "10 lb plums, ripe, on the counter");
  const auto p = test::planned(h, test::morning());
  const auto json = nlohmann::json::parse(to_json(day_view(h, test::morning(), p.snapshot, p.plan)));
  for (const char* field : {"household", "next", "timers", "running", "today", "strips", "notices", "objective"}) {
    EXPECT_TRUE(json.contains(field)) << field;
  }
  EXPECT_EQ(json["strips"].size(), 1U);
  EXPECT_TRUE(json["strips"][0]["usable"].is_array());
}

TEST(Resolve, TakesAnIdItsBeginningACodeOrAUniqueName) {
  House h = test::kitchen();
  const std::string id = test::bring(h, test::morning(), "10 lb plums, ripe, on the counter");
  EXPECT_EQ(resolve(h, id)->hex(), id);
  EXPECT_EQ(resolve(h, id.substr(0, 8))->hex(), id);
  EXPECT_EQ(resolve(h, "plums")->hex(), id);
  test::bring(h, test::morning(), "4 lb plums, soft, in the fridge");
  const auto twice = resolve(h, "plums");
  ASSERT_FALSE(twice);
  EXPECT_EQ(twice.error().code, "not_unique");
  EXPECT_EQ(resolve(h, "walnuts").error().code, "not_found");
}

}  // namespace
}  // namespace stillroom::app
