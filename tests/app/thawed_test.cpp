#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "app/household.h"

// Food out of the freezer or the cold has a hard clock, which nothing turns back.
namespace stillroom::app {
namespace {

using std::chrono::hours;
using testing::ElementsAre;
using testing::HasSubstr;

/// Green beans, frozen.
struct FrozenPacks {
  House h = test::kitchen();
  Instant now = test::morning();
  std::string packs;

  FrozenPacks() {
    const std::string lot = test::bring(h, now, "5 lb green beans, firm, in the fridge");
    const auto batch = start_batch(h, now, "bean_snap/frozen", {lot}, 0);
    EXPECT_TRUE(batch) << (batch ? "" : batch.error().message);
    const auto made = pack(h, now, batch.value_or(""), 4, "");
    EXPECT_TRUE(made) << (made ? "" : made.error().message);
    packs = made.value_or("");
  }
  [[nodiscard]] PackView on_the_shelf() const {
    for (const LarderShelf& shelf : larder_view(h, now).shelves)
      for (const PackView& p : shelf.packs)
        if (p.parcel == packs) return p;
    ADD_FAILURE() << "the packs are gone";
    return {};
  }
};

TEST(Thawed, PacksInTheFreezerRunNoClock) {
  FrozenPacks f;
  f.now += hours(24 * 30);
  EXPECT_EQ(f.on_the_shelf().note, "");
  EXPECT_EQ(f.on_the_shelf().do_not_eat, "");
}

// USDA-FSIS: perishable food not over 2 hours above 40 degF. Thawed vegetables in the refrigerator: 1 to 2 days, common
// practice (data/keeping/hazard_clocks.csv, thawed_produce).
TEST(Thawed, PacksMovedToTheFridgeAreEatenWithinTheirPublishedDays) {
  FrozenPacks f;
  ASSERT_TRUE(move(f.h, f.now, f.packs, "fridge"));
  f.now += hours(20);
  EXPECT_THAT(f.on_the_shelf().note, HasSubstr("Out of the freezer: cook or eat it by"));
  EXPECT_EQ(f.on_the_shelf().do_not_eat, "");
  f.now += hours(29);
  EXPECT_THAT(f.on_the_shelf().do_not_eat, HasSubstr("time out of the freezer was over"));
  const auto taken = take(f.h, f.now, f.packs, 1);
  ASSERT_FALSE(taken);
  EXPECT_EQ(taken.error().code, "out_of_time");
  const auto given = leave(f.h, f.now, f.packs, "all", Leaves::given_away, "");
  ASSERT_FALSE(given);
  EXPECT_EQ(given.error().code, "out_of_time");
  EXPECT_TRUE(leave(f.h, f.now, f.packs, "all", Leaves::thrown_away, "thawed"));
}

TEST(Thawed, TheFreezerStopsTheClockAndNeverTurnsItBack) {
  FrozenPacks f;
  ASSERT_TRUE(move(f.h, f.now, f.packs, "counter"));
  f.now += hours(1);
  ASSERT_TRUE(move(f.h, f.now, f.packs, "freezer"));
  f.now += hours(24 * 30);
  EXPECT_EQ(f.on_the_shelf().do_not_eat, "");
  ASSERT_TRUE(move(f.h, f.now, f.packs, "counter"));
  f.now += hours(1) + std::chrono::minutes(1);  // two hours in all
  EXPECT_THAT(f.on_the_shelf().do_not_eat, HasSubstr("Do not eat"));
  ASSERT_TRUE(move(f.h, f.now, f.packs, "freezer"));
  EXPECT_THAT(f.on_the_shelf().do_not_eat, HasSubstr("Do not eat")) << "frozen again it is no better";
}

TEST(OutOfTheCold, ALotPastItsClockIsNeitherEatenNorGivenAway) {
  House h = test::kitchen();
  Instant now = test::morning();
  const std::string lot = test::bring(h, now, "6 lb chicken, in the fridge");
  now += hours(24 * 3);  // USDA-FSIS: raw poultry 1 to 2 days in the refrigerator
  const auto eaten = leave(h, now, lot, "all", Leaves::eaten, "");
  ASSERT_FALSE(eaten);
  EXPECT_EQ(eaten.error().code, "out_of_time");
  EXPECT_FALSE(leave(h, now, lot, "all", Leaves::fed_to_stock, ""));
  EXPECT_TRUE(leave(h, now, lot, "all", Leaves::thrown_away, "out of time"));
}

nlohmann::json entry(char id, Instant now, const char* kind, nlohmann::json what, bool live = true) {
  return {{"v", 1},       {"id", std::string(32, id)}, {"happened", measure::to_iso(now)}, {"live", live},
          {"kind", kind}, {"what", std::move(what)}};
}

/// What a page is answered: the code of each refusal, empty where the entry was stored.
std::vector<std::string> sent(House& h, Instant now, const std::vector<nlohmann::json>& entries) {
  const auto received = receive_entries(h, now, nlohmann::json(entries).dump());
  EXPECT_TRUE(received);
  std::vector<std::string> codes;
  for (const Received& one : *received) {
    EXPECT_NE(one.stored, one.refusal.has_value());
    codes.push_back(one.refusal ? one.refusal->code : "");
    EXPECT_TRUE(one.stored || !one.refusal->instead.empty());
  }
  return codes;
}

TEST(Thawed, APageThatIsLiveIsHeldToTheClockAsTheCommandLineIs) {
  FrozenPacks f;
  const nlohmann::json one = {{"parcel", f.packs}, {"packs", 1}};
  EXPECT_THAT(sent(f.h, f.now, {entry('1', f.now, "taken", one)}), ElementsAre(""));
  ASSERT_TRUE(move(f.h, f.now, f.packs, "fridge"));
  f.now += hours(20);
  EXPECT_THAT(sent(f.h, f.now, {entry('2', f.now, "taken", one)}), ElementsAre("")) << "within its days";
  const Instant then = f.now;
  f.now += hours(29);
  EXPECT_THAT(sent(f.h, f.now, {entry('3', f.now, "taken", one), entry('4', f.now, "given_away", one)}),
              ElementsAre("out_of_time", "out_of_time"));
  EXPECT_EQ(f.on_the_shelf().packs, 2);
  EXPECT_THAT(sent(f.h, f.now, {entry('2', then, "taken", one)}), ElementsAre("")) << "the answer was lost, once";
  EXPECT_EQ(f.on_the_shelf().packs, 2);
  EXPECT_THAT(sent(f.h, f.now, {entry('5', f.now, "taken", one, false)}), ElementsAre("")) << "it is eaten: a fact";
  EXPECT_THAT(sent(f.h, f.now, {entry('6', f.now, "thrown_away", one)}), ElementsAre(""));
}

TEST(Thawed, TheClockIsThatOfThePlaceTheyWereMovedToInTheSameBreath) {
  FrozenPacks f;
  ASSERT_TRUE(move(f.h, f.now, f.packs, "counter"));
  f.now += hours(3);
  const nlohmann::json home = {{"parcel", f.packs}, {"place", "freezer"}}, one = {{"parcel", f.packs}, {"packs", 1}};
  // They went back after half an hour, and only the phone knew.
  EXPECT_THAT(sent(f.h, f.now,
                   {entry('1', f.now - hours(2) - std::chrono::minutes(30), "moved", home, false),
                    entry('2', f.now, "taken", one)}),
              ElementsAre("", ""));
}

TEST(OutOfTheCold, APageStartsNoBatchFromADraftThatHasOutlivedItsLot) {
  House h = test::kitchen();
  Instant now = test::morning();
  const std::string lot = test::bring(h, now, "6 lb chicken, in the fridge");
  nlohmann::json fed = {{"parcel", lot}, {"mass_g", 500}};
  const auto draft = draft_batch(h, now, "chicken/part_out", {lot}, 0);
  ASSERT_TRUE(draft) << draft.error().message;
  const auto started = nlohmann::json::parse(ledger::to_json(
      ledger::Entry{.id = *ledger::Id::parse(std::string(32, '1')), .happened = now, .live = true, .what = *draft}));
  now += hours(24 * 3);
  EXPECT_THAT(sent(h, now, {started, entry('2', now, "eaten_fresh", fed), entry('3', now, "fed_to_stock", fed)}),
              ElementsAre("out_of_time", "out_of_time", "out_of_time"));
  EXPECT_TRUE(h.ledger.state().batches.empty());
}

}  // namespace
}  // namespace stillroom::app
