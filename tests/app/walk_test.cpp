#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "app/household.h"

// One scripted walk, from twelve lots to jars and back.
namespace stillroom::app {
namespace {

using test::bring;
using test::morning;
using test::planned;

constexpr auto kDay = std::chrono::hours(24);

std::vector<std::string> twelve_lots(House& h, Instant now) {
  std::vector<std::string> ids;
  for (const char* line : {"1 bu pears, firm, on the counter", "35 lb tomatoes, ripe, on the counter",
                           "20 lb plums, ripe, in the cellar", "1/2 bu green beans, firm, in the fridge",
                           "30 lb apples, firm, in the cellar", "25 lb cabbages, firm, in the cellar",
                           "20 lb beets, firm, in the cellar", "12 lb cucumbers, firm, on the counter",
                           "6 lb raspberries, ripe, in the fridge", "40 lb onions, firm, on the counter",
                           "10 lb sweet peppers, firm, on the counter", "5 lb spinach, firm, in the fridge"}) {
    ids.push_back(bring(h, now, line));
  }
  return ids;
}

const StripView* strip(const DayView& day, const std::string& lot) {
  const auto it = std::find_if(day.strips.begin(), day.strips.end(), [&](const StripView& s) { return s.lot == lot; });
  return it == day.strips.end() ? nullptr : &*it;
}

TEST(Walk, OrdersTwelveLotsWithReasonsAndNoBrokenConstraint) {
  House h = test::kitchen();
  const auto ids = twelve_lots(h, morning());
  const auto p = planned(h, morning());
  EXPECT_EQ(planning::check_plan(p.snapshot, p.plan), std::vector<std::string>{});
  const DayView day = day_view(h, morning(), p.snapshot, p.plan);
  ASSERT_EQ(day.strips.size(), ids.size());
  EXPECT_FALSE(day.next.title.empty());
  for (std::size_t i = 1; i < day.strips.size(); ++i)
    EXPECT_GE(day.strips[i - 1].cost_of_waiting, day.strips[i].cost_of_waiting);
  for (const StripView& s : day.strips) {
    EXPECT_FALSE(s.next_move.empty() && s.let_go_reason.empty()) << s.name;
    EXPECT_LE(s.days_left.low, s.days_left.high) << s.name;
    EXPECT_FALSE(s.usable.empty()) << s.name;
  }
  // Ripe raspberries in a fridge last days, onions weeks (published lives): the order of days left must hold.
  EXPECT_LT(strip(day, ids[8])->days_left.likely, strip(day, ids[9])->days_left.likely);
}

TEST(Walk, MarkingALotSoftShortensItAndChangesThePlansInput) {
  House h = test::kitchen();
  const auto ids = twelve_lots(h, morning());
  const auto before = planned(h, morning());
  const Instant later = morning() + std::chrono::minutes(5);
  ASSERT_TRUE(observe(h, later, ids[0], "soft"));
  const auto after = planned(h, later);
  const DayView now_day = day_view(h, later, after.snapshot, after.plan);
  const auto* is = strip(now_day, ids[0]);
  ASSERT_NE(is, nullptr);
  EXPECT_EQ(is->condition, "soft");
  const DayView was_day = day_view(h, morning(), before.snapshot, before.plan);
  EXPECT_LT(is->days_left.likely, strip(was_day, ids[0])->days_left.likely);
}

TEST(Walk, SortsABasketIntoFirmAndSoft) {
  House h = test::kitchen();
  const std::string lot = bring(h, morning(), "20 lb pears, firm, on the counter");
  const auto read = read_sort(h, {"14 lb firm", "5 lb soft, in the fridge"}, "1 lb");
  ASSERT_TRUE(read) << read.error().message;
  ASSERT_TRUE(sort_lot(h, morning(), lot, read->parts, read->discarded_kg));
  std::vector<std::string> conditions;
  for (const auto& [id, parcel] : h.ledger.state().parcels) {
    if (ledger::is_here(parcel)) conditions.push_back(parcel.condition);
  }
  std::sort(conditions.begin(), conditions.end());
  EXPECT_EQ(conditions, (std::vector<std::string>{"firm", "soft"}));
  EXPECT_EQ(check(h, morning()), std::vector<std::string>{});
}

/// The first accepted canned route of a lot.
std::string canned_route(const House& h, Instant now, const std::string& lot) {
  const auto p = planned(h, now);
  const auto view = lot_view(h, now, lot, p.snapshot, p.plan);
  EXPECT_TRUE(view);
  for (const RouteChoice& r : view->routes) {
    if (r.accepted && r.method == "canned") return r.route;
  }
  return "";
}

TEST(Walk, CarriesACanningBatchToJarsTakesTwoAndUndoesIt) {
  House h = test::kitchen();
  Instant now = morning();
  const std::string lot = bring(h, now, "20 lb pears, firm, on the counter");
  const std::string route = canned_route(h, now, lot);
  ASSERT_FALSE(route.empty());
  const auto batch = start_batch(h, now, route, {lot}, 0);
  ASSERT_TRUE(batch) << batch.error().message;
  auto view = batch_view(h, now, *batch);
  ASSERT_TRUE(view) << view.error().message;
  ASSERT_TRUE(view->process.has_value());
  EXPECT_FALSE(view->process->source.empty());
  EXPECT_FALSE(view->process->edition.empty());
  EXPECT_FALSE(view->defer_to.empty());
  for (const StepView& step : view->steps) {
    ASSERT_TRUE(start_stage(h, now, *batch, step.stage)) << step.stage;
    now += std::chrono::minutes(30);
    ASSERT_TRUE(finish_stage(h, now, *batch, step.stage)) << step.stage;
  }
  const double made = std::floor(view->packs_expected);
  ASSERT_GE(made, 3);
  const auto too_many = pack(h, now, *batch, made * 5, "");
  ASSERT_FALSE(too_many);
  EXPECT_EQ(too_many.error().code, "more_packs_than_made");
  const auto packed = pack(h, now, *batch, made, "");
  ASSERT_TRUE(packed) << packed.error().message;
  now += kDay;
  ASSERT_TRUE(check_seals(h, now, *packed, made, 0));
  LarderView larder = larder_view(h, now);
  ASSERT_EQ(larder.shelves.size(), 1U);
  const std::string code = larder.shelves[0].packs[0].code;
  EXPECT_EQ(larder.shelves[0].packs[0].packs, made);
  ASSERT_TRUE(take(h, now, code, 2));
  EXPECT_EQ(larder_view(h, now).shelves[0].packs[0].packs, made - 2);
  const auto more = take(h, now, code, made * 2);
  ASSERT_FALSE(more);
  EXPECT_EQ(more.error().code, "more_than_there");
  ASSERT_TRUE(undo(h, now, ""));
  EXPECT_EQ(larder_view(h, now).shelves[0].packs[0].packs, made);
  EXPECT_EQ(check(h, now), std::vector<std::string>{});
}

TEST(Walk, AMouldyLotIsNotPutBy) {
  House h = test::kitchen();
  const std::string lot = bring(h, morning(), "20 lb pears, firm, on the counter");
  const auto id = *ledger::Id::parse(lot);
  ASSERT_TRUE(h.ledger.append({.id = h.random.id(),
                               .happened = morning(),
                               .who = "",
                               .live = true,
                               .what = ledger::Observed{id, "soft", {"mould"}}},
                              morning()));
  const auto batch = start_batch(h, morning(), "pear_european/frozen", {lot}, 0);
  ASSERT_FALSE(batch);
}

TEST(Walk, FactsFromAnOutboxAreKeptAsADifferenceToSettle) {
  House h = test::kitchen();
  const std::string lot = bring(h, morning(), "10 lb plums, ripe, on the counter");
  const ledger::Entry fact{.id = h.random.id(),
                           .happened = morning(),
                           .who = "",
                           .live = false,
                           .what = ledger::EatenFresh{*ledger::Id::parse(lot), measure::pounds(14)}};
  const auto received = receive_entries(h, morning(), "[" + ledger::to_json(fact) + "]");
  ASSERT_TRUE(received);
  EXPECT_TRUE(received->front().stored);
  const auto p = planned(h, morning());
  EXPECT_EQ(day_view(h, morning(), p.snapshot, p.plan).discrepancies.size(), 1U);
  // The same fact sent again is the same fact.
  ASSERT_TRUE(receive_entries(h, morning(), "[" + ledger::to_json(fact) + "]"));
  EXPECT_EQ(day_view(h, morning(), p.snapshot, p.plan).discrepancies.size(), 1U);
}

}  // namespace
}  // namespace stillroom::app
