#include <fmt/format.h>

#include <cmath>

#include "almanac/detail/about_parts.h"

namespace stillroom::almanac {

namespace {

std::string about_number(double v) {
  if (std::abs(v) >= 10 || v == std::floor(v)) return fmt::format("{:.0f}", v);
  return fmt::format("{:.2g}", v);
}

double about_fahrenheit(double c) { return std::round(c * 1.8 + 32); }

}  // namespace

std::string said(Span s) {
  const auto low = about_number(s.low);
  const auto high = about_number(s.high);
  return low == high ? low : fmt::format("{} to {}", low, high);
}

std::string said_temperature(Span celsius) {
  return fmt::format("{} °F ({} °C)", said({about_fahrenheit(celsius.low), about_fahrenheit(celsius.high)}),
                     said(celsius));
}

std::string said_days(Span days) {
  if (days.high < 1.01 && days.low < 1) return fmt::format("{} hours", said({days.low * 24, days.high * 24}));
  if (days.low >= 60)
    return fmt::format("{} months", said({std::round(days.low / 30.4), std::round(days.high / 30.4)}));
  return fmt::format("{} {}", said(days), days.high == 1 ? "day" : "days");
}

}  // namespace stillroom::almanac
