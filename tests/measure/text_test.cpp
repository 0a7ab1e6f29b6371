#include "measure/text.h"

#include <gtest/gtest.h>

namespace stillroom::measure {
namespace {

constexpr auto kUs = Units::us;
constexpr auto kMetric = Units::metric;
constexpr auto kExact = Detail::exact;

TEST(Mass, IsSaidAsAPersonWould) {
  EXPECT_EQ(say(pounds(84.375), kUs), "84 lb");
  EXPECT_EQ(say(pounds(4.375), kUs), "4 lb 6 oz");
  EXPECT_EQ(say(pounds(4), kUs), "4 lb");
  EXPECT_EQ(say(pounds(3.999), kUs), "4 lb");
  EXPECT_EQ(say(pounds(9.99), kUs), "10 lb");
  EXPECT_EQ(say(ounces(6), kUs), "6 oz");
  EXPECT_EQ(say(ounces(2.4), kUs), "2½ oz");
  EXPECT_EQ(say(ounces(0.3), kUs), "0.3 oz");
  EXPECT_EQ(say(pounds(0), kUs), "0 oz");
  EXPECT_EQ(say(pounds(1237), kUs), "1,240 lb");
  EXPECT_EQ(say(kilograms(2.46), kMetric), "2.5 kg");
  EXPECT_EQ(say(kilograms(38.27), kMetric), "38 kg");
  EXPECT_EQ(say(grams(377), kMetric), "380 g");
  EXPECT_EQ(say(grams(997), kMetric), "1 kg");
  EXPECT_EQ(say(grams(4.25), kMetric), "4.3 g");
}

TEST(Mass, IsExactOnRequest) {
  EXPECT_EQ(say(pounds(84.375), kUs, kExact), "84 lb 6 oz");
  EXPECT_EQ(say(ounces(16.04), kUs, kExact), "1 lb");
  EXPECT_EQ(say(ounces(31.97), kUs, kExact), "2 lb");
  EXPECT_EQ(say(kilograms(38.2714), kMetric, kExact), "38.271 kg");
  EXPECT_EQ(say(grams(5), kMetric, kExact), "5 g");
}

TEST(Volume, MovesThroughTheKitchensMeasures) {
  EXPECT_EQ(say(us_tablespoons(0.5), kUs), "1½ tsp");
  EXPECT_EQ(say(us_tablespoons(2), kUs), "2 tbsp");
  EXPECT_EQ(say(us_cups(0.75), kUs), "¾ cup");
  EXPECT_EQ(say(us_cups(1), kUs), "1 cup");
  EXPECT_EQ(say(us_cups(2.5), kUs), "2½ cups");
  EXPECT_EQ(say(us_quarts(2.5), kUs), "2½ qt");
  EXPECT_EQ(say(us_gallons(3.25), kUs), "3¼ gal");
  EXPECT_EQ(say(us_gallons(12.3), kUs), "12 gal");
  EXPECT_EQ(say(litres(0.25), kMetric), "250 ml");
  EXPECT_EQ(say(litres(2.46), kMetric), "2.5 L");
  EXPECT_EQ(say(us_quarts(2.47), kUs, kExact), "2.47 qt");
  EXPECT_EQ(say(litres(0.2366), kMetric, kExact), "237 ml");
}

TEST(TemperatureAndHeight, AreSaidInTheHouseholdsUnits) {
  EXPECT_EQ(say(Temperature::celsius(38), kUs), "100 °F");
  EXPECT_EQ(say(Temperature::celsius(38), kUs, kExact), "100.4 °F");
  EXPECT_EQ(say(Temperature::fahrenheit(0), kMetric), "-18 °C");
  EXPECT_EQ(say(Temperature::celsius(-0.2), kMetric), "0 °C");
  EXPECT_EQ(say(Altitude::feet(2900), kUs), "2,900 ft");
  EXPECT_EQ(say(Altitude::feet(1001), kUs), "1,001 ft");  // the next altitude row: never rounded to 1,000
  EXPECT_EQ(say(Altitude::feet(2900), kMetric), "884 m");
}

TEST(Durations, GrowVaguerAsTheyGrowLonger) {
  EXPECT_EQ(say(seconds(30)), "30 s");
  EXPECT_EQ(say(minutes(20)), "20 min");
  EXPECT_EQ(say(minutes(80)), "1 h 20 min");
  EXPECT_EQ(say(minutes(59.7)), "1 h");
  EXPECT_EQ(say(hours(14)), "14 h");
  EXPECT_EQ(say(hours(14.3)), "about 14 h");
  EXPECT_EQ(say(hours(47)), "about 2 days");
  EXPECT_EQ(say(days(2)), "2 days");
  EXPECT_EQ(say(days(22)), "about 3 weeks");
  EXPECT_EQ(say(days(122)), "about 4 months");
  EXPECT_EQ(say(days(730)), "about 2 years");
  EXPECT_EQ(say(Duration{}), "0 min");
  EXPECT_EQ(say(minutes(24 * 60 + 63), kExact), "1 day 1 h 3 min");
}

TEST(Durations, OfAHeatProcessAreMinutesNeverRoundedDown) {
  EXPECT_EQ(say_minutes(minutes(85)), "85 min");
  EXPECT_EQ(say_minutes(minutes(84.2)), "85 min");
  EXPECT_EQ(say_minutes(hours(1.5)), "90 min");
}

TEST(Counts, HaveTheirPlural) {
  EXPECT_EQ(say_count(7, "quart jar"), "7 quart jars");
  EXPECT_EQ(say_count(1, "quart_jar"), "1 quart jar");
  EXPECT_EQ(say_count(0, "jar"), "0 jars");
  EXPECT_EQ(say_count(0.5, "basket"), "half a basket");
  EXPECT_EQ(say_count(0.5, "ear"), "half an ear");
  EXPECT_EQ(say_count(0.75, "bushel"), "¾ bushel");
  EXPECT_EQ(say_count(1.5, "peck"), "1½ pecks");
  EXPECT_EQ(say_count(1240, "half_pint_jar"), "1,240 half-pint jars");
  EXPECT_EQ(say_count(3, "five_gallon_bucket"), "3 five-gallon buckets");
  EXPECT_EQ(plural("box"), "boxes");
  EXPECT_EQ(plural("loaf"), "loaves");
  EXPECT_EQ(plural("bunch"), "bunches");
  EXPECT_EQ(plural("berry"), "berries");
  EXPECT_EQ(plural("day"), "days");
  EXPECT_EQ(plural("bag of peas"), "bags of peas");
}

TEST(AmountsAsSaid, ComeBackInWords) {
  EXPECT_EQ(say(parse_amount("about 84 lb 6 oz").value(), kMetric), "about 38 kg");
  EXPECT_EQ(say(parse_amount("3 5-gallon buckets").value(), kUs), "3 five-gallon buckets");
  EXPECT_EQ(say(parse_amount("2 dozen").value(), kUs), "24");
  EXPECT_EQ(say(parse_amount("about 47 hours").value(), kUs), "about 2 days");
}

TEST(Money, KeepsCentsWhereTheyMatter) {
  EXPECT_EQ(say_money(0.45), "$0.45");
  EXPECT_EQ(say_money(12.4), "$12.40");
  EXPECT_EQ(say_money(139.8), "$140");
  EXPECT_EQ(say_money(1139.8, kExact), "$1,139.80");
  EXPECT_EQ(say_money(-3), "-$3.00");
  EXPECT_EQ(say_money(-0.001), "$0.00");
}

TEST(Days, AreNamedFromToday) {
  const Date today = parse_date("2026-11-25").value();  // a Wednesday
  EXPECT_EQ(say_day(today, today), "today");
  EXPECT_EQ(say_day(today + std::chrono::days{1}, today), "tomorrow");
  EXPECT_EQ(say_day(today - std::chrono::days{1}, today), "yesterday");
  EXPECT_EQ(say_day(today + std::chrono::days{3}, today), "Saturday");
  EXPECT_EQ(say_day(today + std::chrono::days{7}, today), "Wed 2 Dec");
  EXPECT_EQ(say_day(today - std::chrono::days{2}, today), "Mon 23 Nov");
  EXPECT_EQ(say_day(parse_date("2027-08-14").value(), today), "Sat 14 Aug 2027");
}

TEST(Days, OfTheWeekAreCalledByTheirNames) {
  const Date monday = parse_date("2026-11-23").value();
  const char* names[] = {"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"};
  for (int i = 0; i < 7; ++i) EXPECT_EQ(say_weekday(monday + std::chrono::days{i}), names[i]);
  EXPECT_EQ(say_weekday(parse_date("1969-12-31").value()), "Wednesday");
}

TEST(Clock, IsReadByHalfDaysOrByTwentyFourHours) {
  const auto at = [](int h, int m) { return LocalTime{std::chrono::hours{h} + std::chrono::minutes{m}}; };
  EXPECT_EQ(say_clock(at(6, 30), kUs), "6:30 am");
  EXPECT_EQ(say_clock(at(0, 5), kUs), "12:05 am");
  EXPECT_EQ(say_clock(at(12, 0), kUs), "12:00 pm");
  EXPECT_EQ(say_clock(at(18, 0), kUs), "6:00 pm");
  EXPECT_EQ(say_clock(at(6, 30), kMetric), "06:30");
  EXPECT_EQ(say_clock(LocalTime{std::chrono::hours{-1}}, kMetric), "23:00");
}

TEST(Lists, AreJoinedAsInSpeech) {
  EXPECT_EQ(say_list({}), "");
  EXPECT_EQ(say_list({"pears"}), "pears");
  EXPECT_EQ(say_list({"pears", "plums"}), "pears and plums");
  EXPECT_EQ(say_list({"pears", "plums", "quinces"}), "pears, plums and quinces");
}

TEST(EditDistance, CountsStepsAndSwaps) {
  EXPECT_EQ(edit_distance("pear", "pear"), 0);
  EXPECT_EQ(edit_distance("PEAR", "pear"), 0);
  EXPECT_EQ(edit_distance("paer", "pear"), 1);
  EXPECT_EQ(edit_distance("kitten", "sitting"), 3);  // the textbook example of Levenshtein's distance
  EXPECT_EQ(edit_distance("ca", "abc"), 3);          // 2 if a swapped pair could be edited again
  EXPECT_EQ(edit_distance("", "abc"), 3);
}

TEST(Suggestions, AreNearestFirstAndFew) {
  const std::vector<std::string> crops = {"pear", "peach", "pea", "plum", "tomato", "tomatillo", "sweet corn"};
  EXPECT_EQ(suggest("paer", crops, 1), std::vector<std::string>{"pear"});
  EXPECT_EQ(suggest("Pear", crops), std::vector<std::string>{"pear"});
  EXPECT_EQ(suggest("tomatoe", crops).front(), "tomato");
  EXPECT_EQ(suggest("swe", crops), std::vector<std::string>{"sweet corn"});
  EXPECT_EQ(suggest("tom", crops, 2), (std::vector<std::string>{"tomato", "tomatillo"}));
  EXPECT_TRUE(suggest("zucchini", crops).empty());
  EXPECT_TRUE(suggest("", crops).empty());
  EXPECT_TRUE(suggest(std::string(10'000, 'p'), crops).empty());
}

}  // namespace
}  // namespace stillroom::measure
