#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "app/household.h"
#include "app/json.h"

// A kitchen that takes its own time, and what the plan makes of it.
namespace stillroom::app {
namespace {

using test::bring;
using test::morning;

constexpr const char* kBeans = "bean_snap/frozen";
constexpr double kBatchKg = 4;

Instant day_at(int day) { return morning() + std::chrono::hours(24 * day); }

const almanac::Route& as_published(std::string_view key) { return *test::published().routes.find(key); }

const almanac::Route* as_planned(const House& h, Instant now, std::string_view key) {
  static planning::Household snapshot;
  snapshot = snapshot_for_planning(h, now).value();
  const auto it = std::ranges::find(snapshot.routes, key, &almanac::Route::key);
  return it == snapshot.routes.end() ? nullptr : &*it;
}

const LearnedLine* line_for(const LearnedView& v, std::string_view stage) {
  const auto it = std::ranges::find(v.lines, stage, &LearnedLine::stage);
  return it == v.lines.end() ? nullptr : &*it;
}

/// One batch on that day, every stage `pace` times as long as published, `share` of the packs it should give.
std::string make_batch(House& h, int day, const char* route_key, const std::string& lot, double pace, double share) {
  Instant now = day_at(day);
  const almanac::Route& route = as_published(route_key);
  const double kg = std::min(kBatchKg, route.batch_max_kg);
  const auto batch = start_batch(h, now, route_key, {lot}, kg);
  EXPECT_TRUE(batch) << (batch ? "" : batch.error().message);
  if (!batch) return "";
  for (const almanac::Stage& stage : route.stages) {
    EXPECT_TRUE(start_stage(h, now, *batch, stage.key)) << stage.key;
    const double minutes = stage.duration_min.at(kg, almanac::loads_for(route, kg));
    now += std::chrono::seconds(
        std::lround(minutes * 60 * (stage.attention == almanac::Attention::unattended ? 1 : pace)));
    EXPECT_TRUE(finish_stage(h, now, *batch, stage.key)) << stage.key;
  }
  const auto packed = pack(h, now, *batch, kg / route.kg_in_per_pack * share, "");
  EXPECT_TRUE(packed) << (packed ? "" : packed.error().message);
  return *batch;
}

TEST(LearnedHere, ThreeSlowBatchesMakeThePlannersMinutesLongerAndAreSaid) {
  House h = test::kitchen();
  EXPECT_TRUE(learned_view(h, morning(), "").lines.empty());
  for (int day = 0; day < 3; ++day) {
    const std::string lot = bring(h, day_at(day), "9 lb green beans, firm, in the fridge");
    make_batch(h, day, kBeans, lot, 2, 1);
  }
  bring(h, day_at(3), "9 lb green beans, firm, in the fridge");
  const almanac::Route* planned = as_planned(h, day_at(3), kBeans);
  ASSERT_NE(planned, nullptr);
  int longer = 0;
  for (std::size_t i = 0; i < planned->stages.size(); ++i) {
    const almanac::Stage &is = planned->stages[i], &was = as_published(kBeans).stages[i];
    const double ratio = is.duration_min.at(kBatchKg, 1) / was.duration_min.at(kBatchKg, 1);
    if (was.attention == almanac::Attention::unattended) {
      EXPECT_EQ(ratio, 1) << was.key;
    } else {
      EXPECT_NEAR(ratio, std::pow(2, 0.6), 1e-3) << was.key;  // three batches at twice against a weight of two
      ++longer;
    }
  }
  EXPECT_GE(longer, 3);
  const LearnedView view = learned_view(h, day_at(3), "bean_snap");
  const LearnedLine* snapping = line_for(view, "snap_beans");
  ASSERT_NE(snapping, nullptr);
  EXPECT_TRUE(snapping->used);
  EXPECT_EQ(snapping->batches, 3);
  EXPECT_NEAR(snapping->value / snapping->published_value, std::pow(2, 0.6), 1e-3);
  EXPECT_LT(snapping->low, snapping->value);
  EXPECT_GT(snapping->high, snapping->value);
  EXPECT_FALSE(snapping->source.empty());
  EXPECT_TRUE(learned_view(h, day_at(3), "pear_european").lines.empty());
}

TEST(LearnedHere, ATakenBackBatchIsUnlearned) {
  House h = test::kitchen();
  for (int day = 0; day < 3; ++day)
    make_batch(h, day, kBeans, bring(h, day_at(day), "9 lb green beans, firm, in the fridge"), 2, 1);
  ASSERT_TRUE(undo(h, day_at(3), ""));  // the last packing
  const LearnedView view = learned_view(h, day_at(3), "");
  ASSERT_NE(line_for(view, "snap_beans"), nullptr);
  EXPECT_EQ(line_for(view, "snap_beans")->batches, 2);
  EXPECT_FALSE(line_for(view, "snap_beans")->used);
}

TEST(LearnedHere, AStagePutDownOrOpenThroughTheNightTeachesNothing) {
  House h = test::kitchen();
  const std::string lot = bring(h, morning(), "30 lb green beans, firm, in the fridge");
  const auto one = start_batch(h, morning(), kBeans, {lot}, kBatchKg);
  ASSERT_TRUE(one);
  Instant now = morning();
  for (const almanac::Stage& stage : as_published(kBeans).stages) {
    ASSERT_TRUE(start_stage(h, now, *one, stage.key));
    const double minutes = stage.duration_min.at(kBatchKg, 1);
    if (stage.key == "snap_beans") {
      ASSERT_TRUE(put_down_stage(h, now + std::chrono::minutes(2), *one, stage.key));
      ASSERT_TRUE(start_stage(h, now + std::chrono::minutes(12), *one, stage.key));
    }
    // "pack" is begun within its published minutes of the night's end and finished after it.
    if (stage.key == "pack") now = *measure::parse_instant("2026-09-15T10:00:00Z");  // four in the morning
    now += std::chrono::seconds(std::lround(minutes * 60));
    ASSERT_TRUE(finish_stage(h, now, *one, stage.key));
  }
  ASSERT_TRUE(pack(h, now, *one, 4, ""));
  const LearnedView view = learned_view(h, now, "");
  for (const char* stage : {"snap_beans", "pack"}) {
    const LearnedLine* line = line_for(view, stage);
    ASSERT_NE(line, nullptr) << stage;
    EXPECT_EQ(line->batches, 0) << stage;
    EXPECT_EQ(line->left_out, 1) << stage;
    EXPECT_DOUBLE_EQ(line->value, line->published_value) << stage;
  }
}

TEST(LearnedHere, QuartsOfBrothAreLearned) {
  House h = test::kitchen();
  const char* route = "chicken/broth_frozen";
  for (int day = 0; day < 3; ++day) {
    auto draft = read_bring_in(h, day_at(day), "9 lb chicken, firm, in the fridge");
    ASSERT_TRUE(draft) << draft.error().message;
    draft->form = "bones";
    const auto lot = bring_in(h, day_at(day), *draft);
    ASSERT_TRUE(lot);
    make_batch(h, day, route, *lot, 1, 0.8);
  }
  const LearnedView view = learned_view(h, day_at(5), "chicken");
  const LearnedLine* quarts = line_for(view, "");
  ASSERT_NE(quarts, nullptr);
  EXPECT_TRUE(quarts->used);
  EXPECT_NEAR(quarts->value / quarts->published_value, std::pow(0.8, 0.6), 1e-6);
  EXPECT_NE(quarts->published.find("quart bags from"), std::string::npos) << quarts->published;
}

TEST(LearnedHere, GoesAsJsonAlsoBesideWhatIsKnownOfACrop) {
  House h = test::kitchen();
  make_batch(h, 0, kBeans, bring(h, morning(), "9 lb green beans, firm, in the fridge"), 2, 1);
  const LearnedView view = learned_view(h, day_at(1), "");
  const auto json = nlohmann::json::parse(to_json(view));
  ASSERT_FALSE(json["lines"].empty());
  for (const char* field : {"route", "what", "published", "source", "yours", "sure", "from", "used"})
    EXPECT_TRUE(json["lines"][0].contains(field)) << field;
  const auto about = nlohmann::json::parse(about_json(R"({"crop":"bean_snap"})", view));
  EXPECT_EQ(about["crop"], "bean_snap");
  EXPECT_EQ(about["learned"].size(), json["lines"].size());
}

}  // namespace
}  // namespace stillroom::app
