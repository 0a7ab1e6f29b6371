#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "app/household.h"
#include "kitchen/batch.h"
#include "kitchen/process_words.h"

// What is said to be processed as published was: by a verified row, for all of its minutes, whatever people do.
namespace stillroom::app {
namespace {

using std::chrono::minutes;
using testing::AllOf;
using testing::Contains;
using testing::Each;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::StartsWith;

constexpr std::string_view kPears = "pear_european/canned_halves_hot";

struct Canning {
  House h = test::kitchen();
  Instant now = test::morning();
  std::string batch;

  explicit Canning(const std::string& line = "15 lb pears, firm, on the counter", std::string_view route = kPears) {
    const std::string lot = test::bring(h, now, line);
    const auto id = start_batch(h, now, route, {lot}, 0);
    EXPECT_TRUE(id) << (id ? "" : id.error().message);
    batch = id.value_or("");
  }
  [[nodiscard]] BatchView view() const { return batch_view(h, now, batch).value(); }
  [[nodiscard]] StepView step(const std::string& stage) const {
    for (const StepView& s : view().steps)
      if (s.stage == stage) return s;
    ADD_FAILURE() << "no step " << stage;
    return {};
  }
  void run(const std::string& stage, int how_long = 30) {
    ASSERT_TRUE(start_stage(h, now, batch, stage)) << stage;
    now += minutes(how_long);
    const auto done = finish_stage(h, now, batch, stage);
    ASSERT_TRUE(done) << stage << ": " << done.error().message;
  }
  std::string packed(double packs = 6) {
    const auto id = pack(h, now, batch, packs, "");
    EXPECT_TRUE(id) << (id ? "" : id.error().message);
    return id.value_or("");
  }
  [[nodiscard]] PackView on_shelf() const { return larder_view(h, now).shelves.at(0).packs.at(0); }
};

TEST(Processed, AFinishedBatchSaysSoOnEveryView) {
  Canning c;
  c.run("process");
  c.packed();
  // USDA AIB-539 Guide 2, pears hot, quarts, 1,001 to 3,000 ft: 30 minutes. The household lies at 1,200 ft.
  const auto sentence =
      AllOf(StartsWith("Processed as published in USDA AIB-539 Guide 2"), HasSubstr("edition read"),
            HasSubstr("quart jars in a boiling-water canner, 30 min"), HasSubstr("1,001 to 3,000 ft"));
  EXPECT_THAT(c.view().processed, sentence);
  EXPECT_THAT(c.on_shelf().process_line, sentence);
  EXPECT_THAT(history(c.h, 1).front().words, HasSubstr("Processed as published"));
  EXPECT_EQ(c.view().not_food, "");
}

TEST(Processed, ABatchBegunAMomentAgoIsNotPacked) {
  Canning c;
  const auto early = pack(c.h, c.now, c.batch, 6, "");
  ASSERT_FALSE(early);
  EXPECT_EQ(early.error().code, "not_processed");
  EXPECT_THAT(early.error().instead, Not(IsEmpty()));
}

TEST(Processed, ItsClockMayBeSaidByHandAndIsToldAsThat) {
  Canning c;
  ASSERT_TRUE(start_stage(c.h, c.now, c.batch, "process"));
  c.now += minutes(1);
  const auto early = finish_stage(c.h, c.now, c.batch, "process");
  ASSERT_FALSE(early);
  EXPECT_EQ(early.error().code, "process_too_short");
  c.now += minutes(10);
  // Nine in the morning at Test Hill when the batch began, so 9:05 lies in it and 8:00 does not.
  EXPECT_EQ(correct_clock(c.h, c.now, c.batch, "process", "08:00").error().code, "before_the_batch");
  EXPECT_EQ(correct_clock(c.h, c.now, c.batch, "process", "five past nine").error().code, "bad_time");
  c.now += minutes(30);
  ASSERT_TRUE(correct_clock(c.h, c.now, c.batch, "process", "09:05"));
  ASSERT_TRUE(finish_stage(c.h, c.now, c.batch, "process"));
  c.packed();
  EXPECT_THAT(c.view().processed, HasSubstr("When its clock began was said by"));
}

TEST(Processed, PacksFromAnOutboxWithoutAProcessAreNeverSaidToHaveOne) {
  Canning c;
  const ledger::Entry fact{.id = c.h.random.id(),
                           .happened = c.now,
                           .who = "",
                           .live = false,
                           .what = ledger::Packed{.batch = *ledger::Id::parse(c.batch),
                                                  .parcel = c.h.random.id(),
                                                  .food = "pear_european",
                                                  .form = "canned halves",
                                                  .pack = "quart jar",
                                                  .packs = 6,
                                                  .mass = {},
                                                  .place = "",
                                                  .code = "",
                                                  .eat_by = {}}};
  ASSERT_TRUE(receive_entries(c.h, c.now, "[" + ledger::to_json(fact) + "]"));
  EXPECT_EQ(c.on_shelf().process_line, "");
  EXPECT_THAT(c.on_shelf().do_not_eat, HasSubstr("not known to be processed"));
  EXPECT_THAT(larder_view(c.h, c.now).eat_first, IsEmpty());
  EXPECT_THAT(larder_view(c.h, c.now).totals, IsEmpty());
  EXPECT_EQ(take(c.h, c.now, larder_view(c.h, c.now).shelves.at(0).packs.at(0).parcel, 1).error().code, "do_not_eat");
  EXPECT_THAT(check(c.h, c.now), IsEmpty());
}

TEST(Processed, ACardMadeElsewhereIsNotTaken) {
  House h = test::kitchen();
  const std::string lot = test::bring(h, test::morning(), "15 lb pears, firm, on the counter");
  auto draft = draft_batch(h, test::morning(), kPears, {lot}, 0).value();
  const auto send = [&](bool live) {
    const ledger::Entry e{.id = h.random.id(), .happened = test::morning(), .who = "", .live = live, .what = draft};
    return receive_entries(h, test::morning(), "[" + ledger::to_json(e) + "]").value().front();
  };
  auto card = nlohmann::json::parse(draft.steps_json);
  card["process"]["time_min"] = 1;
  draft.steps_json = card.dump();
  const Received forged = send(true);
  ASSERT_TRUE(forged.refusal);
  EXPECT_EQ(forged.refusal->code, "not_published");
  // As a fact it is kept; what comes of it is never said to be processed as published.
  ASSERT_TRUE(send(false).stored);
  Instant now = test::morning();
  const std::string batch = draft.batch.hex();
  ASSERT_TRUE(start_stage(h, now, batch, "process"));
  now += minutes(2);
  ASSERT_TRUE(finish_stage(h, now, batch, "process"));
  ASSERT_TRUE(pack(h, now, batch, 6, ""));
  EXPECT_EQ(larder_view(h, now).shelves.at(0).packs.at(0).process_line, "");
}

TEST(Guided, SaysBeforehandWhatCannotBePutDownAndRefusesIt) {
  Canning c;
  EXPECT_NE(c.step("fill").put_down_words, "");
  EXPECT_EQ(c.step("gather").put_down_words, "");
  ASSERT_TRUE(start_stage(c.h, c.now, c.batch, "fill"));
  const auto down = put_down_stage(c.h, c.now, c.batch, "fill");
  ASSERT_FALSE(down);
  EXPECT_EQ(down.error().code, "cannot_be_put_down");
}

TEST(Guided, BeginsByGatheringAndSpeaksInSentences) {
  const Canning c;
  const BatchView v = c.view();
  EXPECT_EQ(v.steps.front().stage, "gather");
  EXPECT_EQ(v.current, 0);
  EXPECT_THAT(v.steps.front().gather, Contains(HasSubstr("jar lifter")));
  EXPECT_THAT(v.steps.front().gather, Contains("boiling-water canner"));
  EXPECT_EQ(v.process->method, "boiling-water canner");
  for (const std::string& line : v.process->requirements) EXPECT_EQ(line.back(), '.') << line;
  EXPECT_THAT(c.step("process").looks_right, Not(IsEmpty()));
}

TEST(Guided, FollowsTwoLoadsSideBySide) {
  Canning c("26 lb pears, firm, on the counter");
  for (const char* stage : {"gather", "wash_firm", "peel_core_halve_pears", "fill:1", "heat:1"}) c.run(stage, 15);
  ASSERT_TRUE(start_stage(c.h, c.now, c.batch, "process:1"));
  ASSERT_TRUE(start_stage(c.h, c.now, c.batch, "fill:2"));
  EXPECT_EQ(c.step("process:1").state, "underway");
  EXPECT_EQ(c.step("fill:2").state, "underway");
  c.now += minutes(30);
  ASSERT_TRUE(finish_stage(c.h, c.now, c.batch, "process:1"));
  ASSERT_FALSE(pack(c.h, c.now, c.batch, 10, ""));
  ASSERT_TRUE(pack(c.h, c.now, c.batch, 7, "")) << "the jars of the load that is done";
  EXPECT_THAT(c.view().processed, StartsWith("Processed as published"));
}

TEST(Trouble, TellsWhatToDoAndWritesItDown) {
  Canning c;
  c.run("heat");
  ASSERT_TRUE(start_stage(c.h, c.now, c.batch, "process"));
  c.now += minutes(20);
  const auto answer =
      what_now(c.h, {.about = c.batch, .fault = "boil_stopped", .elapsed_min = 3, .outcome = "", .stage = ""});
  ASSERT_TRUE(answer) << answer.error().message;
  EXPECT_THAT(answer->then, HasSubstr("the whole time again"));
  const auto met = meet_trouble(
      c.h, c.now, {.about = c.batch, .fault = "boil_stopped", .elapsed_min = 3, .outcome = "", .stage = ""});
  ASSERT_TRUE(met) << met.error().message;
  EXPECT_EQ(c.step("process").state, "next");
  EXPECT_THAT(c.view().went_wrong, Each(HasSubstr("the boil stopped")));
  EXPECT_THAT(history(c.h, 1).front().words, HasSubstr("The boil stopped"));
  const auto boiled = meet_trouble(
      c.h, c.now, {.about = c.batch, .fault = "boil_stopped", .elapsed_min = 3, .outcome = "go_on", .stage = ""});
  ASSERT_FALSE(boiled);
  EXPECT_EQ(boiled.error().code, "not_that_way");
  EXPECT_EQ(what_now(c.h, {.about = c.batch, .fault = "aliens", .outcome = "", .stage = ""}).error().code,
            "unknown_trouble");
}

TEST(Trouble, AWrongAltitudeFoundLaterFlagsEveryPackItConcerns) {
  Canning c;
  c.run("process");
  const std::string pears = c.packed();
  const std::string lot = test::bring(c.h, c.now, "10 lb spinach, firm, in the fridge");
  // 5,000 ft: pears want 35 minutes there (USDA AIB-539 Guide 2), and had 30.
  ASSERT_TRUE(answer_start(c.h, c.now, "altitude", "5,000 ft"));
  EXPECT_THAT(c.on_shelf().do_not_eat, HasSubstr("altitude is set to"));
  EXPECT_EQ(take(c.h, c.now, c.on_shelf().code, 1).error().code, "do_not_eat");
  ASSERT_EQ(c.view().in_doubt.size(), 1U);
  c.now += std::chrono::hours(30);
  const WentWrong wrong{.about = c.batch, .fault = "wrong_setting", .elapsed_min = 1800, .outcome = "", .stage = ""};
  ASSERT_EQ(what_now(c.h, wrong)->packs.size(), 1U);
  ASSERT_TRUE(meet_trouble(c.h, c.now, wrong));
  EXPECT_THAT(c.on_shelf().do_not_eat, HasSubstr("altitude or the canner"));
  EXPECT_EQ(c.on_shelf().process_line, "");
  EXPECT_EQ(c.view().processed, "");
  EXPECT_NE(c.view().not_food, "");
  EXPECT_EQ(leave(c.h, c.now, pears, "1 jar", Leaves::eaten, "").error().code, "do_not_eat");
  EXPECT_TRUE(leave(c.h, c.now, pears, "all", Leaves::thrown_away, "wrong altitude"));
  EXPECT_THAT(check(c.h, c.now), IsEmpty());
}

TEST(Trouble, AnAltitudeThatStillFitsPutsNothingInDoubt) {
  Canning c;
  c.run("process");
  c.packed();
  ASSERT_TRUE(answer_start(c.h, c.now, "altitude", "500 ft"));  // there 25 minutes would have done
  EXPECT_EQ(c.on_shelf().do_not_eat, "");
  const auto none = meet_trouble(
      c.h, c.now, {.about = c.batch, .fault = "wrong_setting", .elapsed_min = 5, .outcome = "", .stage = ""});
  ASSERT_FALSE(none);
  EXPECT_EQ(none.error().code, "settings_first");
}

TEST(Trouble, AFreezerLeftOpenFlagsWhatLiesInIt) {
  Canning c("5 lb green beans, firm, in the fridge", "bean_snap/frozen");
  ASSERT_TRUE(pack(c.h, c.now, c.batch, 4, ""));
  const auto can_be = troubles_of(c.h, "freezer");
  ASSERT_TRUE(can_be) << can_be.error().message;
  std::vector<std::string> faults;
  for (const TroubleView& t : *can_be) faults.push_back(t.fault);
  EXPECT_THAT(faults, Contains("freezer_open"));
  EXPECT_THAT(faults, Not(Contains("boil_stopped")));
  const WentWrong open{.about = "freezer", .fault = "freezer_open", .elapsed_min = 300, .outcome = "", .stage = ""};
  EXPECT_THAT(what_now(c.h, open)->outcomes.front(), "discard");
  ASSERT_TRUE(meet_trouble(c.h, c.now, open));
  EXPECT_THAT(c.on_shelf().do_not_eat, HasSubstr("freezer was left open"));
  ASSERT_TRUE(undo(c.h, c.now, ""));
  EXPECT_EQ(c.on_shelf().do_not_eat, "");
}

TEST(Trouble, OneJarIsOneJar) {
  Canning c;
  c.run("process");
  const std::string jars = c.packed(6);
  ASSERT_TRUE(meet_trouble(c.h, c.now, {.about = jars, .fault = "bulging", .outcome = "", .stage = "", .packs = 1}));
  double good = 0, bad = 0;
  const LarderView larder = larder_view(c.h, c.now);
  for (const PackView& p : larder.shelves.at(0).packs) (p.do_not_eat.empty() ? good : bad) += p.packs;
  EXPECT_EQ(good, 5);
  EXPECT_EQ(bad, 1);
}

}  // namespace
}  // namespace stillroom::app
