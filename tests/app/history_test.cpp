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
