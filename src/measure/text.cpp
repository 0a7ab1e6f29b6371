#include "measure/text.h"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <cstdint>

#include "measure/detail/units.h"

namespace stillroom::measure {

namespace {

double rounded_to(double value, double step) { return std::round(value / step) * step; }

/// Whole number with thousands commas.
std::string with_commas(std::int64_t n) {
  std::string digits = std::to_string(std::abs(n));
  for (std::size_t i = digits.size(); i > 3; i -= 3) digits.insert(i - 3, 1, ',');
  return (n < 0 ? "-" : "") + digits;
}

/// At most `places` decimals, closing zeros dropped, thousands commas.
std::string decimal(double value, int places) {
  const double scale = std::pow(10, places);
  const auto scaled = static_cast<std::int64_t>(std::llround(std::abs(value) * scale));
  const auto unit = static_cast<std::int64_t>(scale);
  std::string out = with_commas(scaled / unit);
  std::string tail = fmt::format("{:0{}}", scaled % unit, places);
  while (!tail.empty() && tail.back() == '0') tail.pop_back();
  if (places > 0 && !tail.empty()) out += "." + tail;
  return value < 0 && scaled != 0 ? "-" + out : out;
}

/// To the nearest quarter, as "2½"; "0" stays "0".
std::string quarters(double value) {
  constexpr std::array<std::string_view, 4> kParts = {"", "¼", "½", "¾"};
  const auto n = static_cast<std::int64_t>(std::llround(value * 4));
  const auto part = kParts[static_cast<std::size_t>(n % 4)];
  if (n / 4 == 0 && !part.empty()) return std::string(part);
  return with_commas(n / 4) + std::string(part);
}

std::string with_unit(std::string number, std::string_view unit) { return std::move(number) + " " + std::string(unit); }

std::string pounds_and_ounces(double all_ounces, int places) {
  const double scale = std::pow(10, places);
  const double ounces_rounded = std::round(all_ounces * scale) / scale;
  const auto whole_pounds = static_cast<std::int64_t>(std::floor(ounces_rounded / 16 + 1e-9));
  const double left = std::max(0.0, ounces_rounded - static_cast<double>(whole_pounds) * 16);
  const std::string oz = decimal(left, places);
  if (whole_pounds == 0) return with_unit(oz, "oz");
  std::string out = with_unit(with_commas(whole_pounds), "lb");
  return oz == "0" ? out : out + " " + with_unit(oz, "oz");
}

std::string say_us_mass(Mass m, Detail detail) {
  const double oz = in_ounces(m);
  const double lb = in_pounds(m);
  if (detail == Detail::exact) return pounds_and_ounces(oz, 1);
  if (oz < 0.875 && oz > 0) return with_unit(decimal(oz, oz < 0.1 ? 2 : 1), "oz");
  if (oz < 7.875) return with_unit(quarters(oz), "oz");
  if (lb < 9.97) return pounds_and_ounces(oz, 0);
  return with_unit(with_commas(std::llround(lb < 999.5 ? lb : rounded_to(lb, 10))), "lb");
}

std::string say_metric_mass(Mass m, Detail detail) {
  const double g = in_grams(m);
  const double kg = in_kilograms(m);
  if (detail == Detail::exact) return g < 999.5 ? with_unit(decimal(g, 0), "g") : with_unit(decimal(kg, 3), "kg");
  if (g < 9.95) return with_unit(decimal(g, 1), "g");
  if (g < 99.5) return with_unit(decimal(g, 0), "g");
  if (g < 995) return with_unit(decimal(rounded_to(g, 10), 0), "g");
  if (kg < 9.95) return with_unit(decimal(kg, 1), "kg");
  return with_unit(with_commas(std::llround(kg < 999.5 ? kg : rounded_to(kg, 10))), "kg");
}

std::string cups_word(double cups) { return std::llround(cups * 4) > 4 ? "cups" : "cup"; }

std::string say_us_volume(Volume v, Detail detail) {
  const double cups = in_us_cups(v);
  if (detail == Detail::exact) {
    if (cups < 0.245) return with_unit(decimal(cups * 48, 2), "tsp");
    if (cups < 3.995) return with_unit(decimal(cups, 2), std::llround(cups * 100) > 100 ? "cups" : "cup");
    return cups < 15.995 ? with_unit(decimal(cups / 4, 2), "qt") : with_unit(decimal(cups / 16, 2), "gal");
  }
  if (cups * 48 < 2.875) return with_unit(quarters(cups * 48), "tsp");
  if (cups < 0.47) return with_unit(quarters(cups * 16), "tbsp");
  if (cups < 3.875) return with_unit(quarters(cups), cups_word(cups));
  if (cups < 15.5) return with_unit(quarters(cups / 4), "qt");
  if (cups < 158) return with_unit(quarters(cups / 16), "gal");
  return with_unit(with_commas(std::llround(cups / 16)), "gal");
}

std::string say_metric_volume(Volume v, Detail detail) {
  const double l = in_litres(v);
  if (detail == Detail::exact) {
    return l < 0.9995 ? with_unit(decimal(l * 1000, 0), "ml") : with_unit(decimal(l, 3), "L");
  }
  if (l < 0.00995) return with_unit(decimal(l * 1000, 1), "ml");
  if (l < 0.0995) return with_unit(decimal(l * 1000, 0), "ml");
  if (l < 0.995) return with_unit(decimal(rounded_to(l * 1000, 10), 0), "ml");
  return l < 9.95 ? with_unit(decimal(l, 1), "L") : with_unit(with_commas(std::llround(l)), "L");
}

/// "2 days", "1 day"; empty for none.
std::string count_of(std::int64_t n, std::string_view noun) {
  return fmt::format("{} {}", with_commas(n), n == 1 ? std::string(noun) : plural(noun));
}

std::string exact_duration(Duration d) {
  auto left = static_cast<std::int64_t>(std::llround(d.si()));
  std::string out;
  const auto part = [&](std::int64_t size, auto words) {
    const std::int64_t n = left / size;
    left %= size;
    if (n > 0) out += (out.empty() ? "" : " ") + words(n);
  };
  part(86400, [](std::int64_t n) { return count_of(n, "day"); });
  part(3600, [](std::int64_t n) { return fmt::format("{} h", n); });
  part(60, [](std::int64_t n) { return fmt::format("{} min", n); });
  part(1, [](std::int64_t n) { return fmt::format("{} s", n); });
  return out.empty() ? "0 min" : out;
}

std::string hours_and_minutes(std::int64_t whole_minutes) {
  const auto h = whole_minutes / 60;
  const auto min = whole_minutes % 60;
  if (h == 0) return fmt::format("{} min", min);
  return min == 0 ? fmt::format("{} h", h) : fmt::format("{} h {} min", h, min);
}

/// Whole number of `size` seconds, with "about" when something was rounded away.
std::string about_whole(double seconds, double size, std::string_view noun) {
  const double n = std::round(seconds / size);
  const bool about = std::abs(seconds - n * size) > 0.5;
  const std::string words = noun == "h" ? fmt::format("{} h", n) : count_of(static_cast<std::int64_t>(n), noun);
  return about ? "about " + words : words;
}

/// "five_gallon_bucket" as people write it: "five-gallon bucket".
std::string words_of_key(std::string_view key) {
  if (key == "flat_12_pint") return "twelve-pint flat";
  std::string out(key);
  for (const std::string_view size : {"half_", "two_", "four_", "five_", "twelve_"}) {
    if (key.starts_with(size)) out[size.size() - 1] = '-';
  }
  for (char& c : out) {
    if (c == '_') c = ' ';
  }
  return out;
}

bool vowel_first(std::string_view word) {
  return !word.empty() && std::string_view("aeiou").find(word[0]) != std::string_view::npos;
}

}  // namespace

std::string say(Mass m, Units units, Detail detail) {
  return units == Units::us ? say_us_mass(m, detail) : say_metric_mass(m, detail);
}

std::string say(Volume v, Units units, Detail detail) {
  return units == Units::us ? say_us_volume(v, detail) : say_metric_volume(v, detail);
}

std::string say(Temperature t, Units units, Detail detail) {
  const int places = detail == Detail::exact ? 1 : 0;
  return units == Units::us ? with_unit(decimal(t.in_fahrenheit(), places), "°F")
                            : with_unit(decimal(t.in_celsius(), places), "°C");
}

std::string say(Altitude a, Units units, Detail detail) {
  const int places = detail == Detail::exact ? 1 : 0;
  return units == Units::us ? with_unit(decimal(a.in_feet(), places), "ft")
                            : with_unit(decimal(a.in_metres(), places), "m");
}

std::string say(Duration d, Detail detail) {
  const double s = d.si();
  if (detail == Detail::exact) return exact_duration(d);
  if (s < 59.5 && std::llround(s) > 0) return fmt::format("{} s", std::llround(s));
  if (std::llround(s / 60) < 600) return hours_and_minutes(std::llround(s / 60));
  if (in_hours(d) < 36) return about_whole(s, 3600, "h");
  if (in_days(d) < 14) return about_whole(s, 86400, "day");
  if (in_days(d) < 60) return about_whole(s, 7 * 86400, "week");
  if (in_days(d) < 700) return about_whole(s, detail::kSecondsPerYear / 12, "month");
  return about_whole(s, detail::kSecondsPerYear, "year");
}

std::string say_minutes(Duration d) {
  return with_unit(with_commas(static_cast<std::int64_t>(std::ceil(in_minutes(d) - 1e-6))), "min");
}

std::string say(const Amount& a, Units units, Detail detail) {
  const auto words = [&]() -> std::string {
    switch (a.kind) {
      case AmountKind::mass:
        return say(a.mass(), units, detail);
      case AmountKind::volume:
        return say(a.volume(), units, detail);
      case AmountKind::temperature:
        return say(a.temperature(), units, detail);
      case AmountKind::altitude:
        return say(a.altitude(), units, detail);
      case AmountKind::duration:
        return say(a.duration(), detail);
      case AmountKind::container:
      case AmountKind::count:
        return a.container.empty() ? say_number(a.value) : say_count(a.value, a.container);
    }
    return {};
  }();
  return a.about && !words.starts_with("about ") ? "about " + words : words;
}

std::string say_number(double n) {
  const double of_quarters = n * 4;
  if (n >= 0 && std::abs(of_quarters - std::round(of_quarters)) < 1e-6) return quarters(n);
  return decimal(n, 2);
}

std::string say_count(double n, std::string_view noun) {
  const std::string one = words_of_key(noun);
  if (std::abs(n - 0.5) < 1e-9) return fmt::format("half {} {}", vowel_first(one) ? "an" : "a", one);
  return say_number(n) + " " + (n > 0 && n <= 1 ? one : plural(one));
}

std::string say_money(double dollars, Detail detail) {
  const auto cents = static_cast<std::int64_t>(std::llround(std::abs(dollars) * 100));
  const std::string sign = dollars < 0 && cents > 0 ? "-" : "";
  if (detail == Detail::rounded && cents >= 10'000) return sign + "$" + with_commas((cents + 50) / 100);
  return fmt::format("{}${}.{:02}", sign, with_commas(cents / 100), cents % 100);
}

std::string lowered(std::string_view text) {
  std::string out(text);
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

}  // namespace stillroom::measure
