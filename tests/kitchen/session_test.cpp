#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <chrono>

#include "kitchen/session.h"
#include "kitchen_almanac.h"

namespace stillroom::kitchen {
namespace {

using measure::Instant;
using std::chrono::hours;
using std::chrono::minutes;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

const Instant kStart = measure::parse_instant("2026-09-14T08:00:00Z").value();

/// Peel (may be put down), fill within 90 minutes, process within 15, then a chilled wait that carries a hazard clock.
BatchCard small_card() {
  BatchCard c;
  c.steps = {
      {.stage = "peel", .title = "Peel", .expected_min = 45, .can_pause = true},
      {.stage = "fill", .title = "Fill", .expected_min = 20, .lag_max_min = 90},
      {.stage = "chill", .title = "Chill overnight", .expected_min = 720, .hazard = "broth"},
      {.stage = "go_on", .title = "Reheat and fill", .expected_min = 30, .lag_min_min = 60, .lag_max_min = 2880}};
  return c;
}

TEST(Session, BeginsWithTheFirstStep) {
  const auto s = session_of(small_card(), {}, {}, kStart);
  EXPECT_FALSE(s.current);
  EXPECT_EQ(s.next, 0U);
  EXPECT_FALSE(s.finished);
  EXPECT_THAT(s.warnings, IsEmpty());
}

TEST(Session, KnowsTheStepInHandAndWhetherItMayBePutDown) {
  const auto s =
      session_of(small_card(), {{.stage = "peel", .started = kStart, .finished = {}}}, {}, kStart + minutes(10));
  EXPECT_EQ(s.current, 0U);
  EXPECT_EQ(s.next, 1U);
  EXPECT_TRUE(s.may_put_down);
  EXPECT_EQ(s.current_expected_by, kStart + minutes(45));
}

TEST(Session, SpeaksUpWhenAStepThatCannotWaitWasPutDown) {
  const auto s = session_of(small_card(),
                            {{.stage = "peel", .started = kStart, .finished = kStart + minutes(40)},
                             {.stage = "fill", .started = kStart + minutes(45), .finished = {}, .put_down = true}},
                            {}, kStart + minutes(60));
  EXPECT_TRUE(s.current_put_down);
  EXPECT_FALSE(s.may_put_down);
  EXPECT_THAT(s.warnings, ElementsAre(HasSubstr("\"Fill\" cannot be left lying")));
}

TEST(Session, TellsByWhenTheNextStepMustBegin) {
  const std::vector<StageMark> peeled{{.stage = "peel", .started = kStart, .finished = kStart + minutes(45)}};
  const auto before = session_of(small_card(), peeled, {}, kStart + minutes(60));
  ASSERT_EQ(before.deadlines.size(), 1U);
  EXPECT_EQ(before.deadlines[0].step, 1U);
  EXPECT_EQ(before.deadlines[0].by, kStart + minutes(45 + 90));
  EXPECT_FALSE(before.deadlines[0].overdue);
  const auto after = session_of(small_card(), peeled, {}, kStart + minutes(136));
  EXPECT_TRUE(after.deadlines[0].overdue);
  EXPECT_THAT(after.warnings, ElementsAre(HasSubstr("overdue")));
}

TEST(Session, AnOverdueHazardIsThrownOut) {
  const Instant chilled = kStart + hours(13);
  const std::vector<StageMark> marks{{.stage = "peel", .started = kStart, .finished = kStart},
                                     {.stage = "fill", .started = kStart, .finished = kStart + hours(1)},
                                     {.stage = "chill", .started = kStart + hours(1), .finished = chilled}};
  const auto early = session_of(small_card(), marks, {}, chilled + minutes(30));
  EXPECT_EQ(early.next, 3U);
  EXPECT_EQ(early.next_not_before, chilled + minutes(60));
  EXPECT_THAT(early.deadlines, IsEmpty());  // two days ahead, not yet worth saying
  const auto near = session_of(small_card(), marks, {}, chilled + hours(40));
  ASSERT_EQ(near.deadlines.size(), 1U);
  EXPECT_EQ(near.deadlines[0].hazard, "broth");
  const auto late = session_of(small_card(), marks, {}, chilled + hours(49));
  EXPECT_THAT(late.deadlines[0].when_overdue, HasSubstr("throw it out"));
}

TEST(Session, ListsTimersThatHaveRunOutLongestAgoFirst) {
  const auto s = session_of(
      small_card(), {},
      {{"Process", kStart + minutes(5)}, {"Vent", kStart - minutes(9)}, {"Rest", kStart - minutes(1)}}, kStart);
  EXPECT_THAT(s.due, ElementsAre("Vent", "Rest"));
}

TEST(Session, IsFinishedWhenEveryStepIs) {
  std::vector<StageMark> marks;
  for (const auto& step : small_card().steps)
    marks.push_back({.stage = step.stage, .started = kStart, .finished = kStart});
  marks.push_back({.stage = "of another card", .started = kStart, .finished = {}});
  const auto s = session_of(small_card(), marks, {}, kStart);
  EXPECT_TRUE(s.finished);
  EXPECT_FALSE(s.current);
  EXPECT_FALSE(s.next);
}

TEST(Session, OfTheBrothChainWarnsOfTheChilledBroth) {
  const auto card = make_card(the_almanac(), route("chicken/broth"), 1.36, at(500, "weighted")).value();
  std::vector<StageMark> marks;
  for (const char* stage : {"set_up", "slow_cook", "strain", "chill"})
    marks.push_back({.stage = stage, .started = kStart, .finished = kStart});
  const auto s = session_of(card, marks, {}, kStart + hours(40));
  ASSERT_TRUE(s.next);
  EXPECT_EQ(card.steps[*s.next].stage, "lift_fat");
  ASSERT_EQ(s.deadlines.size(), 1U);
  EXPECT_EQ(s.deadlines[0].by, kStart + hours(48));
  EXPECT_EQ(s.deadlines[0].hazard, "broth");
}

/// Two loads of pears, everything up to `upto` done in the order of the card.
struct TwoLoads {
  BatchCard card = make_card(the_almanac(), route("pear_european/canned_halves_hot"), 12, at(500)).value();
  std::vector<StageMark> marks{};
  void done(const std::string& stage, int minute) {
    marks.push_back({.stage = stage, .started = kStart, .finished = kStart + minutes(minute)});
  }
  [[nodiscard]] StepState state(const std::string& stage) const {
    const auto states = step_states(card, marks);
    for (std::size_t i = 0; i < states.size(); ++i)
      if (card.steps[i].stage == stage) return states[i];
    throw std::runtime_error("no step " + stage);
  }
};

TEST(Loads, GoSideBySide) {
  TwoLoads two;
  for (const char* stage : {"gather", "wash_firm", "peel_core_halve_pears"}) two.done(stage, 60);
  EXPECT_EQ(two.state("fill:1"), StepState::next);
  EXPECT_EQ(two.state("fill:2"), StepState::later);
  two.done("fill:1", 80);
  EXPECT_EQ(two.state("heat:1"), StepState::next);
  EXPECT_EQ(two.state("fill:2"), StepState::next);
  two.marks.push_back({.stage = "process:1", .started = kStart + minutes(110), .finished = {}});
  two.marks.push_back({.stage = "fill:2", .started = kStart + minutes(115), .finished = {}});
  EXPECT_EQ(two.state("process:1"), StepState::underway);
  EXPECT_EQ(two.state("fill:2"), StepState::underway);
  EXPECT_EQ(two.state("clear_up"), StepState::later);
}

TEST(Loads, TheWaitOfALoadCountsFromTheFruitAndNotFromTheLoadBefore) {
  TwoLoads two;
  for (const char* stage : {"gather", "wash_firm", "peel_core_halve_pears"}) two.done(stage, 60);
  for (const char* stage : {"fill:1", "heat:1", "process:1", "lift:1"}) two.done(stage, 140);
  const auto s = session_of(two.card, two.marks, {}, kStart + minutes(145));
  // Ninety minutes from the peeled fruit to the jar (data/routes/methods/canned_syrup.toml).
  ASSERT_FALSE(s.deadlines.empty());
  EXPECT_EQ(two.card.steps[s.deadlines[0].step].stage, "fill:2");
  EXPECT_EQ(s.deadlines[0].by, kStart + minutes(150));
}

TEST(Loads, JarsThatRestDoNotHoldUpTheCleaning) {
  TwoLoads two;
  for (const Step& step : two.card.steps) {
    if (step.stage == "clear_up") break;
    if (step.stage == "cool:1") {
      two.marks.push_back({.stage = step.stage, .started = kStart, .finished = {}});
    } else {
      two.done(step.stage, 10);
    }
  }
  EXPECT_EQ(two.state("cool:1"), StepState::underway);
  EXPECT_EQ(two.state("clear_up"), StepState::next);
}

}  // namespace
}  // namespace stillroom::kitchen
