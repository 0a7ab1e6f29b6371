#include "planning/detail/windows.h"

#include <numbers>

#include "planning/detail/rules.h"

namespace stillroom::planning::detail {
namespace {

constexpr double kDryDayMm = 1;
constexpr Time kHalfHour = 30;

void add_joined(Windows& out, Time from, Time to) {
  if (from >= to) return;
  if (!out.empty() && from <= out.back().to) {
    out.back().to = std::max(out.back().to, to);
  } else {
    out.push_back({from, to});
  }
}

double temperature_at(const WeatherDay& w, Time minute) {
  const double phase = 2 * std::numbers::pi * (minute - 900) / kDayMinutes;
  return (w.low_c + w.high_c) / 2 + (w.high_c - w.low_c) / 2 * std::cos(phase);
}

bool temperature_allows(const almanac::WeatherWindow& asked, const WeatherDay& w, Time half_hour) {
  if (!asked.min_temp_c && !asked.max_temp_c) return true;
  const double temp = temperature_at(w, half_hour + kHalfHour / 2);
  return !(asked.min_temp_c && temp < *asked.min_temp_c) && !(asked.max_temp_c && temp > *asked.max_temp_c);
}

}  // namespace

Windows without(const Windows& windows, Time from, Time to) {
  Windows out;
  for (const auto& w : windows) {
    if (w.to <= from || w.from >= to) {
      out.push_back(w);
      continue;
    }
    if (w.from < from) out.push_back({w.from, from});
    if (w.to > to) out.push_back({to, w.to});
  }
  return out;
}

bool asks_nothing(const almanac::WeatherWindow& w) {
  return !w.daylight && !w.dry && !w.min_temp_c && !w.max_temp_c && !w.max_wind_kmh;
}

bool same_window(const almanac::WeatherWindow& a, const almanac::WeatherWindow& b) {
  return a.daylight == b.daylight && a.dry == b.dry && a.min_temp_c == b.min_temp_c && a.max_temp_c == b.max_temp_c &&
         a.max_wind_kmh == b.max_wind_kmh;
}

Windows clipped(const Household& h, const std::vector<Span>& spans) {
  Windows raw;  // joined before rounding, so that spans that only touch leave no gap
  for (const Span& s : spans) raw.push_back({s.from, s.to});
  std::sort(raw.begin(), raw.end(), [](const auto& a, const auto& b) { return a.from < b.from; });
  Windows joined, out;
  for (const auto& w : raw) add_joined(joined, w.from, w.to);
  const Time first = grain_up(h.now), last = h.days * kDayMinutes;
  for (const auto& w : joined) add_joined(out, std::max(first, grain_up(w.from)), std::min(last, grain_down(w.to)));
  return out;
}

Windows free_windows(const Household& h, const Hand& hand) {
  Windows out = clipped(h, hand.free);
  for (const Committed& c : h.committed) {
    if (std::find(c.hands.begin(), c.hands.end(), hand.key) == c.hands.end()) continue;
    out = without(out, grain_down(c.span.from), grain_up(c.span.to));
  }
  return out;
}

Windows weather_windows(const Household& h, const almanac::WeatherWindow& asked) {
  Windows out;
  const Time first = grain_up(h.now);
  for (int d = day_of(first); d < h.days; ++d) {
    const Time midnight = d * kDayMinutes;
    if (static_cast<std::size_t>(d) >= h.weather.size()) {
      add_joined(out, std::max(first, midnight), midnight + kDayMinutes);
      continue;
    }
    const WeatherDay& w = h.weather[static_cast<std::size_t>(d)];
    if (asked.dry && w.rain_mm >= kDryDayMm) continue;
    if (asked.max_wind_kmh && w.wind_kmh > *asked.max_wind_kmh) continue;
    const Time rise = asked.daylight ? grain_up(w.sunrise) : 0;
    const Time set = asked.daylight ? grain_down(w.sunset) : kDayMinutes;
    for (Time half = 0; half < kDayMinutes; half += kHalfHour) {
      if (!temperature_allows(asked, w, half)) continue;
      const Time from = std::max({first, midnight + half, midnight + rise});
      add_joined(out, from, midnight + std::min(half + kHalfHour, set));
    }
  }
  return out;
}

Windows intersection(const Windows& a, const Windows& b) {
  Windows out;
  for (std::size_t i = 0, j = 0; i < a.size() && j < b.size();) {
    add_joined(out, std::max(a[i].from, b[j].from), std::min(a[i].to, b[j].to));
    (a[i].to < b[j].to ? i : j) += 1;
  }
  return out;
}

scheduling::Calendar calendar_of(const Windows& windows, scheduling::Amount capacity) {
  auto calendar = scheduling::Calendar::from_windows(windows, capacity);
  return calendar ? *calendar : scheduling::Calendar::always(0);
}

}  // namespace stillroom::planning::detail
