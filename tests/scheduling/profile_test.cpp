#include "scheduling/profile.h"

#include <gtest/gtest.h>

#include <array>

namespace {
using stillroom::scheduling::Calendar;
using stillroom::scheduling::earliest_joint_fit;
using stillroom::scheduling::earliest_joint_pausable_fit;
using stillroom::scheduling::kNever;
using stillroom::scheduling::Need;
using stillroom::scheduling::Placement;
using stillroom::scheduling::Profile;
using stillroom::scheduling::UndoLog;

// One pair of hands from 100 to 200 and from 300 to 400.
Calendar two_shifts(int capacity = 1) {
  const std::array<Calendar::Window, 2> windows{{{100, 200}, {300, 400}}};
  return Calendar::from_windows(windows, capacity).value();
}

TEST(Profile, FitsWholeActivitiesInsideOneShiftOnly) {
  const Calendar c = two_shifts();
  const Profile p(c);
  EXPECT_EQ(p.earliest_fit(0, 100, 1), 100);
  EXPECT_EQ(p.earliest_fit(101, 100, 1), 300);  // would spill past closing time
  EXPECT_EQ(p.earliest_fit(0, 101, 1), kNever);
  EXPECT_EQ(p.earliest_fit(0, 10, 2), kNever);
  EXPECT_EQ(p.earliest_fit(150, 0, 1), 150);
  EXPECT_EQ(p.earliest_fit(250, 0, 1), 250);  // nothing is needed for no time
}

TEST(Profile, LatestBoundsTheStart) {
  const Calendar c = two_shifts();
  const Profile p(c);
  EXPECT_EQ(p.earliest_fit(0, 50, 1, 100), 100);
  EXPECT_EQ(p.earliest_fit(0, 50, 1, 99), kNever);
  EXPECT_EQ(p.earliest_fit(10, 0, 1, 9), kNever);
}

TEST(Profile, ReservationsShareCapacityAndPushLaterOnesBack) {
  const Calendar c = two_shifts(3);
  Profile p(c);
  UndoLog log;
  p.reserve(100, 50, 2, log);
  EXPECT_EQ(p.free_at(120), 1);
  EXPECT_EQ(p.earliest_fit(0, 20, 1), 100);
  EXPECT_EQ(p.earliest_fit(0, 20, 2), 150);
  EXPECT_EQ(p.earliest_fit(0, 60, 2), 300);
  EXPECT_EQ(p.lowest_free(100, 200), 1);
  EXPECT_EQ(p.lowest_free(150, 200), 3);
  EXPECT_EQ(p.lowest_free(150, 201), 0);
}

TEST(Profile, RollbackRestoresEveryBreakpoint) {
  const Calendar c = two_shifts(3);
  Profile p(c), q(c);
  UndoLog log;
  p.reserve(110, 30, 1, log);
  const Profile before = p;
  const auto mark = log.mark();
  p.reserve(120, 40, 2, log);
  q.reserve(300, 100, 3, log);
  p.release(110, 30, 1, log);
  log.rollback(mark);
  for (int t = 0; t < 500; ++t) {
    ASSERT_EQ(p.free_at(t), before.free_at(t)) << t;
    ASSERT_EQ(q.free_at(t), c.capacity_at(t)) << t;
  }
  log.rollback(0);
  EXPECT_EQ(p.earliest_fit(0, 100, 3), 100);
}

TEST(Profile, PausableWorkStopsOverTheBreakAndGoesOn) {
  const Calendar c = two_shifts();
  Profile p(c);
  UndoLog log;
  EXPECT_EQ(p.earliest_pausable_fit(150, 60, 1), (Placement{150, 310}));  // 50 before the break, 10 after
  EXPECT_EQ(p.earliest_pausable_fit(210, 60, 1), (Placement{300, 360}));
  EXPECT_EQ(p.earliest_pausable_fit(0, 201, 1), Placement{});
  p.reserve_pausable({150, 310}, 1, log);
  EXPECT_EQ(p.free_at(250), 0);  // the break itself is untouched, not driven below zero
  EXPECT_EQ(p.earliest_fit(0, 50, 1), 100);
  EXPECT_EQ(p.earliest_fit(0, 51, 1), 310);
  log.rollback(0);
  EXPECT_EQ(p.earliest_fit(0, 100, 1), 100);
}

TEST(Profile, PausableWorkIsNotInterruptedByOtherWork) {
  const Calendar c = two_shifts();
  Profile p(c);
  UndoLog log;
  p.reserve(180, 10, 1, log);  // 180..190 is taken
  // From 100 only 80 free minutes before 180: 90 minutes would run into it, so the work starts after it.
  EXPECT_EQ(p.earliest_pausable_fit(100, 80, 1), (Placement{100, 180}));
  EXPECT_EQ(p.earliest_pausable_fit(100, 90, 1), (Placement{190, 380}));  // 10 + 80
  EXPECT_EQ(p.earliest_pausable_fit(100, 90, 1, 189), Placement{});
}

TEST(Profile, JointFitIsTheFirstMomentThatSuitsEveryResource) {
  const Calendar hands_calendar = two_shifts(), stove_calendar = Calendar::always(4);
  Profile hands(hands_calendar), stove(stove_calendar);
  UndoLog log;
  stove.reserve(0, 180, 3, log);
  const std::array<Need, 2> needs{{{&hands, 1, 0, 30}, {&stove, 2, 0, 30}}};
  EXPECT_EQ(earliest_joint_fit(needs, 0), 300);  // stove from 180, hands only 20 minutes more: next shift
  const std::array<Need, 2> shorter{{{&hands, 1, 0, 20}, {&stove, 2, 0, 20}}};
  EXPECT_EQ(earliest_joint_fit(shorter, 0), 180);
  EXPECT_EQ(earliest_joint_fit(shorter, 0, 179), kNever);
  EXPECT_EQ(earliest_joint_fit({}, 42), 42);
}

TEST(Profile, BlockOfStagesIsPlacedThroughOffsets) {
  const Calendar hands_calendar = two_shifts(), stove_calendar = Calendar::always(1);
  Profile hands(hands_calendar), stove(stove_calendar);
  UndoLog log;
  stove.reserve(120, 60, 1, log);
  // 20 minutes of hands, then at once 30 minutes of stove: stove free from 180, hands must start at 160.
  const std::array<Need, 2> block{{{&hands, 1, 0, 20}, {&stove, 1, 20, 30}}};
  EXPECT_EQ(earliest_joint_fit(block, 0), 160);
  hands.reserve(160, 40, 1, log);
  EXPECT_EQ(earliest_joint_fit(block, 0), 300);
}

TEST(Profile, WhatIsHeldThroughoutAlsoHoldsOverBreaks) {
  const Calendar hands_calendar = two_shifts(), table_calendar = Calendar::always(1);
  Profile hands(hands_calendar), table(table_calendar);
  UndoLog log;
  const std::array<Need, 1> throughout{{{&table, 1, 0, 0}}};
  EXPECT_EQ(earliest_joint_pausable_fit(hands, 1, 120, throughout, 0), (Placement{100, 320}));
  table.reserve(250, 10, 1, log);  // somebody wants the table in the break
  EXPECT_EQ(earliest_joint_pausable_fit(hands, 1, 120, throughout, 0), Placement{});
  EXPECT_EQ(earliest_joint_pausable_fit(hands, 1, 100, throughout, 0), (Placement{100, 200}));
}

}  // namespace
