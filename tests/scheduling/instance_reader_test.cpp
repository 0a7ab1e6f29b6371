#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

#include "../../bench/mrcpsp.h"
#include "../../bench/mrcpsp_reader.h"

namespace {
using stillroom::bench::instance_name;
using stillroom::bench::parse_mrcpsp_options;
using stillroom::bench::read_best_known;
using stillroom::bench::read_instance;
using stillroom::bench::read_lags;
using stillroom::bench::read_multi_mode;
using stillroom::bench::read_patterson;
using stillroom::scheduling::Lag;
using stillroom::scheduling::Project;
using testing::HasSubstr;

// Four activities of the project, with the extra header lines that only one of the two libraries writes.
const std::string kMultiMode = R"(************************************************************************
file with basedata            : made up
************************************************************************
projects                      :  1
jobs (incl. supersource/sink ):  4
horizon                       :  12
RESOURCES
  - renewable                 :  1   R
  - nonrenewable              :  1   N
  - doubly constrained        :  0   D
************************************************************************
PROJECT INFORMATION:
pronr.  #jobs rel.date duedate tardcost  MPM-Time
    1      2      0       17        9       17
************************************************************************
PRECEDENCE RELATIONS:
jobnr.    #modes  #successors   successors
   1        1          2           2   3
   2        2          1           4
   3        1          1           4
   4        1          0
************************************************************************
REQUESTS/DURATIONS:
jobnr. mode duration  R 1  N 1
------------------------------------------------------------------------
  1      1     0       0    0
  2      1     3       5    7
         2     6       2    1
  3      1     4       3    2
  4      1     0       0    0
************************************************************************
RESOURCEAVAILABILITIES:
  R 1  N 1
    5    9
************************************************************************
)";

