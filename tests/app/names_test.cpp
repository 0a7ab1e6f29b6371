#include "app/detail/names.h"

#include <gtest/gtest.h>

// How long a lot has left, in words that read well at the ends.
namespace stillroom::app::detail {
namespace {

TEST(Names, DaysLeftReadWellWhereTheyAreFew) {
  EXPECT_EQ(days_words(0.2, 0.5, 0.9).words, "less than a day left");
  EXPECT_EQ(days_words(0.3, 0.8, 1.2).words, "at most 1 day left");
  EXPECT_EQ(days_words(0.3, 1.1, 2.4).words, "at most 2 days left");
  EXPECT_EQ(days_words(0.8, 1.1, 1.4).words, "about 1 day left");
  EXPECT_EQ(days_words(0.8, 1.4, 2.4).words, "1 to 2 days left");
  EXPECT_EQ(days_words(2.8, 3.1, 3.4).words, "about 3 days left");
  EXPECT_EQ(days_words(50, 61, 90).words, "2 to 3 months left");
  EXPECT_EQ(days_words(60, 62, 70).words, "about 2 months left");
}

TEST(Names, ASpanOfOneSaysOne) {
  EXPECT_EQ(span_words(0.9, 1.2, "quart"), "1 quart");
  EXPECT_EQ(span_words(0.2, 1.2, "quart"), "0 to 1 quart");
  EXPECT_EQ(span_words(2, 4, "quart"), "2 to 4 quarts");
}

}  // namespace
}  // namespace stillroom::app::detail
