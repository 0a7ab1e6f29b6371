#include "app/butchering.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "app/detail/barred.h"
#include "app/detail/family_meal.h"
#include "app/detail/names.h"
#include "app/detail/record.h"
#include "app/detail/waiting.h"
#include "app/household.h"
#include "kitchen/batch.h"

// From slaughter to packs, bones and broth: what it comes to, and that no clock ever gains time on the way.
namespace stillroom::app {
namespace {

using std::chrono::hours;
using test::morning;

const ButcheringLine* line_of_day(const ButcheringView& v, std::string_view key) {
  const auto it = std::ranges::find(v.lines, key, &ButcheringLine::key);
  return it == v.lines.end() ? nullptr : &*it;
}

const ledger::Parcel* lot_here(const House& h, std::string_view food, std::string_view form) {
  for (const auto& [id, p] : h.ledger.state().parcels) {
    if (p.food == food && p.form == form && ledger::is_here(p)) return &p;
  }
  return nullptr;
}

Instant deadline(const House& h, const ledger::Parcel& p, Instant now) {
  return detail::waiting_of(h.almanac, h.ledger.state(), p, now).hazard_by.value_or(keeping::no_deadline());
}

std::string said(const House& h, Instant t) { return detail::local_text(detail::settings_of(h.ledger.state()), t); }

TEST(Butchering, TwentyDucksComeToPartsPacksBonesBrothAndDaysOfFreezing) {
  House h = test::kitchen();  // two adults and a child of 12: 3 appetites; 200 L of freezer
  const auto day = butchering_day(h, morning(), {.line = "20 ducks, 4 lb 8 oz each", .killed = "08:30", .whole = 4});
  ASSERT_TRUE(day) << day.error().message;
  EXPECT_EQ(day->crop, "duck");
  EXPECT_EQ(day->count, 20);
  EXPECT_NEAR(day->dressed_kg, 90 * measure::kKilogramsPerPound, 1e-6);  // 20 x 4.5 lb
  EXPECT_EQ(day->clock, "carcass_middle");                               // 4 to 8 lb: cold within 6 h
  EXPECT_EQ(line_of_day(*day, "cold_by")->amount, "2026-09-14 14:30");
  // 16 parted: 72 lb; parts 0.72, frames 0.28 (data/routes/part_out.csv).
  EXPECT_EQ(line_of_day(*day, "parts")->amount, "52 lb");
  EXPECT_EQ(line_of_day(*day, "bones")->amount, "20 lb");
  // A meal: 2.5 lb for four appetites, so 1.875 lb for three; 51.84 lb / 1.875 = 27.6.
  EXPECT_EQ(line_of_day(*day, "packs")->amount, "28 gallon bags");
  // 3 to 4 quarts a frame (data/yields/poultry_yield.csv), 16 frames.
  EXPECT_EQ(line_of_day(*day, "broth")->amount, "48 to 64 quarts");
  // 51.84 + 18 lb = 31.7 kg to freeze; 200 L at 40 g a litre freeze 8 kg a day.
  EXPECT_NEAR(day->freeze_kg, 69.84 * measure::kKilogramsPerPound, 1e-2);
  EXPECT_EQ(day->freeze_days, 4);
  EXPECT_TRUE(day->too_much_to_freeze);  // two days in the fridge at most
  EXPECT_FALSE(day->cautions.empty());
}

TEST(Butchering, BringsInLotsOnTheClockOfTheCarcass) {
  House h = test::kitchen();
  const auto id = bring_in_butchered(h, morning(), {.line = "10 chickens, 5 lb each", .killed = "08:00", .whole = 3});
  ASSERT_TRUE(id) << id.error().message;
  const ledger::Parcel& parting = h.ledger.state().parcels.at(*ledger::Id::parse(*id));
  EXPECT_NEAR(measure::in_pounds(parting.mass), 35, 1e-3);
  EXPECT_EQ(parting.place, "fridge");
  EXPECT_EQ(parting.since, morning() - hours(1));
  EXPECT_NE(lot_here(h, "giblets", "fresh"), nullptr);
  // One hour of six in the kitchen's warmth, then the fridge's two days: 5/6 of 48 h = 40 h from nine o'clock.
  EXPECT_EQ(deadline(h, parting, morning()), morning() + hours(40));
  EXPECT_TRUE(h.ledger.check().empty());
}

/// A kitchen with ten ducks alive, to be butchered from today on.
House with_ducks() {
  House h = test::kitchen();
  const ledger::StandingSet row{.key = "pond",
                                .crop = "duck",
                                .expected = measure::kilograms(20),
                                .ready_from = measure::parse_date("2026-09-14").value(),
                                .ready_to = measure::parse_date("2026-09-20").value(),
                                .pick_min_per_kg = 9,
                                .note = ""};
  EXPECT_TRUE(h.ledger.append(detail::entry_now(h, morning(), row), morning()));
  return h;
}

TEST(Butchering, WhatStandsAliveIsSaidSoAndLeadsToTheButcheringDay) {
  House h = with_ducks();
  const test::Planned p = test::planned(h, morning());
  const DayView day = day_view(h, morning(), p.snapshot, p.plan);
  ASSERT_EQ(day.strips.size(), 1U);
  EXPECT_EQ(day.strips[0].place, "still alive");
  EXPECT_EQ(day.next.title, "Butcher ducks");
  EXPECT_EQ(day.next.action, "butcher");
}

TEST(Butchering, ComesOffWhatStandsAlive) {
  House h = with_ducks();
  ASSERT_TRUE(bring_in_butchered(h, morning(), {.line = "4 ducks, 2 kg each", .whole = 1, .more = true}));
  EXPECT_FALSE(h.ledger.state().standing.at("pond").picked);
  EXPECT_NEAR(measure::in_kilograms(h.ledger.state().standing.at("pond").set.expected), 12, 1e-9);
  const auto id = bring_in_butchered(h, morning(), {.line = "6 ducks, 4 lb 8 oz each", .whole = 2});
  ASSERT_TRUE(id) << id.error().message;
  EXPECT_TRUE(h.ledger.state().standing.at("pond").picked);
  const ledger::Parcel& parting = h.ledger.state().parcels.at(*ledger::Id::parse(*id));
  EXPECT_EQ(parting.form, "carcass");
  EXPECT_EQ(parting.facts, std::vector<std::string>{"carcass_middle"});
  EXPECT_EQ(std::ranges::count(h.ledger.state().parcels, "carcass", [](const auto& row) { return row.second.form; }),
            4);
  EXPECT_TRUE(h.ledger.check().empty());
  // None stand any more: those of the neighbours are lots of their own.
  EXPECT_EQ(butchering_day(h, morning(), {.line = "2 ducks, 2 kg each"})->standing, "");
}

TEST(Butchering, BirdsAreNotPicked) {
  House h = with_ducks();
  ledger::Entry picked = detail::entry_now(
      h, morning(), ledger::StandingPicked{"pond", h.random.id(), measure::kilograms(18), "firm", "counter"});
  const auto refusal = detail::barred(h, morning(), picked);
  ASSERT_TRUE(refusal);
  EXPECT_EQ(refusal->code, "butchered");
  picked.live = false;
  EXPECT_FALSE(detail::barred(h, morning(), picked)) << "it has happened";
}

TEST(Butchering, WhatWasJustKilledBarsNoProcess) {
  // The fact that names the carcass's clock goes on into what is cut from it, and says nothing against canning.
  House h = test::kitchen();
  const auto id = bring_in_butchered(h, morning(), {.line = "6 chickens, 5 lb each", .killed = "08:00", .whole = 2});
  ASSERT_TRUE(id) << id.error().message;
  const auto batch = start_batch(h, morning(), "chicken/part_out", {*id}, 0);
  ASSERT_TRUE(batch) << batch.error().message;
  ASSERT_TRUE(pack(h, morning() + hours(18), *batch, 8, ""));
  const ledger::Parcel* bones = lot_here(h, "chicken", "bones");
  ASSERT_NE(bones, nullptr);
  ASSERT_EQ(bones->facts, std::vector<std::string>{"carcass_middle"});
  const auto broth = start_batch(h, morning() + hours(19), "chicken/broth", {bones->id.hex()}, 1);
  EXPECT_TRUE(broth) << broth.error().message;
}

TEST(Butchering, SaysLiveWeightDressedByThePublishedShareAndSizesTheClock) {
  House h = test::kitchen();
  const auto live = butchering_day(h, morning(), {.line = "6 rabbits, 5 lb each, live"});
  ASSERT_TRUE(live) << live.error().message;
  EXPECT_NEAR(live->each_kg, 5 * 0.511 * measure::kKilogramsPerPound, 1e-6);  // Kuzelov and Atanasova 2011
  EXPECT_EQ(live->clock, "raw_rabbit");
  EXPECT_EQ(butchering_day(h, morning(), {.line = "4 chickens, 3 lb each"})->clock, "carcass_small");
  EXPECT_EQ(butchering_day(h, morning(), {.line = "2 geese, 10 lb each"})->clock, "carcass_large");
  EXPECT_EQ(butchering_day(h, morning(), {.line = "2 turkeys, 7 lb each"})->clock, "carcass_large");
}

TEST(Butchering, RefusesWhatItCannotCountOrWeigh) {
  House h = test::kitchen();
  EXPECT_EQ(butchering_day(h, morning(), {.line = "20 ducks"}).error().code, "bad_birds");
  EXPECT_EQ(butchering_day(h, morning(), {.line = "20 lb ducks"}).error().code, "bad_birds");
  EXPECT_EQ(butchering_day(h, morning(), {.line = "20 pears, 1 lb each"}).error().code, "bad_birds");
  EXPECT_EQ(butchering_day(h, morning(), {.line = "2 ducks, 4 lb each", .whole = 3}).error().code, "too_many_whole");
  EXPECT_EQ(butchering_day(h, morning(), {.line = "2 ducks, 4 lb each", .killed = "2027-01-01T08:00"}).error().code,
            "future");
}

TEST(Butchering, TooLongInTheWarmIsThrownOut) {
  House h = test::kitchen();
  const auto day = butchering_day(h, morning(), {.line = "5 chickens, 3 lb each", .killed = "04:30"});
  ASSERT_TRUE(day);
  EXPECT_LE(*measure::parse_instant("2026-09-14T14:30:00Z"), morning());
  EXPECT_NE(line_of_day(*day, "use_by")->then.find("throw them out"), std::string::npos);
}

TEST(Butchering, MealPacksFollowTheFamily) {
  const almanac::Route& published = *test::published().routes.find("chicken/part_out");
  const double meal = *detail::meal_kg(published);
  EXPECT_NEAR(meal, 2.5 * measure::kKilogramsPerPound, 1e-9);
  const almanac::Route eight = detail::for_family(published, 2);
  EXPECT_NEAR(*detail::meal_kg(eight), 2 * meal, 1e-9);
  EXPECT_NEAR(eight.kg_in_per_pack, 2 * published.kg_in_per_pack, 1e-9);
  EXPECT_EQ(eight.yield_kg_per_kg, published.yield_kg_per_kg);
  const auto card = kitchen::make_card(test::published(), eight, 10, {});
  ASSERT_TRUE(card) << card.error().message;
  const auto pack = std::ranges::find(card->steps, "pack", &kitchen::Step::stage);
  ASSERT_NE(pack, card->steps.end());
  EXPECT_NE(pack->text.find("of about 5 lb, one meal each"), std::string::npos) << pack->text;
  // A route without meals stays as it is.
  const almanac::Route& beans = *test::published().routes.find("bean_snap/frozen");
  EXPECT_EQ(detail::for_family(beans, 2).kg_in_per_pack, beans.kg_in_per_pack);
}

TEST(Butchering, BonesNeverHaveLongerThanTheirCarcass) {
  // Killed so many hours ago, in the fridge for so many more, then parted: whatever the hours, the bones' clock ends no
  // later than the carcass's did, and what was nearly over stays nearly over.
  for (const char* birds :
       {"4 chickens, 3 lb each", "4 chickens, 6 lb each", "4 turkeys, 15 lb each", "4 rabbits, 4 lb each"}) {
    for (const int warm_h : {0, 1, 3}) {
      for (const int cold_h : {1, 12, 30}) {
        House h = test::kitchen();
        const Instant killed = morning() - hours(warm_h);
        const auto id = bring_in_butchered(h, morning(), {.line = birds, .killed = said(h, killed)});
        ASSERT_TRUE(id) << id.error().message;
        const ledger::Parcel carcass = h.ledger.state().parcels.at(*ledger::Id::parse(*id));
        const Instant before = deadline(h, carcass, morning());
        const std::string route = carcass.food + "/part_out";
        const auto batch = start_batch(h, morning(), route, {*id}, 0);
        if (before < morning()) {  // nothing is begun with what has run out
          ASSERT_FALSE(batch) << birds << " " << warm_h;
          EXPECT_EQ(batch.error().code, "out_of_time");
          continue;
        }
        ASSERT_TRUE(batch) << batch.error().message;
        const Instant parted = morning() + hours(cold_h);
        ASSERT_TRUE(pack(h, parted, *batch, 2, ""));
        const ledger::Parcel* bones = lot_here(h, carcass.food, "bones");
        ASSERT_NE(bones, nullptr);
        EXPECT_LE(deadline(h, *bones, parted), std::max(before, parted)) << birds << " " << warm_h << " " << cold_h;
        EXPECT_GE(detail::hazard_share_used(h.almanac, h.ledger.state(), *bones, parted),
                  detail::hazard_share_used(h.almanac, h.ledger.state(), carcass, parted) - 1e-9);
        // Left out of the cold they have the two hours of raw poultry at most, not a carcass's.
        ASSERT_TRUE(move(h, parted, bones->id.hex(), "counter"));
        EXPECT_LE(deadline(h, *lot_here(h, carcass.food, "bones"), parted), std::max(before, parted + hours(2)));
      }
    }
  }
}

TEST(Butchering, BrothHoldsEachOfItsCookersThoughOneCannerLoadTakesItAll) {
  House h = test::kitchen();
  const auto birds = bring_in_butchered(h, morning(), {.line = "8 chickens, 3 lb each", .killed = said(h, morning())});
  ASSERT_TRUE(birds) << birds.error().message;
  const auto parted = start_batch(h, morning(), "chicken/part_out", {*birds}, 0);
  ASSERT_TRUE(parted) << parted.error().message;
  ASSERT_TRUE(pack(h, morning(), *parted, 6, ""));
  const ledger::Parcel* bones = lot_here(h, "chicken", "bones");
  ASSERT_NE(bones, nullptr);
  const double two_cookers = measure::in_kilograms(measure::pounds(5.6));
  const auto broth = start_batch(h, morning(), "chicken/broth", {bones->id.hex()}, two_cookers);
  ASSERT_TRUE(broth) << broth.error().message;
  const auto planned = snapshot_for_planning(h, morning());
  ASSERT_TRUE(planned) << planned.error().message;
  double cookers = 0;
  for (const planning::Committed& held : planned->committed)
    for (const almanac::EquipmentUse& use : held.equipment)
      if (held.batch == *broth && use.key == "slow_cooker") cookers += use.amount.fixed;
  EXPECT_EQ(cookers, 2);
}

TEST(Butchering, BrothRunsAloneOnlyInASlowCookerAndNeverWithoutSomebodyInAPot) {
  int slow = 0, pot = 0;
  for (const almanac::Route& route : test::published().routes.all()) {
    if (route.method != "simmered to broth") continue;
    const auto cooks = [&](std::string_view key) { return std::ranges::find(route.stages, key, &almanac::Stage::key); };
    const auto alone = cooks("slow_cook"), tended = cooks("simmer");
    ASSERT_NE(alone == route.stages.end(), tended == route.stages.end()) << route.key << ": one of the two";
    if (alone != route.stages.end()) {
      ++slow;
      EXPECT_EQ(alone->attention, almanac::Attention::unattended);
      EXPECT_EQ(alone->equipment.front().key, "slow_cooker");
      EXPECT_GE(alone->duration_min.fixed, 12 * 60) << route.key;
      EXPECT_LE(alone->duration_min.fixed, 24 * 60) << route.key;
    } else {
      ++pot;
      EXPECT_EQ(tended->attention, almanac::Attention::nearby) << route.key;
      EXPECT_GE(tended->least_age, 14);
      EXPECT_EQ(cooks("strain")->lag_max_min, 30) << "a pot does not stand by itself until it is convenient";
    }
    EXPECT_EQ(cooks("strain")->hazard, "broth") << route.key;
  }
  EXPECT_GE(slow, 15);
  EXPECT_EQ(slow, pot);
}

TEST(Butchering, WhatStaysWholeHasAWayOfItsOwn) {
  for (const char* crop : {"chicken", "stewing_hen", "duck", "goose", "turkey", "rabbit"}) {
    const almanac::Route* whole = test::published().routes.find(std::string(crop) + "/freeze_whole_birds");
    ASSERT_NE(whole, nullptr) << crop;
    EXPECT_EQ(whole->yield_kg_per_kg, 1) << crop;
    EXPECT_EQ(detail::for_family(*whole, 2).kg_in_per_pack, whole->kg_in_per_pack) << "a bird is a bird";
  }
}

TEST(Butchering, FatLiftedFromBrothKeepsNoLongerThanCookedFood) {
  House h = test::kitchen();
  auto draft = read_bring_in(h, morning(), "9 lb chicken, firm, in the fridge");
  ASSERT_TRUE(draft);
  draft->form = "bones";
  const auto lot = bring_in(h, morning(), *draft);
  const auto batch = start_batch(h, morning(), "chicken/broth_frozen", {*lot}, 0);
  ASSERT_TRUE(batch) << batch.error().message;
  const Instant packed = morning() + hours(36);
  ASSERT_TRUE(pack(h, packed, *batch, 8, ""));
  const ledger::Parcel* fat = lot_here(h, "fat_poultry", "fat");
  ASSERT_NE(fat, nullptr);
  EXPECT_EQ(detail::hazard_key(h.almanac, fat->food, fat->form), "cooked_food");
  EXPECT_LE(deadline(h, *fat, packed), morning() + hours(24 * 4));
  EXPECT_GT(deadline(h, *fat, packed), packed);
}

TEST(Butchering, EveryAnimalKeepsByThePublishedClockOfItsOwn) {
  const auto& almanac = test::published();
  EXPECT_EQ(detail::hazard_key(almanac, "rabbit", "carcass"), "raw_rabbit");
  EXPECT_EQ(detail::hazard_key(almanac, "giblets", "fresh"), "raw_giblets");
  EXPECT_EQ(detail::hazard_key(almanac, "beef", "bones"), "raw_poultry");
  EXPECT_EQ(detail::hazard_key(almanac, "meat_ground", "fresh"), "raw_ground");
  EXPECT_EQ(detail::hazard_key(almanac, "chicken", "carcass", {"carcass_small"}), "carcass_small");
  EXPECT_EQ(detail::hazard_key(almanac, "chicken", "bones", {"carcass_large"}), "raw_poultry");
  EXPECT_EQ(detail::hazard_key(almanac, "chicken", "frozen parts", {"carcass_large"}), "");
}

}  // namespace
}  // namespace stillroom::app
