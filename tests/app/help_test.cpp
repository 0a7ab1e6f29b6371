#include <gtest/gtest.h>

#include <algorithm>

#include "almanac/almanac.h"
#include "app/household.h"
#include "kitchen/batch.h"

// What one person is given to do, and what was brought in lately.
namespace stillroom::app {
namespace {

using test::bring;
using test::morning;
using test::planned;

HelpView help_for(const House& h, Instant now, const std::string& person) {
  const auto p = planned(h, now);
  const auto view = help_view(h, now, person, p.snapshot, p.plan);
  EXPECT_TRUE(view) << (view ? "" : view.error().message);
  return view.value_or(HelpView{});
}

std::string key_of(const House& h, const std::string& name) {
  for (const auto& [key, person] : h.ledger.state().people) {
    if (person.name == name) return key;
  }
  return "";
}

TEST(Help, WalksACanningBatchAndNeverGivesAChildOfTwelveWhatIsHot) {
  House h = test::kitchen();  // Alma 40, Bert 42, Cleo 12
  Instant now = morning();
  const std::string lot = bring(h, now, "20 lb pears, ripe, on the counter");
  const auto p = planned(h, now);
  const auto seen = lot_view(h, now, lot, p.snapshot, p.plan);
  ASSERT_TRUE(seen);
  const auto route =
      std::ranges::find_if(seen->routes, [](const RouteChoice& r) { return r.accepted && r.method == "canned"; });
  ASSERT_NE(route, seen->routes.end());
  const auto batch = start_batch(h, now, route->route, {lot}, 0);
  ASSERT_TRUE(batch) << batch.error().message;
  const std::string cleo = key_of(h, "Cleo"), alma = key_of(h, "Alma");
  const auto card = kitchen::card_from_json(h.ledger.state().batches.at(*ledger::Id::parse(*batch)).steps_json);
  ASSERT_TRUE(card);
  int given = 0, kept_back = 0;
  for (const kitchen::Step& step : card->steps) {
    ASSERT_TRUE(start_stage(h, now, *batch, step.stage)) << step.stage;
    const auto about = [&](const HelpView& v) {
      return std::ranges::any_of(v.tasks, [&](const HelpTask& t) { return t.stage == step.stage; });
    };
    if (step.attention != "unattended") {
      EXPECT_TRUE(about(help_for(h, now, alma))) << step.stage;
      const bool child = about(help_for(h, now, cleo));
      if (step.least_age > 12 || step.shows_process) {
        EXPECT_FALSE(child) << step.stage;
      }
      (child ? given : kept_back) += 1;
    }
    now += std::chrono::minutes(20);
    ASSERT_TRUE(finish_stage(h, now, *batch, step.stage)) << step.stage;
  }
  EXPECT_GT(given, 0);
  EXPECT_GT(kept_back, 0);
}

TEST(Help, SaysWhyThereIsNothing) {
  House h = test::kitchen();
  const HelpView view = help_for(h, morning(), key_of(h, "Cleo"));
  EXPECT_TRUE(view.tasks.empty());
  EXPECT_EQ(view.none, "Nothing is to be done just now.");
  const auto p = planned(h, morning());
  EXPECT_EQ(help_view(h, morning(), "nobody", p.snapshot, p.plan).error().code, "unknown_person");
}

TEST(Recent, CropsComeNewestFirstAndOnce) {
  House h = test::kitchen();
  Instant now = morning();
  for (const char* line :
       {"1 bu pears, firm, on the counter", "20 lb plums, ripe, in the fridge", "2 bu pears, soft, in the fridge"}) {
    bring(h, now, line);
    now += std::chrono::minutes(10);
  }
  const Snapshot s = client_snapshot(h, now);
  ASSERT_EQ(s.recent.size(), 2U);
  EXPECT_EQ(s.recent[0].crop, "pear_european");
  EXPECT_EQ(s.recent[0].place, "fridge");
  EXPECT_EQ(s.recent[0].condition, "soft");
  EXPECT_EQ(s.recent[1].crop, "plum");
}

}  // namespace
}  // namespace stillroom::app
