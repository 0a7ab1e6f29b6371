#include "measure/id.h"

#include <gtest/gtest.h>

#include <set>

namespace stillroom::measure {
namespace {

TEST(Id, IsWrittenAs32LowerCaseHexDigitsAndReadBack) {
  const auto id = Id::parse("00FFa1b2c3d4e5f60718293a4b5c6d7e");
  ASSERT_TRUE(id.has_value());
  EXPECT_EQ(id->bytes[0], 0x00);
  EXPECT_EQ(id->bytes[1], 0xff);
  EXPECT_EQ(id->bytes[15], 0x7e);
  EXPECT_EQ(id->hex(), "00ffa1b2c3d4e5f60718293a4b5c6d7e");
}

TEST(Id, RefusesWrongLengthAndWrongDigits) {
  for (const std::string text :
       {"", "00", "00ffa1b2c3d4e5f60718293a4b5c6d7", "00ffa1b2c3d4e5f60718293a4b5c6d7e0",
        "g0ffa1b2c3d4e5f60718293a4b5c6d7e", "0gffa1b2c3d4e5f60718293a4b5c6d7e", "00ffa1b2-c3d4e5f60718293a4b5c6d7"}) {
    const auto id = Id::parse(text);
    ASSERT_FALSE(id.has_value()) << text;
    EXPECT_EQ(id.error().code, "bad_id");
    EXPECT_FALSE(id.error().instead.empty());
  }
}

TEST(Id, OnlyTheZeroIdIsNil) {
  EXPECT_TRUE(Id{}.is_nil());
  EXPECT_FALSE(Id::parse("00000000000000000000000000000001")->is_nil());
}

// First outputs of SplitMix64 for seed 0, from the published reference implementation (S. Vigna, 2015).
TEST(Random, IsTheSplitMix64Sequence) {
  Random random(0);
  EXPECT_EQ(random.next(), 0xE220A8397B1DCDAFULL);
  EXPECT_EQ(random.next(), 0x6E789E6AA1B965F4ULL);
  EXPECT_EQ(random.next(), 0x06C45D188009454FULL);
}

TEST(Random, SameSeedGivesTheSameIdsAndTheyAreTheBytesInOrder) {
  Random a(0);
  Random b(0);
  EXPECT_EQ(a.id().hex(), "e220a8397b1dcdaf6e789e6aa1b965f4");
  b.id();
  EXPECT_EQ(a.id(), b.id());
}

TEST(Random, IdsDoNotRepeat) {
  Random random(20261125);
  std::set<Id> seen;
  for (int i = 0; i < 10'000; ++i) seen.insert(random.id());
  EXPECT_EQ(seen.size(), 10'000u);
}

TEST(Random, StaysInsideItsRanges) {
  Random random(7);
  std::set<std::uint32_t> seen;
  for (int i = 0; i < 10'000; ++i) {
    const double u = random.uniform();
    EXPECT_GE(u, 0.0);
    EXPECT_LT(u, 1.0);
    seen.insert(random.below(6));
  }
  EXPECT_EQ(seen, (std::set<std::uint32_t>{0, 1, 2, 3, 4, 5}));
}

}  // namespace
}  // namespace stillroom::measure
