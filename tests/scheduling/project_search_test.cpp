#include "scheduling/project_search.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scheduling/detail/project_state.h"
#include "small_projects.h"

namespace {
using stillroom::measure::Random;
using stillroom::scheduling::Amount;
using stillroom::scheduling::check_schedule;
using stillroom::scheduling::CompiledProject;
using stillroom::scheduling::Mode;
using stillroom::scheduling::Project;
using stillroom::scheduling::ProjectSearchOptions;
using stillroom::scheduling::ProjectState;
using stillroom::scheduling::Schedule;
using stillroom::scheduling::search_project;
using stillroom::scheduling::Time;
using stillroom::scheduling::test::Exhaustive;
using stillroom::scheduling::test::fixed;
using stillroom::scheduling::test::follows;
using stillroom::scheduling::test::random_project;
using stillroom::scheduling::test::start_lag;
using testing::IsEmpty;

Time shortest_found(const Project& p, long schedules = 4000, std::uint64_t seed = 1) {
  ProjectSearchOptions o;
  o.schedules = schedules;
  o.seed = seed;
  o.threads = 1;
  const auto found = search_project(p, o);
  EXPECT_TRUE(found.has_value());
  if (!found || !found->best) return -1;
  EXPECT_THAT(check_schedule(p, *found->best), IsEmpty());
  EXPECT_EQ(makespan(p, *found->best), found->makespan);
  EXPECT_GE(found->makespan, found->lower_bound);
  return found->makespan;
}

// Six activities on one resource of 4: durations 4 2 3 5 2 1, demands 2 2 2 2 3 4. Work 8+4+6+10+6+4 = 38 of 4 a
// period: at least 10 periods. The last needs all 4 alone (1 period), the fifth needs 3 (2 periods, nobody beside it as
// everyone else takes 2): 3 periods apart; the rest, 4+2+3+5 in pairs of 2, takes at least 7. So 10, reached by
// {4,3} beside {5,2}.
TEST(ProjectSearch, PacksOneResourceExactly) {
  Project p;
  p.renewable = {4};
  p.activities = {fixed(4, 2), fixed(2, 2), fixed(3, 2), fixed(5, 2), fixed(2, 3), fixed(1, 4)};
  EXPECT_EQ(shortest_found(p), 10);
}

// The total pays for one quick mode only: 1000 + 1, against 1 + 2000 and 1000 + 2000, which the longest path alone
// rules out while the search is cold. The lower bound of 2 is out of reach, so only the budget can end the search.
TEST(ProjectSearch, EndsWhereEveryChangeIsRefusedUnseen) {
  Project p;
  p.nonrenewable = {1};
  p.activities = {{{{1000, {}, {0}}, {1, {}, {1}}}}, {{{2000, {}, {0}}, {1, {}, {1}}}}};
  p.lags = {follows(0, 1)};
  EXPECT_EQ(shortest_found(p), 1001);
}

// A chain of three, each 6 periods long or 2 periods at a draw of 3; total draw 6 pays for two quick ones: 2 + 2 + 6.
TEST(ProjectSearch, SpendsTheNonRenewableWhereItShortens) {
  Project p;
  p.nonrenewable = {6};
  for (int i = 0; i < 3; ++i) p.activities.push_back({{{6, {}, {0}}, {2, {}, {3}}}});
  p.lags = {follows(0, 1), follows(1, 2)};
  EXPECT_EQ(shortest_found(p), 10);
}

// The quick mode (2 periods, demand 3 of 3) forbids running side by side, the slow one (4 periods, demand 1) allows it:
// three activities take 3 x 2 = 6 in quick modes, 4 all slow, and any mixture 2 + 4 = 6.
TEST(ProjectSearch, TakesSlowModesWhereTheyShareBetter) {
  Project p;
  p.renewable = {3};
  for (int i = 0; i < 3; ++i) p.activities.push_back({{{2, {3}, {}}, {4, {1}, {}}}});
  EXPECT_EQ(shortest_found(p), 4);
}

// Blanch (2), chill (3) at most 1 after blanching starts, into the freezer (1) at most 4 after blanching starts, all on
// one pair of hands but the chilling: 0-2, 1-4, 4-5. A second chain of the same kind shares the hands: the first
// freezer job must lie in 4..4 and the second blanching cannot cover it, so it starts at 2 and ends 4, freezer at 6..6:
// 4 is taken by the first chain for one period, the second chain's freezer job runs 6-7. Makespan 7.
TEST(ProjectSearch, KeepsMaximumLags) {
  Project p;
  p.renewable = {1};
  p.lags = {};
  for (int chain = 0; chain < 2; ++chain) {
    const int b = 3 * chain;
    p.activities.insert(p.activities.end(), {fixed(2, 1), fixed(3, 0), fixed(1, 1)});
    p.lags.push_back(start_lag(b, b + 1, 1));
    p.lags.push_back(start_lag(b + 1, b, -1));
    p.lags.push_back(start_lag(b + 1, b + 2, 3));
    p.lags.push_back(start_lag(b + 2, b, -4));
  }
  EXPECT_EQ(Exhaustive(p).shortest(), 7);
  EXPECT_EQ(shortest_found(p), 7);
}

TEST(ProjectSearch, AnEmptyProjectTakesNoTime) { EXPECT_EQ(shortest_found(Project{}), 0); }

TEST(ProjectSearch, ActivitiesThatTakeNoTimeKeepTheirPlace) {
  Project p;
  p.renewable = {1};
  p.activities = {fixed(0, 0), fixed(3, 1), fixed(0, 1), fixed(2, 1), fixed(0, 0)};
  p.lags = {follows(0, 1), follows(1, 2), follows(2, 3), follows(3, 4)};
  EXPECT_EQ(shortest_found(p), 5);
}

TEST(ProjectSearch, RefusesWhatItCannotHold) {
  Project p;
  p.renewable = std::vector<Amount>(40, 3);
  p.activities = {{{{1, std::vector<Amount>(40, 2), {}}, {2, std::vector<Amount>(40, 1), {}}}}};
  p.activities.push_back(p.activities.front());
  EXPECT_EQ(search_project(p, {}).error().code, "too_wide");
  p = {};
  p.activities = {{{{1, {}, {}}, {2, {}, {}}}}, {{{1, {}, {}}}}};
  p.lags = {start_lag(0, 1, 2)};
  EXPECT_EQ(search_project(p, {}).error().code, "unsupported_lags");
  p.lags = {follows(0, 7)};
  EXPECT_EQ(search_project(p, {}).error().code, "bad_project");
}

TEST(ProjectSearch, ReachesTheExactOptimumOfSmallProjects) {
  Random rng(17);
  for (int round = 0; round < 60; ++round) {
    const Project p = random_project(rng, {.activities = 4 + round % 2, .modes = 2, .longest = 4});
    const auto exact = Exhaustive(p).shortest();
    const Time found = shortest_found(p);
    if (exact)
      EXPECT_EQ(found, *exact) << "round " << round;
    else
      EXPECT_EQ(found, -1) << "round " << round;
  }
}

TEST(ProjectSearch, ReachesTheExactOptimumUnderMaximumLags) {
  Random rng(23);
  int feasible = 0;
  for (int round = 0; round < 80; ++round) {
    Project p;
    p.renewable = {3};
    for (int i = 0; i < 5; ++i)
      p.activities.push_back(fixed(1 + static_cast<Time>(rng.below(4)), 1 + static_cast<Amount>(rng.below(3))));
    for (int i = 0; i < 5; ++i)
      for (int j = i + 1; j < 5; ++j) {
        if (rng.uniform() > 0.4) continue;
        const auto least = static_cast<Time>(rng.below(5));
        p.lags.push_back(start_lag(i, j, least));
        if (rng.uniform() < 0.5) p.lags.push_back(start_lag(j, i, -least - static_cast<Time>(rng.below(3))));
      }
    const auto exact = Exhaustive(p).shortest();
    feasible += exact.has_value();
    EXPECT_EQ(shortest_found(p), exact.value_or(-1)) << "round " << round;
  }
  EXPECT_GT(feasible, 30);
  EXPECT_LT(feasible, 80);
}

TEST(ProjectSearch, TheMirroredProjectHasTheSameOptimum) {
  Random rng(29);
  for (int round = 0; round < 30; ++round) {
    const Project p = random_project(rng, {.activities = 8, .nonrenewable_share = 0.6});
    EXPECT_EQ(shortest_found(p, 20000), shortest_found(mirrored(p), 20000)) << "round " << round;
  }
}

TEST(ProjectSearch, RelaxingAConstraintNeverLengthens) {
  Random rng(31);
  for (int round = 0; round < 40; ++round) {
    const Project p = random_project(rng, {.activities = 7, .nonrenewable_share = 0.5});
    const Time before = shortest_found(p, 10000);
    ASSERT_GT(before, 0);
    Project roomier = p;
    for (Amount& c : roomier.renewable) c += 2;
    Project richer = p;
    richer.nonrenewable[0] += 5;
    Project freer = p;
    if (!freer.lags.empty()) freer.lags.pop_back();
    Project handier = p;
    handier.activities[0].modes.push_back({1, {1, 1}, {1}});
    for (const Project* relaxed : {&roomier, &richer, &freer, &handier})
      EXPECT_LE(shortest_found(*relaxed, 10000), before) << "round " << round;
  }
}

TEST(ProjectSearch, SameSeedAndScheduleCountGiveTheSameScheduleOnOneThreadAndOnTwo) {
  Random rng(37);
  const Project p = random_project(rng, {.activities = 30, .longest = 9, .demand = 5, .arc_share = 0.08});
  std::vector<Schedule> schedules;
  for (const int threads : {1, 2, 2}) {
    ProjectSearchOptions o;
    o.schedules = 20000;
    o.threads = threads;
    o.seed = 5;
    const auto found = search_project(p, o);
    ASSERT_TRUE(found.has_value() && found->best.has_value());
    schedules.push_back(*found->best);
    EXPECT_NEAR(static_cast<double>(found->statistics.schedules), 20000, 10);
  }
  EXPECT_EQ(schedules[0], schedules[1]);
  EXPECT_EQ(schedules[1], schedules[2]);
}

// 1,500,000 schedules and more have a second leg (project_search.cpp).
TEST(ProjectSearch, ALongSearchGivesTheSameScheduleOnOneThreadAndOnTwo) {
  Random rng(61);
  const Project p = random_project(rng, {.activities = 12, .demand = 5, .arc_share = 0.2});
  std::vector<Schedule> schedules;
  for (const int threads : {1, 2}) {
    ProjectSearchOptions o;
    o.schedules = 1'500'000;
    o.threads = threads;
    const auto found = search_project(p, o);
    ASSERT_TRUE(found.has_value() && found->best.has_value());
    ASSERT_GT(found->makespan, found->lower_bound);  // or else the search ends before its second leg
    EXPECT_GE(found->statistics.schedules, 1'500'000);
    EXPECT_THAT(check_schedule(p, *found->best), IsEmpty());
    EXPECT_EQ(makespan(p, *found->best), found->makespan);
    EXPECT_LE(found->makespan, shortest_found(p, 50'000));
    schedules.push_back(*found->best);
  }
  EXPECT_EQ(schedules[0], schedules[1]);
}

/// Goes downhill for 2000 candidates.
ProjectState::Snapshot descended(ProjectState& state, Random& rng) {
  ProjectState::Snapshot out;
  state.save(out);
  for (int k = 0; k < 2000; ++k) {
    state.propose(rng, k / 2000.0);
    if (state.evaluate(out.makespan + 1).cost > out.makespan) {
      state.reject();
      continue;
    }
    state.accept();
    state.save(out);
  }
  return out;
}

// What the modes chosen draw is checked with the schedule.
TEST(ProjectSearch, TheSecondLegChoosesModesWithLessWorkAndKeepsThem) {
  Random rng(67);
  for (int round = 0; round < 5; ++round) {
    const Project p = random_project(rng, {.activities = 30, .longest = 9, .demand = 5, .arc_share = 0.01});
    const auto compiled = CompiledProject::compile(p);
    ASSERT_TRUE(compiled.has_value());
    const auto work = [&](const ProjectState::Snapshot& s) {  // periods of full use
      double most = 0;
      for (int r = 0; r < compiled->renewables; ++r) {
        double sum = 0;
        for (const int m : s.mode) sum += compiled->work[m * compiled->renewables + r];
        most = std::max(most, sum / compiled->capacity[r]);
      }
      return most;
    };
    ProjectState state(*compiled, 0.1);
    state.start(rng);
    const ProjectState::Snapshot first = descended(state, rng);
    const auto e = state.restart(first, rng);
    ProjectState::Snapshot second;
    state.save(second);
    const ProjectState::Snapshot later = descended(state, rng);
    EXPECT_EQ(e.cost, second.makespan);
    EXPECT_LT(work(second), work(first));
    EXPECT_EQ(later.mode, second.mode);
    EXPECT_NE(later.order, second.order);
    for (const auto& s : {second, later}) {
      const Schedule schedule = compiled->expand(p, s.mode, s.start);
      EXPECT_THAT(check_schedule(p, schedule), IsEmpty());
      EXPECT_EQ(makespan(p, schedule), s.makespan);
    }
  }
}

TEST(ProjectSearch, TheSecondLegKeepsTheModesFreeWhereTheWorkLeavesRoom) {
  Random rng(71);
  const Project p = random_project(rng, {.activities = 30, .renewable = 30, .arc_share = 0.5});
  const auto compiled = CompiledProject::compile(p);
  ASSERT_TRUE(compiled.has_value());
  ProjectState state(*compiled, 0.1);
  state.start(rng);
  ProjectState::Snapshot first, second;
  state.save(first);
  EXPECT_EQ(state.restart(first, rng).schedules, 0);
  state.save(second);
  EXPECT_EQ(second.mode, first.mode);
  EXPECT_EQ(second.start, first.start);
  EXPECT_NE(descended(state, rng).mode, first.mode);
}

TEST(ProjectSearch, EveryScheduleShownOnTheWayHolds) {
  Random rng(41);
  for (int round = 0; round < 5; ++round) {
    const Project p = random_project(rng, {.activities = 25, .longest = 9, .demand = 5, .arc_share = 0.08});
    ProjectSearchOptions o;
    o.schedules = 5000;
    Time last = 1'000'000;
    o.on_better = [&](const Schedule& s, Time length) {
      EXPECT_THAT(check_schedule(p, s), IsEmpty());
      EXPECT_EQ(makespan(p, s), length);
      EXPECT_LT(length, last);
      last = length;
    };
    const auto found = search_project(p, o);
    ASSERT_TRUE(found.has_value());
    EXPECT_EQ(found->makespan, last);
  }
}

TEST(ProjectSearch, StopsWhenCancelled) {
  Random rng(43);
  const Project p = random_project(rng, {.activities = 40, .longest = 9, .demand = 5, .arc_share = 0.05});
  ProjectSearchOptions o;
  o.schedules = 0;
  o.seconds = 3600;
  o.threads = 1;
  int polls = 0;
  o.elapsed = [] { return 0.0; };
  o.cancelled = [&] { return ++polls > 20; };
  const auto found = search_project(p, o);
  ASSERT_TRUE(found.has_value() && found->best.has_value());
  EXPECT_TRUE(found->statistics.cancelled);
  EXPECT_THAT(check_schedule(p, *found->best), IsEmpty());
}

}  // namespace
