#include <gtest/gtest.h>

#include "app/household.h"

namespace stillroom::app {
namespace {

using test::bring;
using test::morning;

BringInDraft read(const House& h, const std::string& line) {
  const auto draft = read_bring_in(h, morning(), line);
  EXPECT_TRUE(draft) << line << ": " << (draft ? "" : draft.error().message);
  return draft.value_or(BringInDraft{});
}

measure::Refusal refused(const House& h, const std::string& line) {
  const auto draft = read_bring_in(h, morning(), line);
  EXPECT_FALSE(draft) << line;
  return draft ? measure::Refusal{} : draft.error();
}

TEST(BringIn, ReadsAmountCropConditionAndPlaceFromOneLine) {
  const House h = test::kitchen();
  const BringInDraft d = read(h, "20 lb plums, soft, in the cellar");
  EXPECT_EQ(d.crop, "plum");
  EXPECT_EQ(d.condition, "soft");
  EXPECT_EQ(d.place, "cellar");
  EXPECT_NEAR(d.mass_kg, 20 * 0.45359237, 1e-9);  // exact pound, 1959 agreement
}

TEST(BringIn, WeighsABushelByThePublishedWeight) {
  const House h = test::kitchen();
  // University of Georgia Extension Circular 780: a bushel of apples weighs 42 to 48 lb.
  const double pounds = read(h, "1 bu apples").mass_kg / 0.45359237;
  EXPECT_GE(pounds, 42);
  EXPECT_LE(pounds, 48);
}

TEST(BringIn, TakesAConditionSaidBeforeTheCrop) {
  EXPECT_EQ(read(test::kitchen(), "5 lb soft pears").condition, "soft");
}

TEST(BringIn, TakesAPlaceSaidInTheSameBreath) {
  EXPECT_EQ(read(test::kitchen(), "5 lb pears in the fridge").place, "fridge");
}

TEST(BringIn, RefusesAnUnknownCropWithNearNames) {
  const auto r = refused(test::kitchen(), "3 lb quincse");
  EXPECT_EQ(r.code, "unknown_crop");
  ASSERT_FALSE(r.instead.empty());
  EXPECT_NE(r.instead.front().find("quince"), std::string::npos);
}

TEST(BringIn, RefusesWhatIsNoConditionPlaceOrDay) {
  EXPECT_EQ(refused(test::kitchen(), "3 lb pears, wobbly").code, "unknown_words");
}

TEST(BringIn, RefusesALineWithoutAnAmount) { EXPECT_EQ(refused(test::kitchen(), "pears").code, "no_amount"); }

TEST(BringIn, RefusesANegativeAmount) { EXPECT_EQ(refused(test::kitchen(), "-3 lb pears").code, "negative_amount"); }

TEST(BringIn, RefusesAFutureDate) {
  House h = test::kitchen();
  const auto draft = read_bring_in(h, morning(), "3 lb pears, 2026-12-24");
  ASSERT_TRUE(draft);
  const auto done = bring_in(h, morning(), *draft);
  ASSERT_FALSE(done);
  EXPECT_EQ(done.error().code, "future");
}

TEST(BringInCsv, KeepsGoodRowsAndReportsBadOnesByLine) {
  House h = test::kitchen();
  const auto before = h.ledger.state().parcels.size();
  const auto done = bring_in_csv(h, morning(),
                                 "crop,amount,unit,condition,place,when\r\n"
                                 "pears,2,bu,firm,cellar,\r\n"
                                 "pearrs,2,bu,firm,cellar,\r\n"
                                 "plums,ten,lb,ripe,counter,yesterday\r\n"
                                 "plums,10,lb,ripe,counter,2099-01-01\r\n"
                                 "beets,5,lb\r\n"
                                 "beets,5 lb,,firm,fridge,yesterday\r\n");
  ASSERT_TRUE(done) << done.error().message;
  EXPECT_EQ(done->kept, 3);
  EXPECT_EQ(h.ledger.state().parcels.size(), before + 3);
  ASSERT_EQ(done->bad.size(), 3U);
  EXPECT_EQ(done->bad[0].line, 3);
  EXPECT_EQ(done->bad[0].refusal.code, "unknown_crop");
  EXPECT_EQ(done->bad[1].line, 5);
  EXPECT_EQ(done->bad[2].line, 6);
  EXPECT_EQ(done->bad[2].refusal.code, "ragged_row");
}

TEST(BringInCsv, RefusesAFileWithoutTheColumns) {
  House h = test::kitchen();
  EXPECT_FALSE(bring_in_csv(h, morning(), "what,how much\r\npears,2 bu\r\n"));
}

}  // namespace
}  // namespace stillroom::app
