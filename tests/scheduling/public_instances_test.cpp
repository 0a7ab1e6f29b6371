#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>

#include "../../bench/mrcpsp.h"
#include "../../bench/mrcpsp_reader.h"
#include "scheduling/project_search.h"

/// The public instances, where they are at hand: in the folder named by STILLROOM_BENCHMARKS, or beside the repository.
/// Budgets are in schedules, so that the outcome does not depend on the machine.
namespace {
using stillroom::bench::BestKnown;
using stillroom::bench::read_best_known;
using stillroom::bench::read_instance;
using stillroom::scheduling::check_schedule;
using stillroom::scheduling::ProjectSearchOptions;
using stillroom::scheduling::search_project;
using testing::IsEmpty;

std::filesystem::path instances() {
  const char* named = std::getenv("STILLROOM_BENCHMARKS");
  const std::filesystem::path root =
      named ? std::filesystem::path(named) : std::filesystem::path(STILLROOM_SOURCE_DIR) / "../shared/benchmarks";
  return root / "mrcpsp";
}

class PublicInstances : public testing::Test {
 protected:
  void SetUp() override {
    if (!std::filesystem::exists(instances() / "best_known.csv"))
      GTEST_SKIP() << "The public instances are not here; set STILLROOM_BENCHMARKS to the folder that holds mrcpsp/.";
    best_ = read_best_known((instances() / "best_known.csv").string()).value();
  }

  /// Calls `each(name, project, best known)` for the instances of a folder.
  template <class Each>
  void for_each_in(const std::string& folder, const Each& each) {
    int count = 0;
    for (const auto& [name, known] : best_) {
      if (!name.starts_with(folder + "/")) continue;
      const auto project = read_instance((instances() / name).string());
      ASSERT_TRUE(project.has_value()) << name << ": " << project.error().message;
      each(name, *project, known);
      ++count;
    }
    EXPECT_GT(count, 0) << folder;
  }

  std::map<std::string, BestKnown> best_;
};

TEST_F(PublicInstances, EverySmallOptimumIsReachedAndNeverUndercut) {
  for (const char* folder : {"j10", "j12", "j14", "j16", "j18", "j20", "c21", "m5", "n0", "n1"})
    for_each_in(folder, [&](const std::string& name, const auto& project, const BestKnown& known) {
      ProjectSearchOptions o;
      o.schedules = 300'000;
      const auto found = search_project(project, o);
      ASSERT_TRUE(found.has_value() && found->best.has_value()) << name;
      EXPECT_THAT(check_schedule(project, *found->best), IsEmpty()) << name;
      EXPECT_EQ(found->makespan, known.makespan) << name;
    });
}

TEST_F(PublicInstances, LargerOnesHoldAndStayNearTheBestKnown) {
  double gap = 0;
  int count = 0;
  for (const char* folder : {"j30", "mmlib50", "mmlib100", "rcpsp"})
    for_each_in(folder, [&](const std::string& name, const auto& project, const BestKnown& known) {
      ProjectSearchOptions o;
      o.schedules = 20'000;
      const auto found = search_project(project, o);
      ASSERT_TRUE(found.has_value() && found->best.has_value()) << name;
      EXPECT_THAT(check_schedule(project, *found->best), IsEmpty()) << name;
      if (known.proved) {
        EXPECT_GE(found->makespan, known.makespan) << name;
      }
      EXPECT_LE(found->lower_bound, *known.makespan) << name;
      gap += 100.0 * (found->makespan - *known.makespan) / *known.makespan;
      ++count;
    });
  EXPECT_LT(gap / count, 4.0);
}

TEST_F(PublicInstances, InfeasibleOnesAreProvedAndTheLimitIsNamed) {
  for_each_in("infeasible", [&](const std::string& name, const auto& project, const BestKnown&) {
    const auto found = search_project(project, {});
    ASSERT_TRUE(found.has_value() && found->impossible.has_value()) << name;
    EXPECT_FALSE(found->impossible->nonrenewable.empty()) << name;
  });
}

TEST_F(PublicInstances, MaximumLagsAreKeptWhereverAScheduleIsKnown) {
  for_each_in("rcpsp_max", [&](const std::string& name, const auto& project, const BestKnown& known) {
    if (project.activities.size() > 52) return;
    ProjectSearchOptions o;
    o.schedules = 20'000;
    const auto found = search_project(project, o);
    ASSERT_TRUE(found.has_value()) << name;
    if (!known.makespan) {
      EXPECT_FALSE(found->best.has_value()) << name;
      return;
    }
    ASSERT_TRUE(found->best.has_value()) << name;
    EXPECT_THAT(check_schedule(project, *found->best), IsEmpty()) << name;
    EXPECT_GE(found->makespan, *known.makespan) << name;
    EXPECT_LE(found->makespan, *known.makespan * 1.25) << name;
  });
}

}  // namespace
