#include <gtest/gtest.h>

#include <algorithm>
#include <map>

#include "app/household.h"

// What goes into a batch and what comes out of it beside its packs.
namespace stillroom::app {
namespace {

using test::bring;
using test::morning;

std::string start(House& h, const std::string& route, const std::vector<std::string>& lots, double kg = 0) {
  const auto id = start_batch(h, morning(), route, lots, kg);
  EXPECT_TRUE(id) << (id ? "" : id.error().message);
  return id.value_or("");
}

const ledger::Parcel& parcel(const House& h, const std::string& id) {
  return h.ledger.state().parcels.at(*ledger::Id::parse(id));
}

const ledger::Parcel* of_form(const House& h, std::string_view form) {
  for (const auto& [id, p] : h.ledger.state().parcels) {
    if (p.form == form && ledger::is_here(p)) return &p;
  }
  return nullptr;
}

const planning::Lot* lot_of_form(const planning::Household& h, std::string_view form) {
  const auto it = std::find_if(h.lots.begin(), h.lots.end(), [&](const auto& lot) { return lot.form == form; });
  return it == h.lots.end() ? nullptr : &*it;
}

TEST(BatchParts, AManyLotRecipeTakesItsProportions) {
  House h = test::kitchen();
  // Chile salsa: 5 lb tomatoes, 2 lb chiles, 1 lb onion (USDA AIB-539 Guide 3, as in data/routes/pickled.csv).
  const std::string tomatoes = bring(h, morning(), "10 lb tomatoes, ripe, on the counter");
  const std::string chiles = bring(h, morning(), "8 lb hot peppers, firm, in the fridge");
  const std::string onions = bring(h, morning(), "8 lb onions, firm, in the cellar");
  const double before[] = {measure::in_kilograms(parcel(h, tomatoes).mass),
                           measure::in_kilograms(parcel(h, chiles).mass),
                           measure::in_kilograms(parcel(h, onions).mass)};
  const std::string batch = start(h, "tomato/salsa", {tomatoes, chiles, onions}, 2);
  const auto& inputs = h.ledger.state().batches.at(*ledger::Id::parse(batch)).inputs;
  ASSERT_EQ(inputs.size(), 3U);
  EXPECT_NEAR(measure::in_kilograms(inputs[0].mass), 2, 1e-3);
  EXPECT_NEAR(measure::in_kilograms(inputs[1].mass), 0.8, 1e-3);
  EXPECT_NEAR(measure::in_kilograms(inputs[2].mass), 0.4, 1e-3);
  EXPECT_NEAR(measure::in_kilograms(parcel(h, chiles).mass), before[1] - 0.8, 1e-3);
  EXPECT_NEAR(measure::in_kilograms(parcel(h, tomatoes).mass), before[0] - 2, 1e-3);
  EXPECT_NEAR(measure::in_kilograms(parcel(h, onions).mass), before[2] - 0.4, 1e-3);
}

TEST(BatchParts, AManyLotRecipeIsHeldToItsScarcestCrop) {
  House h = test::kitchen();
  const std::string tomatoes = bring(h, morning(), "4 lb tomatoes, ripe, on the counter");
  const std::string chiles = bring(h, morning(), "8 oz hot peppers, firm, in the fridge");
  const std::string onions = bring(h, morning(), "8 lb onions, firm, in the cellar");
  const auto without = start_batch(h, morning(), "tomato/salsa", {tomatoes, chiles}, 0);
  ASSERT_FALSE(without);
  EXPECT_EQ(without.error().code, "lot_missing");
  const auto more = start_batch(h, morning(), "tomato/salsa", {tomatoes, chiles, onions}, 1.5);
  ASSERT_FALSE(more);
  EXPECT_EQ(more.error().code, "more_than_there");
  const std::string batch = start(h, "tomato/salsa", {tomatoes, chiles, onions});
  const auto& inputs = h.ledger.state().batches.at(*ledger::Id::parse(batch)).inputs;
  EXPECT_NEAR(measure::in_kilograms(inputs[0].mass), measure::in_kilograms(inputs[1].mass) / 0.4, 1e-3);
  EXPECT_LE(measure::in_kilograms(parcel(h, chiles).mass), 1e-3);
}

TEST(BatchParts, BonesGoOnAsALotOnTheCarcassesClock) {
  House h = test::kitchen();
  const std::string birds = bring(h, morning(), "12 lb chicken, in the fridge");
  const auto snapshot = snapshot_for_planning(h, morning());
  ASSERT_TRUE(snapshot);
  const auto part_out = std::find_if(snapshot->routes.begin(), snapshot->routes.end(), [](const auto& r) {
    // Canned birds leave bones too, but are packed only when they were processed.
    return !r.also_yields.empty() && r.also_yields[0].form == "bones" && !r.process;
  });
  ASSERT_NE(part_out, snapshot->routes.end());
  const auto carcass_by = snapshot->lots.front().hazard_by;
  ASSERT_TRUE(carcass_by);
  const double kg = measure::in_kilograms(parcel(h, birds).mass);
  const std::string batch = start(h, part_out->key, {birds});
  const Instant later = morning() + std::chrono::hours(14);
  ASSERT_TRUE(pack(h, later, batch, 4, ""));
  const ledger::Parcel* bones = of_form(h, "bones");
  ASSERT_NE(bones, nullptr);
  EXPECT_NEAR(measure::in_kilograms(bones->mass), kg * part_out->also_yields[0].kg_per_kg, 1e-3);
  EXPECT_FALSE(bones->seals_unchecked);
  const auto after = snapshot_for_planning(h, later);
  ASSERT_TRUE(after);
  const planning::Lot* lot = lot_of_form(*after, "bones");
  ASSERT_NE(lot, nullptr);
  ASSERT_TRUE(lot->hazard_by);
  EXPECT_LE(*lot->hazard_by, *carcass_by) << "the clock runs from when the birds came in";
  EXPECT_TRUE(h.ledger.check().empty());
}

TEST(BatchParts, WhatWasFrozenWholeWaitsAsALot) {
  House h = test::kitchen();
  const std::string lot = bring(h, morning(), "20 lb tomatoes, ripe, on the counter");
  const auto snapshot = snapshot_for_planning(h, morning());
  ASSERT_TRUE(snapshot);
  const auto hold = std::find_if(snapshot->routes.begin(), snapshot->routes.end(), [](const auto& r) {
    return r.is_hold && r.product_form == "frozen_whole" && r.crop == "tomato";
  });
  ASSERT_NE(hold, snapshot->routes.end());
  const std::string batch = start(h, hold->key, {lot});
  ASSERT_TRUE(pack(h, morning() + std::chrono::hours(1), batch, 6, ""));
  const Instant weeks_later = morning() + std::chrono::hours(24 * 21);
  const auto after = snapshot_for_planning(h, weeks_later);
  ASSERT_TRUE(after);
  const planning::Lot* frozen = lot_of_form(*after, "frozen_whole");
  ASSERT_NE(frozen, nullptr);
  EXPECT_GT(frozen->kg, 5);
  const bool goes_on = std::any_of(after->routes.begin(), after->routes.end(), [](const auto& r) {
    return r.accepts_form == "frozen_whole" && r.method == "canned";
  });
  EXPECT_TRUE(goes_on) << "cooked and canned when all are in";
}

/// When each step of the batch is to run, as the planner is told.
std::map<std::string, planning::Committed> committed_of(const House& h, Instant now, const std::string& batch) {
  const auto snapshot = snapshot_for_planning(h, now);
  EXPECT_TRUE(snapshot) << (snapshot ? "" : snapshot.error().message);
  std::map<std::string, planning::Committed> out;
  for (const planning::Committed& held : snapshot->committed)
    if (held.batch == batch) out.emplace(held.stage, held);
  return out;
}

bool holds(const planning::Committed& step, std::string_view equipment) {
  return std::ranges::any_of(step.equipment, [&](const auto& use) { return use.key == equipment; });
}

TEST(BatchParts, EveryCannerLoadStillToComeHoldsTheCannerABurnerAndSomebody) {
  House h = test::kitchen();
  const std::string pears = bring(h, morning(), "50 lb pears, ripe, on the counter");
  // 45 lb: two loads of 17.5 lb (7 quarts each), and what is left.
  const std::string batch =
      start(h, "pear_european/canned_halves_hot", {pears}, measure::in_kilograms(measure::pounds(45)));
  Instant now = *measure::parse_instant("2026-09-19T15:00:00Z");  // a Saturday: the grown-ups are there all day
  for (const char* step : {"gather", "wash_firm", "peel_core_halve_pears", "fill:1", "heat:1"}) {
    ASSERT_TRUE(start_stage(h, now, batch, step)) << step;
    now += std::chrono::minutes(20);
    ASSERT_TRUE(finish_stage(h, now, batch, step)) << step;
  }
  ASSERT_TRUE(start_stage(h, now, batch, "process:1"));
  now += std::chrono::minutes(5);
  const auto steps = committed_of(h, now, batch);
  for (const char* at_canner :
       {"process:1", "lift:1", "heat:2", "process:2", "lift:2", "heat:3", "process:3", "lift:3"}) {
    ASSERT_TRUE(steps.contains(at_canner)) << at_canner;
    EXPECT_TRUE(holds(steps.at(at_canner), "boiling_water_canner")) << at_canner;
    EXPECT_TRUE(holds(steps.at(at_canner), "burner")) << at_canner;
    EXPECT_EQ(steps.at(at_canner).hands.size(), 1U) << at_canner;
  }
  EXPECT_TRUE(holds(steps.at("fill:2"), "big_pot"));
  EXPECT_FALSE(holds(steps.at("fill:2"), "boiling_water_canner"));
  const char* in_order[] = {"process:1", "lift:1",    "fill:2", "heat:2",   "process:2", "lift:2",     "fill:3",
                            "heat:3",    "process:3", "lift:3", "clear_up", "cool:3",    "check_seals"};
  for (std::size_t i = 1; i < std::size(in_order); ++i) {
    ASSERT_TRUE(steps.contains(in_order[i])) << in_order[i];
    EXPECT_EQ(steps.at(in_order[i]).span.from, steps.at(in_order[i - 1]).span.to)
        << in_order[i] << " follows " << in_order[i - 1] << ": jars that rest hold up no load";
  }
  EXPECT_EQ(steps.at("cool:1").span.from, steps.at("lift:1").span.to);
  EXPECT_TRUE(steps.at("cool:1").equipment.empty());
  EXPECT_TRUE(steps.at("cool:1").hands.empty());
}

}  // namespace
}  // namespace stillroom::app
