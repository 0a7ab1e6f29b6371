#include "scheduling/infeasibility.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scheduling/project_search.h"
#include "small_projects.h"

namespace {
using stillroom::scheduling::explain_infeasible;
using stillroom::scheduling::fitting_modes;
using stillroom::scheduling::Project;
using stillroom::scheduling::search_project;
using stillroom::scheduling::test::fixed;
using stillroom::scheduling::test::follows;
using stillroom::scheduling::test::random_project;
using stillroom::scheduling::test::start_lag;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::UnorderedElementsAre;

// Three activities, two modes each; non-renewables 0, 1, 2.
Project three(std::vector<int> totals) {
  Project p;
  p.renewable = {4};
  p.nonrenewable = std::move(totals);
  for (int i = 0; i < 3; ++i) p.activities.push_back({{{2, {3}, {1, 4, 2}}, {5, {1}, {4, 1, 2}}}});
  return p;
}

TEST(Infeasibility, NothingIsSaidOfAProjectThatFits) {
  // Modes 0, 0, 1 draw 6, 9, 6.
  EXPECT_FALSE(explain_infeasible(three({6, 9, 6})).has_value());
  EXPECT_TRUE(fitting_modes(three({6, 9, 6}), {0, 1, 2}, {0}).has_value());
}

TEST(Infeasibility, NamesTheOneLimitThatCannotBeMet) {
  const auto found = explain_infeasible(three({6, 9, 5}));  // resource 2 draws 6 whatever the modes
  ASSERT_TRUE(found.has_value());
  EXPECT_EQ(found->code, "nonrenewable_exceeded");
  EXPECT_THAT(found->nonrenewable, ElementsAre(2));
  EXPECT_THAT(found->renewable, IsEmpty());
  EXPECT_THAT(found->message, HasSubstr("draw 6 of 5"));
}

TEST(Infeasibility, NamesTheSmallestSetThatClashes) {
  // With k activities in mode 1: resource 0 draws 3 + 3k, resource 1 draws 12 - 3k. 6 allows k <= 1, 8 needs k >= 2;
  // each alone can be met, and resource 2 has nothing to do with it.
  const auto found = explain_infeasible(three({6, 8, 100}));
  ASSERT_TRUE(found.has_value());
  EXPECT_THAT(found->nonrenewable, ElementsAre(0, 1));
}

TEST(Infeasibility, ARenewableThatBarsModesIsNamedToo) {
  Project p = three({8, 100, 100});
  p.renewable = {2};  // only mode 1 runs, which draws 12 of resource 0
  const auto found = explain_infeasible(p);
  ASSERT_TRUE(found.has_value());
  EXPECT_THAT(found->nonrenewable, ElementsAre(0));
  EXPECT_THAT(found->renewable, ElementsAre(0));
}

TEST(Infeasibility, NamesAnActivityThatIsTooLargeInEveryMode) {
  Project p = three({100, 100, 100});
  p.activities[1].modes = {{{2, {5}, {0, 0, 0}}, {3, {6}, {0, 0, 0}}}};
  const auto found = explain_infeasible(p);
  ASSERT_TRUE(found.has_value());
  EXPECT_EQ(found->code, "activity_too_large");
  EXPECT_THAT(found->activities, ElementsAre(1));
  EXPECT_THAT(found->renewable, ElementsAre(0));
}

TEST(Infeasibility, NamesTheCircle) {
  Project p = three({100, 100, 100});
  p.lags = {follows(0, 1), follows(1, 2), follows(2, 1)};
  const auto found = explain_infeasible(p);
  ASSERT_TRUE(found.has_value());
  EXPECT_EQ(found->code, "circular_precedence");
  EXPECT_THAT(found->activities, UnorderedElementsAre(1, 2));

  Project lags;
  lags.renewable = {1};
  lags.activities = {fixed(1, 0), fixed(1, 0), fixed(1, 0)};
  lags.lags = {start_lag(0, 1, 5), start_lag(1, 2, 2), start_lag(2, 0, -7)};
  EXPECT_FALSE(explain_infeasible(lags).has_value());  // a circle of length 0 can be met
  lags.lags.back().lag = -6;
  const auto positive = explain_infeasible(lags);
  ASSERT_TRUE(positive.has_value());
  EXPECT_EQ(positive->code, "positive_cycle");
  EXPECT_THAT(positive->activities, UnorderedElementsAre(0, 1, 2));
}

TEST(Infeasibility, NamesTwoActivitiesWithoutRoomForEitherOrder) {
  Project p;
  p.renewable = {1};
  p.activities = {fixed(5, 1), fixed(5, 1), fixed(1, 0)};
  p.lags = {start_lag(0, 1, -4), start_lag(1, 0, -4)};  // within 4 of each other, 5 long, one at a time
  const auto found = search_project(p, {});
  ASSERT_TRUE(found.has_value());
  ASSERT_TRUE(found->impossible.has_value());
  EXPECT_EQ(found->impossible->code, "no_room_in_lags");
  EXPECT_THAT(found->impossible->activities, ElementsAre(0, 1));
  EXPECT_FALSE(found->best.has_value());
}

TEST(Infeasibility, AgreesWithTryingEveryChoiceOfModes) {
  stillroom::measure::Random rng(3);
  int infeasible = 0;
  for (int round = 0; round < 400; ++round) {
    Project p = random_project(rng, {.activities = 5, .nonrenewable_share = 0.3});
    p.nonrenewable = {0, 0, 0};
    for (auto& a : p.activities)
      for (auto& m : a.modes) m.nonrenewable = {1 + int(rng.below(9)), 1 + int(rng.below(9)), 1 + int(rng.below(9))};
    for (int& total : p.nonrenewable) total = 12 + static_cast<int>(rng.below(14));
    bool fits = false;
    for (int code = 0; code < 243 && !fits; ++code) {
      std::vector<int> drawn(3, 0);
      for (int i = 0, rest = code; i < 5; ++i, rest /= 3)
        for (int k = 0; k < 3; ++k) drawn[k] += p.activities[i].modes[rest % 3].nonrenewable[k];
      fits = drawn[0] <= p.nonrenewable[0] && drawn[1] <= p.nonrenewable[1] && drawn[2] <= p.nonrenewable[2];
    }
    const auto proof = explain_infeasible(p);
    ASSERT_EQ(proof.has_value(), !fits);
    infeasible += !fits;
    if (!proof) continue;
    EXPECT_FALSE(fitting_modes(p, proof->nonrenewable, {}).has_value());
    for (std::size_t out = 0; out < proof->nonrenewable.size(); ++out) {
      auto fewer = proof->nonrenewable;
      fewer.erase(fewer.begin() + static_cast<long>(out));
      EXPECT_TRUE(fitting_modes(p, fewer, {}).has_value()) << "the set named is not smallest";
    }
  }
  EXPECT_GT(infeasible, 50);
  EXPECT_LT(infeasible, 350);
}

}  // namespace
