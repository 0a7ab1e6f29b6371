#include "scheduling/calendar.h"

#include <gtest/gtest.h>

#include <array>
#include <vector>

namespace {
using stillroom::scheduling::Calendar;
using stillroom::scheduling::kNever;

// Two people: one from 8:00 to 12:00, both from 9:00 to 10:00, one again from 13:00 to 17:00.
Calendar two_people() {
  const std::vector<Calendar::Step> steps{{480, 1}, {540, 2}, {600, 1}, {720, 0}, {780, 1}, {1020, 0}};
  return Calendar::from_steps(steps).value();
}

TEST(Calendar, IsClosedBeforeItsFirstStepAndHoldsTheLastForEver) {
  const Calendar c = two_people();
  EXPECT_EQ(c.capacity_at(-5), 0);
  EXPECT_EQ(c.capacity_at(479), 0);
  EXPECT_EQ(c.capacity_at(480), 1);
  EXPECT_EQ(c.capacity_at(599), 2);
  EXPECT_EQ(c.capacity_at(600), 1);
  EXPECT_EQ(c.capacity_at(100000), 0);
}

TEST(Calendar, CountsWorkingTimeForTheAmountAskedFor) {
  const Calendar c = two_people();
  EXPECT_EQ(c.working_time(0, 1440, 1), 240 + 240);
  EXPECT_EQ(c.working_time(0, 1440, 2), 60);
  EXPECT_EQ(c.working_time(0, 1440, 3), 0);
  EXPECT_EQ(c.working_time(700, 800, 1), 20 + 20);
  EXPECT_EQ(c.working_time(730, 730, 1), 0);
}

TEST(Calendar, FinishesWorkAfterTheBreakButNeverInsideIt) {
  const Calendar c = two_people();
  EXPECT_EQ(c.finish_of(700, 20, 1), 720);    // exactly up to the break
  EXPECT_EQ(c.finish_of(700, 21, 1), 781);    // one minute after it
  EXPECT_EQ(c.finish_of(730, 10, 1), 790);    // begun in the break: counted from its end
  EXPECT_EQ(c.finish_of(480, 480, 1), 1020);  // the whole day
  EXPECT_EQ(c.finish_of(480, 481, 1), kNever);
  EXPECT_EQ(c.finish_of(480, 60, 2), 600);
  EXPECT_EQ(c.finish_of(480, 1, 3), kNever);
  EXPECT_EQ(c.finish_of(650, 0, 1), 650);
  EXPECT_EQ(c.working_window(730, 10, 1), (Calendar::Window{780, 790}));
  EXPECT_EQ(c.working_window(480, 481, 1), (Calendar::Window{480, kNever}));
  EXPECT_EQ(c.working_window(480, 1, 3), (Calendar::Window{kNever, kNever}));
}

TEST(Calendar, FindsTheNextOpenMoment) {
  const Calendar c = two_people();
  EXPECT_EQ(c.next_open(0, 1), 480);
  EXPECT_EQ(c.next_open(500, 1), 500);
  EXPECT_EQ(c.next_open(500, 2), 540);
  EXPECT_EQ(c.next_open(600, 2), kNever);
  EXPECT_EQ(c.next_open(720, 1), 780);
}

TEST(Calendar, JoinsWindowsThatTouchOrOverlap) {
  const std::array<Calendar::Window, 4> windows{{{100, 200}, {10, 50}, {50, 60}, {150, 180}}};
  const Calendar c = Calendar::from_windows(windows, 7).value();
  const std::vector<Calendar::Step> expected{
      {stillroom::scheduling::kEarliest, 0}, {10, 7}, {60, 0}, {100, 7}, {200, 0}};
  EXPECT_EQ(c.steps(), expected);
}

TEST(Calendar, RefusesWhatIsNotACalendar) {
  const std::array<Calendar::Step, 2> backwards{{{10, 1}, {10, 2}}};
  const std::array<Calendar::Step, 1> negative{{{10, -1}}};
  const std::array<Calendar::Step, 1> far{{{1'500'000'000, 1}}};
  const std::array<Calendar::Window, 1> inverted{{{20, 10}}};
  for (const auto& refused :
       {Calendar::from_steps(backwards), Calendar::from_steps(negative), Calendar::from_steps(far),
        Calendar::from_windows(inverted, 1), Calendar::from_windows({}, -1)}) {
    ASSERT_FALSE(refused.has_value());
    EXPECT_EQ(refused.error().code, "bad_calendar");
    EXPECT_FALSE(refused.error().instead.empty());
  }
}

TEST(Calendar, AlwaysIsOpenAtAnyMoment) {
  const Calendar c = Calendar::always(3);
  EXPECT_EQ(c.capacity_at(-100000), 3);
  EXPECT_EQ(c.finish_of(-7, 10, 3), 3);
  EXPECT_EQ(c.working_time(-10, 10, 2), 20);
}

}  // namespace
