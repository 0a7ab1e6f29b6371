#include <gtest/gtest.h>

#include <algorithm>

#include "app/household.h"

namespace stillroom::app {
namespace {

/// A kitchen with food that asks for work soon, its plan taken as the one in force.
struct Followed {
  House house = test::kitchen();
  test::Planned first;

  Followed() {
    test::bring(house, test::morning(), "20 lb plums, ripe, on the counter");
    test::bring(house, test::morning(), "15 lb green beans, ripe, on the counter");
    first = test::planned(house, test::morning());
    const auto taken = follow(house, test::morning(), first.snapshot, first.plan);
    EXPECT_TRUE(taken && *taken);
  }
};

TEST(Following, IsWrittenOnceForTheSameNearTerm) {
  Followed f;
  ASSERT_FALSE(f.first.plan.batches.empty());
  const auto sequence = f.house.ledger.state().sequence;
  const auto again = follow(f.house, test::morning(), f.first.snapshot, f.first.plan);
  ASSERT_TRUE(again);
  EXPECT_FALSE(*again);
  EXPECT_EQ(f.house.ledger.state().sequence, sequence);
}

TEST(Following, GivesTheNextPlanItsStagesToKeep) {
  Followed f;
  const auto next = snapshot_for_planning(f.house, test::morning());
  ASSERT_TRUE(next);
  std::size_t stages = 0;
  for (const auto& batch : f.first.plan.batches) stages += batch.stages.size() * batch.parts.size();
  EXPECT_EQ(next->in_force.size(), stages);
  const auto tomorrow = snapshot_for_planning(f.house, test::morning() + std::chrono::hours(24));
  ASSERT_TRUE(tomorrow);
  ASSERT_EQ(tomorrow->in_force.size(), stages);
  EXPECT_EQ(tomorrow->in_force.front().start, next->in_force.front().start - 1440);
}

TEST(Following, KeepsTheNearTermWhenLittleHasChanged) {
  Followed f;
  test::bring(f.house, test::morning(), "1 lb plums, firm, in the cellar");
  const auto next = test::planned(f.house, test::morning());
  // One lot more may at most join what is going on; nothing that was due in two days is moved for it.
  EXPECT_LE(next.plan.terms.change, next.snapshot.change_cost);
}

TEST(Following, IsNeitherTakenBackNorTold) {
  Followed f;
  const auto taken_back = undo(f.house, test::morning(), "");
  ASSERT_TRUE(taken_back);
  const auto lines = history(f.house, 3);
  ASSERT_GE(lines.size(), 2U);
  EXPECT_TRUE(lines[0].undone);
  EXPECT_NE(lines[0].words.find("beans"), std::string::npos) << lines[0].words;
}

}  // namespace
}  // namespace stillroom::app
