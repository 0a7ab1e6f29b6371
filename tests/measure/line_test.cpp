#include "measure/line.h"

#include <gtest/gtest.h>

namespace stillroom::measure {
namespace {

/// One line taken apart, in one string: "kind value container | thing | lead:words | ...".
std::string apart(std::string_view line) {
  const auto parts = parse_line(line);
  if (!parts) return parts.error().code;
  std::string out = parts->amount ? parts->amount->said : "-";
  out += " | " + parts->thing;
  for (const auto& phrase : parts->phrases) out += " | " + phrase.lead + ":" + phrase.words;
  return out;
}

TEST(Lines, AreTakenApartIntoAmountThingAndRemarks) {
  EXPECT_EQ(apart("2 bu pears, firm, in the pantry"), "2 bu | pears | :firm | in:pantry");
  EXPECT_EQ(apart("84 lb 6 oz plums, soft, cellar"), "84 lb 6 oz | plums | :soft | :cellar");
  EXPECT_EQ(apart("half a basket of quinces"), "half a basket | quinces");
  EXPECT_EQ(apart("a dozen eggs; put in our Cool Room"), "a dozen | eggs | in:Cool Room");
  EXPECT_EQ(apart("about 3 five-gallon buckets of the Roma tomatoes., going over"),
            "about 3 five-gallon buckets | Roma tomatoes | :going over");
  EXPECT_EQ(apart("a 50 lb bag of potatoes"), "a 50 lb bag | potatoes");
}

TEST(Lines, AllowTheAmountToFollowTheThing) {
  EXPECT_EQ(apart("pears 2 bu, firm"), "2 bu | pears | :firm");
  EXPECT_EQ(apart("pears, firm, 2½ bu"), "2½ bu | pears | :firm");
  EXPECT_EQ(apart("pears, 2,900 g"), "2,900 g | pears");
}

TEST(Lines, WithoutAnAmountKeepTheirWords) {
  EXPECT_EQ(apart("pears, firm"), "- | pears | :firm");
  EXPECT_EQ(apart("a few pears"), "- | a few pears");
  EXPECT_EQ(apart("quinces, picked 2 days ago, from the Hill tree"),
            "- | quinces | :picked 2 days ago | from:Hill tree");
  EXPECT_EQ(apart("2 bu"), "2 bu | ");
}

TEST(Lines, CountThingsThatHaveNoUnit) {
  const auto parts = parse_line("7 chickens").value();
  EXPECT_EQ(parts.amount->kind, AmountKind::count);
  EXPECT_EQ(parts.amount->value, 7);
  EXPECT_EQ(parts.amount->container, "");
  EXPECT_EQ(parts.thing, "chickens");
}

TEST(Lines, RefuseAWrongNumberAndNothingAtAll) {
  EXPECT_EQ(apart(""), "no_words");
  EXPECT_EQ(apart(" , ;"), "no_words");
  EXPECT_EQ(apart("2,5 kg plums"), "bad_number");
  EXPECT_EQ(apart("10-12 lb plums"), "amount_range");
  EXPECT_EQ(apart("-2 lb plums"), "negative_amount");
  EXPECT_EQ(apart("50,000 lb plums"), "absurd_amount");
  EXPECT_EQ(apart("2 lb " + std::string(10'000, 'x')), "too_long");
}

TEST(Lines, KeepLettersOfEveryScript) {
  EXPECT_EQ(apart("2 kg Äpfel, kühl"), "2 kg | Äpfel | :kühl");
  EXPECT_EQ(apart("3\u00a0lb jalape\u00f1os"), "3\u00a0lb | jalape\u00f1os");
}

TEST(CutAtPlace, FindsThePlaceInWordsNothingElseExplains) {
  const auto cut = cut_at_place("pears in the pantry");
  ASSERT_TRUE(cut.has_value());
  EXPECT_EQ(cut->first, "pears");
  EXPECT_EQ(cut->second, (Phrase{.lead = "in", .words = "pantry"}));
  EXPECT_EQ(cut_at_place("peas in the pod in the cellar")->first, "peas in the pod");
  EXPECT_FALSE(cut_at_place("pears").has_value());
  EXPECT_FALSE(cut_at_place("in").has_value());
}

}  // namespace
}  // namespace stillroom::measure
