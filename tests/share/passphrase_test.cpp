#include "share/passphrase.h"

#include <gtest/gtest.h>

#include "share/support.h"

namespace stillroom::share {
namespace {

constexpr ScryptCost kCheap{.log2_n = 4, .r = 8, .p = 1};

TEST(Passphrase, IsHeldToALengthAPersonCanType) {
  EXPECT_TRUE(fit_passphrase("plum jar attic hen"));
  EXPECT_TRUE(fit_passphrase("twelve chars"));
  for (const char* bad :
       {"", "short", "eleven char", "aaaaaaaaaaaaaaaa", "two\nlines of it", "\xff\xfe broken text here"}) {
    const auto fit = fit_passphrase(bad);
    ASSERT_FALSE(fit) << bad;
    EXPECT_EQ(fit.error().code, "bad_passphrase");
    EXPECT_FALSE(fit.error().instead.empty());
  }
  EXPECT_FALSE(fit_passphrase(std::string(300, 'a') + "b"));
  // Characters count, not bytes: these are 11.
  EXPECT_FALSE(fit_passphrase("äöüäöüäöüäö"));
}

TEST(Passphrase, MatchesItselfAndNothingElse) {
  const std::string stored = hash_passphrase("plum jar attic hen", kCheap, counting_entropy());
  EXPECT_TRUE(is_passphrase_hash(stored));
  EXPECT_TRUE(matches(stored, "plum jar attic hen"));
  for (const char* other : {"", "plum jar attic he", "plum jar attic henn", "Plum jar attic hen"})
    EXPECT_FALSE(matches(stored, other)) << other;
  EXPECT_EQ(stored.find("plum"), std::string::npos);
}

TEST(Passphrase, IsSaltedAnew) {
  const Entropy entropy = counting_entropy();
  EXPECT_NE(hash_passphrase("plum jar attic hen", kCheap, entropy),
            hash_passphrase("plum jar attic hen", kCheap, entropy));
}

TEST(Passphrase, TextThatIsNoHashMatchesNothing) {
  for (const char* text :
       {"", "scrypt", "scrypt 4 8 1 00 00", "plain 4 8 1 00 00", "scrypt 63 8 1 00 00", "scrypt -1 8 1 x y"}) {
    EXPECT_FALSE(is_passphrase_hash(text)) << text;
    EXPECT_FALSE(matches(text, "")) << text;
  }
}

// RFC 7914, section 12: scrypt("pleaseletmein", "SodiumChloride", N = 16384, r = 8, p = 1), the first 32 of 64 bytes
// (the last step, PBKDF2, makes its output in blocks of 32).
TEST(Passphrase, IsHashedByTheStandard) {
  EXPECT_TRUE(
      matches("scrypt 14 8 1 536f6469756d43686c6f72696465 "
              "7023bdcb3afd7348461c06cd81fd38ebfda8fbba904f8e3ea9b543f6545da1f2",
              "pleaseletmein"));
}

TEST(Passphrase, CostIsPartOfWhatIsStored) {
  const std::string cheap = hash_passphrase("plum jar attic hen", kCheap, counting_entropy());
  const std::string dear = hash_passphrase("plum jar attic hen", {.log2_n = 5}, counting_entropy());
  EXPECT_TRUE(cheap.starts_with("scrypt 4 8 1 "));
  EXPECT_TRUE(dear.starts_with("scrypt 5 8 1 "));
  EXPECT_NE(cheap.substr(cheap.rfind(' ')), dear.substr(dear.rfind(' ')));
  EXPECT_GE(ScryptCost{}.log2_n, 15);
}

}  // namespace
}  // namespace stillroom::share
