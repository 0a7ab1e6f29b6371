#include <gtest/gtest.h>

#include "kitchen/batch.h"

namespace stillroom::kitchen {
namespace {

// Crockford's base 32: symbols 0-9 A-Z without I, L, O, U; check symbol = number mod 37 with *~$=U for 32 to 36.
TEST(PackCode, FollowsCrockfordsSymbols) {
  EXPECT_EQ(pack_code(0), "00000-0");
  EXPECT_EQ(pack_code(31), "0000Z-Z");
  EXPECT_EQ(pack_code(32), "00010-*");
  EXPECT_EQ(pack_code(33), "00011-~");
  EXPECT_EQ(pack_code(34), "00012-$");
  EXPECT_EQ(pack_code(35), "00013-=");
  EXPECT_EQ(pack_code(36), "00014-U");
  EXPECT_EQ(pack_code(37), "00015-0");
  EXPECT_EQ(pack_code(1234), "0016J-D");             // 1*1024 + 6*32 + 18; 1234 mod 37 = 13
  EXPECT_EQ(pack_code(33'554'431), "ZZZZZ-K");       // 32^5 - 1; mod 37 = 19
  EXPECT_EQ(pack_code(33'554'432), "100000-M");      // 32^5; mod 37 = 20, since 32 is -5 and (-5)^5 = -3125 = -17
  EXPECT_EQ(pack_code(4'294'967'295), "3ZZZZZZ-6");  // 2^32 - 1; mod 37 = 6
}

TEST(PackCode, ForgivesCaseSpacesAndTheLettersThatLookLikeDigits) {
  for (const char* typed : {"0016J-D", "0016jd", " oo16J - d ", "OOI6J-D", "ool6j d"}) {
    const auto number = number_of_code(typed);
    ASSERT_TRUE(number) << typed;
    EXPECT_EQ(*number, 1234U) << typed;
  }
  EXPECT_EQ(number_of_code("00014-u").value(), 36U);
}

TEST(PackCode, RefusesWhatIsNoCode) {
  for (const char* typed :
       {"", "16JD", "0016J", "0016J-E", "0016U-D", "00!6J-D", "000016J-D", "123456789-0", "ZZZZZZZ-0"}) {
    const auto number = number_of_code(typed);
    ASSERT_FALSE(number) << typed;
    EXPECT_EQ(number.error().code, "bad_code") << typed;
    EXPECT_FALSE(number.error().instead.empty());
  }
}

}  // namespace
}  // namespace stillroom::kitchen
