#include "scheduling/project.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "small_projects.h"

namespace {
using stillroom::scheduling::check_schedule;
using stillroom::scheduling::critical_path;
using stillroom::scheduling::Lag;
using stillroom::scheduling::makespan;
using stillroom::scheduling::mirrored;
using stillroom::scheduling::Project;
using stillroom::scheduling::Schedule;
using stillroom::scheduling::validate;
using stillroom::scheduling::test::fixed;
using stillroom::scheduling::test::follows;
using stillroom::scheduling::test::start_lag;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

// Two activities of 3 and 4 periods, each needing 2 of 3; a quick mode of the second draws 5 of 6.
Project two() {
  Project p;
  p.renewable = {3};
  p.nonrenewable = {6};
  p.activities = {{{{3, {2}, {2}}}}, {{{4, {2}, {1}}, {2, {2}, {5}}}}};
  return p;
}

TEST(CheckSchedule, AcceptsASoundSchedule) {
  EXPECT_THAT(check_schedule(two(), {{0, 0}, {0, 3}}), IsEmpty());
  EXPECT_EQ(makespan(two(), {{0, 0}, {0, 3}}), 7);
}

TEST(CheckSchedule, NamesWhatIsOverused) {
  EXPECT_THAT(check_schedule(two(), {{0, 0}, {0, 2}}),
              ElementsAre(HasSubstr("renewable resource 0: 4 in use in period 2, capacity 3")));
  EXPECT_THAT(check_schedule(two(), {{0, 1}, {0, 3}}), ElementsAre(HasSubstr("7 drawn, total 6")));
}

TEST(CheckSchedule, NamesBrokenLagsOfBothKinds) {
  Project p = two();
  p.lags = {follows(1, 0)};
  EXPECT_THAT(check_schedule(p, {{0, 0}, {3, 4}}), testing::SizeIs(2));  // the order, and the overlap
  p.lags = {start_lag(0, 1, -2)};                                        // 0 may start at most 2 after 1
  EXPECT_THAT(check_schedule(p, {{0, 0}, {4, 0}}), ElementsAre(HasSubstr("start at 2 at the earliest")));
  EXPECT_THAT(check_schedule(p, {{0, 0}, {0, 3}}), IsEmpty());
}

TEST(CheckSchedule, RefusesWrongSizesUnknownModesAndEarlyStarts) {
  EXPECT_THAT(check_schedule(two(), {{0}, {0, 3}}), ElementsAre(HasSubstr("2 activities")));
  EXPECT_THAT(check_schedule(two(), {{0, 2}, {0, 3}}), ElementsAre(HasSubstr("no mode 2")));
  EXPECT_THAT(check_schedule(two(), {{0, 0}, {-1, 3}}), ElementsAre(HasSubstr("before 0")));
}

TEST(Project, CriticalPathTakesTheShortestModes) {
  Project p = two();
  EXPECT_EQ(critical_path(p).value(), 3);
  p.lags = {follows(0, 1)};
  EXPECT_EQ(critical_path(p).value(), 5);
  p.lags.push_back(start_lag(1, 0, 0));
  EXPECT_EQ(critical_path(p).error().code, "positive_cycle");
}

TEST(Project, MirroringTwiceGivesTheSameProject) {
  Project p;
  p.renewable = {2};
  p.activities = {fixed(3, 1), fixed(5, 1)};
  p.lags = {start_lag(0, 1, 4), start_lag(1, 0, -6)};
  // s1 >= s0 + 4 read backwards: 1 ends first, and 0 starts at least 4 + 5 - 3 = 6 after 1 in mirrored time.
  EXPECT_EQ(mirrored(p).lags.front(), start_lag(1, 0, 6));
  EXPECT_EQ(mirrored(mirrored(p)), p);
  p.lags = {follows(0, 1)};
  EXPECT_EQ(mirrored(p).lags.front(), follows(1, 0));
}

TEST(Project, ValidationNamesTheActivityAtFault) {
  Project p = two();
  EXPECT_TRUE(validate(p).has_value());
  p.activities[1].modes[1].renewable = {};
  EXPECT_THAT(validate(p).error().message, HasSubstr("Activity 1"));
  p = two();
  p.activities[0].modes[0].duration = -1;
  EXPECT_EQ(validate(p).error().code, "bad_project");
  p = two();
  p.lags = {follows(0, 2)};
  EXPECT_EQ(validate(p).error().code, "bad_project");
  p.lags = {follows(1, 1)};
  EXPECT_EQ(validate(p).error().code, "bad_project");
  p = two();
  p.activities[0].modes.clear();
  EXPECT_THAT(validate(p).error().message, HasSubstr("no mode"));
}

}  // namespace