std::string changed(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

Project expected_multi_mode() {
  Project p;
  p.activities = {{{{0, {0}, {0}}}}, {{{3, {5}, {7}}, {6, {2}, {1}}}}, {{{4, {3}, {2}}}}, {{{0, {0}, {0}}}}};
  for (const auto& [from, to] : {std::pair{0, 1}, {0, 2}, {1, 3}, {2, 3}})
    p.lags.push_back({from, to, 0, Lag::Kind::finish_to_start});
  p.renewable = {5};
  p.nonrenewable = {9};
  return p;
}

TEST(InstanceReader, ReadsMultiModeFilesOfBothLayouts) {
  EXPECT_EQ(read_multi_mode(kMultiMode).value(), expected_multi_mode());
  std::string other =
      changed(kMultiMode, "RESOURCEAVAILABILITIES:\n  R 1  N 1\n", "RESOURCE AVAILABILITIES\n\tR 1\tN 1\n");
  other = changed(other, "projects                      :  1\n", "");
  other = changed(other, "jobs (incl. supersource/sink ):  4", "jobs  (incl. supersource/sink ):\t4");
  std::string returns;
  for (const char c : other) returns += c == '\n' ? std::string("\r\n") : std::string(1, c);
  EXPECT_EQ(read_multi_mode(returns).value(), expected_multi_mode());
}

TEST(InstanceReader, NamesTheLineOfABrokenMultiModeFile) {
  const auto message = [](const std::string& from, const std::string& to) {
    const auto read = read_multi_mode(changed(kMultiMode, from, to));
    EXPECT_FALSE(read.has_value()) << to;
    if (read) return std::string();
    EXPECT_EQ(read.error().code, "bad_instance");
    return read.error().message;
  };
  EXPECT_THAT(message("   2   3\n   2", "   2\n   2"), HasSubstr("Line 18"));  // a successor is missing
  EXPECT_THAT(message("1           4\n   3", "1           9\n   3"), HasSubstr("activity 9"));
  EXPECT_THAT(message("   3        1          1           4\n", ""), HasSubstr("out of order"));
  EXPECT_THAT(message("         2     6       2    1\n", ""), HasSubstr("Job 2 has 1 modes where 2"));
  EXPECT_THAT(message("  3      1     4       3    2", "  3      1     4       3"), HasSubstr("job 2 more modes"));
  EXPECT_THAT(message("  3      1     4       3    2", "  3      1     -4       3   2"), HasSubstr("negative"));
  EXPECT_THAT(message("    5    9\n", ""), HasSubstr("availabilities is missing"));
  EXPECT_THAT(message("    5    9\n", "    5\n"), HasSubstr("2 availabilities"));
  EXPECT_THAT(message("jobs (incl. supersource/sink ):  4", "jobs"), HasSubstr("Line 5"));
  EXPECT_THAT(message("doubly constrained        :  0", "doubly constrained        :  2"), HasSubstr("not supported"));
  EXPECT_FALSE(read_multi_mode("").has_value());
  EXPECT_FALSE(read_multi_mode(kMultiMode.substr(0, kMultiMode.size() / 2)).has_value());
}

TEST(InstanceReader, ReadsPattersonFilesWhateverTheirLineBreaks) {
  const Project p = read_patterson("3 1\n 4\n0 0 1 2\n5 3 1\n3\n1 4 0").value();
  ASSERT_EQ(p.activities.size(), 3U);
  EXPECT_EQ(p.renewable, std::vector<int>{4});
  EXPECT_EQ(p.activities[1].modes[0].duration, 5);
  EXPECT_EQ(p.activities[2].modes[0].renewable, std::vector<int>{4});
  ASSERT_EQ(p.lags.size(), 2U);
  EXPECT_EQ(p.lags[1], (Lag{1, 2, 0, Lag::Kind::finish_to_start}));
}

TEST(InstanceReader, RefusesBrokenPattersonFiles) {
  EXPECT_THAT(read_patterson("3 1\n 4\n0 0 1 2\n5 3 1").error().message,
              HasSubstr("ends before a successor of activity 2"));
  EXPECT_THAT(read_patterson("3 1 4 0 0 1 2 5 3 1 3 1 4 0 7").error().message, HasSubstr("left over"));
  EXPECT_THAT(read_patterson("3 1 4 0 0 1 2 5 3 1 8 1 4 0").error().message, HasSubstr("is 8"));
  EXPECT_THAT(read_patterson("3 x").error().message, HasSubstr("Line 1"));
  EXPECT_FALSE(read_patterson("").has_value());
}

TEST(InstanceReader, ReadsMinimumAndMaximumLags) {
  const Project p =
      read_lags("1 2 0 0\n0 1 1 1 [0]\n1 1 2 2 0 [3] [-4]\n2 1 0\n0 1 0 0 0\n1 1 3 1 2\n2 1 0 0 0\n2 2\n").value();
  ASSERT_EQ(p.lags.size(), 3U);
  EXPECT_EQ(p.lags[1], (Lag{1, 2, 3, Lag::Kind::start_to_start}));
  EXPECT_EQ(p.lags[2], (Lag{1, 0, -4, Lag::Kind::start_to_start}));
  EXPECT_EQ(p.activities[1].modes[0], (stillroom::scheduling::Mode{3, {1, 2}, {}}));
}

TEST(InstanceReader, RefusesBrokenLagFiles) {
  EXPECT_THAT(read_lags("1 2 1 0\n").error().message, HasSubstr("non-renewable"));
  EXPECT_THAT(read_lags("1 1 0 0\n0 1 1 1 [0\n").error().message, HasSubstr("ends before"));
  EXPECT_THAT(read_lags("1 1 0 0\n0 2 1 1 [0]\n").error().message, HasSubstr("modes"));
  EXPECT_THAT(read_lags("1 1 0 0\n1 1 0\n").error().message, HasSubstr("activity number"));
  EXPECT_FALSE(read_lags("0 0 0 0\n0 1 1 0 [0]\n1 1 0\n0 1 0\n1 1 0\n").has_value());  // follows itself
}

TEST(InstanceReader, RefusesMissingFilesAndUnknownEndings) {
  EXPECT_EQ(read_instance("/nowhere/x.mm").error().code, "no_file");
  EXPECT_EQ(read_instance(std::string(STILLROOM_SOURCE_DIR) + "/CMakeLists.txt").error().code, "unknown_kind");
  EXPECT_EQ(read_best_known("/nowhere/best.csv").error().code, "bad_best_file");
  EXPECT_EQ(read_best_known(std::string(STILLROOM_SOURCE_DIR) + "/CMakeLists.txt").error().code, "bad_best_file");
}

TEST(BenchOptions, AreReadAndCheckedByWord) {
  const auto o = parse_mrcpsp_options({"a.mm", "--schedules", "500", "b.mm", "--seed", "7", "--threads", "1"}).value();
  EXPECT_EQ(o.files, (std::vector<std::string>{"a.mm", "b.mm"}));
  EXPECT_EQ(o.schedules, 500);
  EXPECT_EQ(o.seed, 7U);
  EXPECT_EQ(o.threads, 1);
  EXPECT_EQ(parse_mrcpsp_options({"a.mm"})->schedules, 50000);
  EXPECT_EQ(parse_mrcpsp_options({"a.mm", "--seconds", "0.1"})->schedules, 0);
  for (const std::vector<std::string>& wrong : {std::vector<std::string>{},
                                                {"a.mm", "--seconds", "soon"},
                                                {"a.mm", "--threads", "0"},
                                                {"a.mm", "--schedules"},
                                                {"a.mm", "--speed", "9"},
                                                {"a.mm", "--clock", "sun"},
                                                {"a.mm", "--schedules", "12x"}})
    EXPECT_EQ(parse_mrcpsp_options(wrong).error().code, "bad_usage");
}

TEST(BenchOptions, InstancesAreCalledByFolderAndFile) {
  EXPECT_EQ(instance_name("/x/y/j10/a.mm"), "j10/a.mm");
  EXPECT_EQ(instance_name("j10/a.mm"), "j10/a.mm");
  EXPECT_EQ(instance_name("a.mm"), "a.mm");
}

}  // namespace
