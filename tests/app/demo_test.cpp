#include <gtest/gtest.h>

#include "app/demo.h"
#include "app/household.h"

namespace stillroom::app {
namespace {

House demo(Instant opening) {
  auto ledger = ledger::Ledger::open(":memory:");
  House h{test::published(), std::move(*ledger), measure::Random(3), ""};
  const auto filled = fill_with_demo(h, opening);
  EXPECT_TRUE(filled) << (filled ? "" : filled.error().message);
  return h;
}

TEST(Demo, OpensOnAMorningThatLiesAheadOfTheClock) {
  for (const char* real : {"2026-09-14T05:00:00Z", "2026-01-02T23:30:00Z", "2026-07-04T14:05:00Z"}) {
    const Instant now = *measure::parse_instant(real);
    const auto opening = demo_opening(now);
    ASSERT_TRUE(opening);
    EXPECT_GE(*opening, now);
    EXPECT_LE(*opening - now, std::chrono::hours(25));
  }
}

TEST(Demo, IsInTheThickOfTheSeason) {
  const Instant opening = *demo_opening(test::morning());
  const House h = demo(opening);
  const auto p = test::planned(h, opening);
  EXPECT_GE(p.snapshot.lots.size(), 25U);
  EXPECT_GE(p.snapshot.hands.size(), 4U);
  EXPECT_LE(p.snapshot.hands.size(), 7U);
  EXPECT_EQ(planning::check_plan(p.snapshot, p.plan), std::vector<std::string>{});
  const DayView day = day_view(h, opening, p.snapshot, p.plan);
  EXPECT_GT(day.household.altitude_ft.value_or(0), 1000);
  EXPECT_FALSE(day.today.empty());
  EXPECT_NE(day.next.action, "none");
}

TEST(Demo, FillsOnlyAnEmptyHousehold) {
  House h = test::kitchen();
  const auto filled = fill_with_demo(h, test::morning());
  ASSERT_FALSE(filled);
  EXPECT_EQ(filled.error().code, "not_empty");
}

}  // namespace
}  // namespace stillroom::app
