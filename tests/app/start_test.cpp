#include <gtest/gtest.h>

#include "app/household.h"

namespace stillroom::app {
namespace {

using test::morning;

TEST(Start, AsksAtMostSixQuestionsAndEachMayBeSkipped) {
  House h = test::empty_house();
  const auto questions = start_questions(h);
  EXPECT_LE(questions.size(), 6U);
  for (const StartQuestion& q : questions) EXPECT_TRUE(answer_start(h, morning(), q.key, "skip")) << q.key;
  for (const StartQuestion& q : start_questions(h)) EXPECT_TRUE(q.skipped) << q.key;
}

TEST(Start, UnknownAltitudeWithholdsCanningOnly) {
  House h = test::empty_house();
  ASSERT_TRUE(answer_start(h, morning(), "hands", "Alma 40 pressure"));
  ASSERT_TRUE(answer_start(h, morning(), "canners", "boiling water 1"));
  test::bring(h, morning(), "40 lb pears, firm");
  const auto snapshot = snapshot_for_planning(h, morning());
  ASSERT_TRUE(snapshot);
  EXPECT_FALSE(snapshot->routes.empty());
  for (const auto& route : snapshot->routes) EXPECT_FALSE(route.process) << route.key;
}

TEST(Start, AKnownAltitudeBringsCanningIn) {
  House h = test::kitchen();
  test::bring(h, morning(), "40 lb pears, firm");
  const auto snapshot = snapshot_for_planning(h, morning());
  ASSERT_TRUE(snapshot);
  const bool canned = std::any_of(snapshot->routes.begin(), snapshot->routes.end(),
                                  [](const auto& r) { return r.process.has_value(); });
  EXPECT_TRUE(canned);
}

TEST(Start, APressureCannerMustSayWhichGauge) {
  House h = test::empty_house();
  const auto answer = answer_start(h, morning(), "canners", "pressure canner 1");
  ASSERT_FALSE(answer);
  EXPECT_EQ(answer.error().code, "unknown_equipment");
}

TEST(Start, KeepsTheGoodLinesOfWhatIsWaiting) {
  House h = test::kitchen();
  const auto answer = answer_start(h, morning(), "waiting", "2 bu pears, firm; 3 lb nonsuch; 10 lb plums, ripe");
  ASSERT_FALSE(answer);
  EXPECT_EQ(answer.error().code, "some_lines");
  EXPECT_NE(answer.error().message.find("nonsuch"), std::string::npos);
  EXPECT_EQ(h.ledger.state().parcels.size(), 2U);
}

}  // namespace
}  // namespace stillroom::app
