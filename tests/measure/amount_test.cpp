#include "measure/amount.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace stillroom::measure {

// GoogleTest prints a Refusal's words instead of bytes.
void PrintTo(const Refusal& refusal, std::ostream* out) { *out << refusal.code << ": " << refusal.message; }

namespace {

Amount read(std::string_view text) {
  auto amount = parse_amount(text);
  EXPECT_TRUE(amount.has_value()) << text << ": " << (amount ? "" : amount.error().message);
  return amount.value_or(Amount{.container = "unread"});
}

std::string code(std::string_view text) {
  const auto amount = parse_amount(text);
  return amount ? "understood" : amount.error().code;
}

double lb(std::string_view text) { return in_pounds(read(text).mass()); }

std::string container(std::string_view text) {
  const auto a = read(text);
  EXPECT_EQ(a.kind, AmountKind::container) << text;
  return std::to_string(a.value).substr(0, 5) + " " + a.container;
}

std::string counted(std::string_view text) {
  const auto a = read(text);
  EXPECT_EQ(a.kind, AmountKind::count) << text;
  return std::to_string(a.value).substr(0, 4) + " " + a.container;
}

TEST(Amounts, AreReadByWeight) {
  EXPECT_DOUBLE_EQ(lb("84 lb 6 oz"), 84.375);
  EXPECT_DOUBLE_EQ(lb("84lb6oz"), 84.375);
  EXPECT_DOUBLE_EQ(lb("84 pounds and 6 ounces"), 84.375);
  EXPECT_DOUBLE_EQ(lb("a pound and a half"), 1.5);
  EXPECT_DOUBLE_EQ(lb("2 lbs."), 2);
  EXPECT_DOUBLE_EQ(lb("half a pound"), 0.5);
  EXPECT_DOUBLE_EQ(read("2.5 kg").value, 2.5);
  EXPECT_DOUBLE_EQ(read("500 g").value, 0.5);
  EXPECT_DOUBLE_EQ(read("2 kg 250 g").value, 2.25);
  EXPECT_DOUBLE_EQ(read("2,500 g").value, 2.5);
  EXPECT_DOUBLE_EQ(read("2,500½ g").value, 2.5005);
  EXPECT_NEAR(lb("a 50 lb bag"), 50, 1e-9);
  EXPECT_NEAR(lb("50-lb bag"), 50, 1e-9);
  EXPECT_NEAR(lb("2 50-lb bags"), 100, 1e-9);
}

TEST(Amounts, AreReadByContainer) {
  EXPECT_EQ(container("2 bu"), "2.000 bushel");
  EXPECT_EQ(container("1 1/2 pecks"), "1.500 peck");
  EXPECT_EQ(container("1½ pecks"), "1.500 peck");
  EXPECT_EQ(container("1 ½ pk."), "1.500 peck");
  EXPECT_EQ(container("1-1/2 bushels"), "1.500 bushel");
  EXPECT_EQ(container("1/2 bushel"), "0.500 bushel");
  EXPECT_EQ(container("half a bushel"), "0.500 bushel");
  EXPECT_EQ(container("a half bushel"), "0.500 bushel");
  EXPECT_EQ(container("three quarters of a bushel"), "0.750 bushel");
  EXPECT_EQ(container("a bushel and a half"), "1.500 bushel");
  EXPECT_EQ(container("two and a half bushels"), "2.500 bushel");
  EXPECT_EQ(container("1 bushel 2 pecks"), "1.500 bushel");
  EXPECT_EQ(container("2 half-bushel baskets"), "2.000 half_bushel");
  EXPECT_EQ(container("half a basket"), "0.500 basket");
  EXPECT_EQ(container("a couple of boxes"), "2.000 box");
  EXPECT_EQ(container("twenty-five lugs"), "25.00 lug");
  EXPECT_EQ(container("3 flats"), "3.000 flat");
}

TEST(Amounts, KnowABasketsSizeFromANumberOfBaskets) {
  EXPECT_EQ(container("3 five-gallon buckets"), "3.000 five_gallon_bucket");
  EXPECT_EQ(container("3 5-gallon buckets"), "3.000 five_gallon_bucket");
  EXPECT_EQ(container("a 5 gallon bucket"), "1.000 five_gallon_bucket");
  EXPECT_EQ(container("five-gallon bucket"), "1.000 five_gallon_bucket");
  EXPECT_EQ(container("2 buckets"), "2.000 five_gallon_bucket");
  EXPECT_EQ(container("4 quart baskets"), "4.000 quart_basket");
  EXPECT_EQ(container("4-quart basket"), "1.000 four_quart_basket");
  EXPECT_EQ(container("2 four-quart baskets"), "2.000 four_quart_basket");
  EXPECT_EQ(container("a twelve-quart basket"), "1.000 twelve_quart_basket");
  EXPECT_EQ(counted("half-pint jar"), "1.00 half_pint_jar");
  EXPECT_EQ(counted("6 half-pint jars"), "6.00 half_pint_jar");
  EXPECT_NEAR(in_us_gallons(read("two 3-gallon buckets").volume()), 6, 1e-9);
}

TEST(Amounts, AreReadByVolumeOrByCount) {
  EXPECT_NEAR(in_us_quarts(read("7 qt").volume()), 7, 1e-9);
  EXPECT_NEAR(in_us_quarts(read("1 gal 2 qt").volume()), 6, 1e-9);
  EXPECT_NEAR(in_us_cups(read("1½ cups").volume()), 1.5, 1e-9);
  EXPECT_NEAR(in_us_cups(read("6 half-pints").volume()), 6, 1e-9);
  EXPECT_NEAR(in_litres(read("2.5 L").volume()), 2.5, 1e-9);
  EXPECT_EQ(counted("12"), "12.0 ");
  EXPECT_EQ(counted("a dozen"), "12.0 ");
  EXPECT_EQ(counted("half a dozen"), "6.00 ");
  EXPECT_EQ(counted("2 dozen ears"), "24.0 ear");
  EXPECT_EQ(counted("12 jars"), "12.0 jar");
  EXPECT_EQ(counted("7 qt jars"), "7.00 quart_jar");
  EXPECT_EQ(counted("0 jars"), "0.00 jar");
  EXPECT_EQ(counted("two hundred"), "200. ");
}

TEST(Amounts, AreReadByTemperatureHeightAndTime) {
  EXPECT_NEAR(read("38 C").temperature().in_celsius(), 38, 1e-9);
  EXPECT_NEAR(read("38°c").temperature().in_celsius(), 38, 1e-9);
  EXPECT_NEAR(read("38 degrees celsius").temperature().in_celsius(), 38, 1e-9);
  EXPECT_NEAR(read("100 °F").temperature().in_fahrenheit(), 100, 1e-9);
  EXPECT_NEAR(read("-18 °C").temperature().in_celsius(), -18, 1e-9);
  EXPECT_NEAR(read("\u22120.5 F").temperature().in_fahrenheit(), -0.5, 1e-9);
  EXPECT_NEAR(read("2,900 ft").altitude().in_feet(), 2900, 1e-9);
  EXPECT_NEAR(read("880 m").altitude().in_metres(), 880, 1e-9);
  EXPECT_NEAR(in_minutes(read("1 h 20 min").duration()), 80, 1e-9);
  EXPECT_NEAR(in_minutes(read("1h20").duration()), 80, 1e-9);
  EXPECT_NEAR(in_minutes(read("1h 20m").duration()), 80, 1e-9);
  EXPECT_NEAR(in_minutes(read("2 days 3 h 5 min").duration()), 3065, 1e-9);
  EXPECT_NEAR(in_minutes(read("half an hour").duration()), 30, 1e-9);
  EXPECT_NEAR(in_days(read("about 2 days").duration()), 2, 1e-9);
}

TEST(Amounts, RememberWhatWasSaidAndWhetherItWasAGuess) {
  EXPECT_EQ(read("  about 2 bu ").said, "about 2 bu");
  EXPECT_TRUE(read("about 2 bu").about);
  EXPECT_TRUE(read("~20 lb").about);
  EXPECT_FALSE(read("2 bu").about);
}

TEST(Amounts, RefuseWhatCannotBeMeant) {
  EXPECT_EQ(code(""), "no_amount");
  EXPECT_EQ(code("pears"), "no_amount");
  EXPECT_EQ(code("a few"), "no_amount");
  EXPECT_EQ(code("2,5 kg"), "bad_number");
  EXPECT_EQ(code("0,500 kg"), "bad_number");
  EXPECT_EQ(code("1,2345 lb"), "bad_number");
  EXPECT_EQ(code("1.2.3 lb"), "bad_number");
  EXPECT_EQ(code("1/0 lb"), "bad_number");
  EXPECT_EQ(code("1234567890123 lb"), "bad_number");
  EXPECT_EQ(code("-3 lb"), "negative_amount");
  EXPECT_EQ(code("minus 3 jars"), "negative_amount");
  EXPECT_EQ(code("10-12 lb"), "amount_range");
  EXPECT_EQ(code("two or three bushels"), "amount_range");
  EXPECT_EQ(code("10 lb to 12 lb"), "amount_range");
  EXPECT_EQ(code("3 furlongs"), "unknown_unit");
  EXPECT_EQ(code("2 bu pears"), "unknown_unit");
  EXPECT_EQ(code("2 lb 20 oz"), "unknown_unit");
  EXPECT_EQ(code("2 c"), "ambiguous_unit");
  EXPECT_EQ(code("5 gallon buckets"), "ambiguous_unit");
  EXPECT_EQ(code("6 1/2-pint jars"), "ambiguous_unit");
  EXPECT_EQ(code("50,000 lb"), "absurd_amount");
  EXPECT_EQ(code("1,200 bushels"), "absurd_amount");
  EXPECT_EQ(code("900 °F"), "absurd_amount");
  EXPECT_EQ(code("29,000 ft"), "absurd_amount");
  EXPECT_EQ(code("2 " + std::string(10'000, 'x')), "too_long");
  std::string degrees = "38 ";
  for (int i = 0; i < 60; ++i) degrees += "°";
  EXPECT_EQ(code(degrees), "unknown_unit");
  EXPECT_EQ(code("-2,000 ft"), "absurd_amount");
}

TEST(Amounts, ARefusalSaysWhatToDoInstead) {
  for (const char* text : {"", "2,5 kg", "10-12 lb", "3 busels", "2 c", "50,000 lb", "-3 lb"}) {
    const auto amount = parse_amount(text);
    ASSERT_FALSE(amount.has_value()) << text;
    EXPECT_FALSE(amount.error().instead.empty()) << text;
    EXPECT_TRUE(amount.error().message.ends_with('.')) << amount.error().message;
  }
  EXPECT_EQ(parse_amount("3 busels").error().instead.front(), "Did you mean 'bushels'?");
  EXPECT_EQ(parse_amount("10-12 lb").error().instead.front(), "Write one amount, such as about 11.");
}

TEST(AmountsOfAKnownKind, TakeTheHouseholdsUnitForABareNumber) {
  const auto value = [](std::string_view text, AmountKind kind, Units units) {
    return parse_amount_as(text, kind, units).value().value;
  };
  EXPECT_NEAR(value("10", AmountKind::mass, Units::us), 4.5359237, 1e-9);
  EXPECT_NEAR(value("10", AmountKind::mass, Units::metric), 10, 1e-9);
  EXPECT_NEAR(value("100", AmountKind::temperature, Units::us), 310.927778, 1e-6);
  EXPECT_NEAR(value("38", AmountKind::temperature, Units::metric), 311.15, 1e-9);
  EXPECT_NEAR(value("38c", AmountKind::temperature, Units::us), 311.15, 1e-9);
  EXPECT_NEAR(value("100°", AmountKind::temperature, Units::us), 310.927778, 1e-6);
  EXPECT_NEAR(value("2 c", AmountKind::volume, Units::us), us_cups(2).si(), 1e-12);
  EXPECT_NEAR(value("2900", AmountKind::altitude, Units::us), 883.92, 1e-9);
  EXPECT_NEAR(value("20", AmountKind::duration, Units::us), 1200, 1e-9);
  EXPECT_NEAR(value("20 m", AmountKind::duration, Units::us), 1200, 1e-9);
  EXPECT_NEAR(value("5", AmountKind::count, Units::us), 5, 1e-9);
}

TEST(AmountsOfAKnownKind, RefuseAnotherKind) {
  const auto height = parse_amount_as("38 C", AmountKind::altitude, Units::us);
  ASSERT_FALSE(height.has_value());
  EXPECT_EQ(height.error().code, "wrong_kind");
  EXPECT_EQ(height.error().message, "'38 C' is a temperature; an altitude is wanted here.");
}

TEST(Containers, HaveAVolumeOnlyWhereTheirSizeIsFixed) {
  EXPECT_TRUE(container_volume("bushel").has_value());
  EXPECT_DOUBLE_EQ(container_volume("half_bushel").value() / container_volume("peck").value(), 2);
  EXPECT_DOUBLE_EQ(container_volume("bushel").value() / container_volume("quart_basket").value(), 32);
  for (const char* key : {"basket", "box", "crate", "lug", "flat", "jar", ""})
    EXPECT_FALSE(container_volume(key)) << key;
}

TEST(Containers, AreEachReadByTheirOwnName) {
  for (const auto& key : container_keys()) {
    if (key == "flat_12_pint") continue;
    std::string words = key;
    std::replace(words.begin(), words.end(), '_', ' ');
    EXPECT_EQ(read("1 " + words).container, key);
  }
}

}  // namespace
}  // namespace stillroom::measure
