#include "planning/check/calendar.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace stillroom::planning::check {

Spans without(const Spans& spans, Minute from, Minute to) {
  Spans left;
  for (const Span& s : spans) {
    if (s.to <= from || s.from >= to) {
      left.push_back(s);
      continue;
    }
    if (s.from < from) left.push_back({s.from, from});
    if (s.to > to) left.push_back({to, s.to});
  }
  return left;
}

Spans both(const Spans& a, const Spans& b) {
  Spans out;
  for (const Span& x : a) {
    for (const Span& y : b) {
      const Span s{std::max(x.from, y.from), std::min(x.to, y.to)};
      if (s.from < s.to) out.push_back(s);
    }
  }
  return out;
}

Spans inward(const Spans& spans) {
  Spans out;
  for (const Span& s : spans) {
    const Minute from = (s.from + kPiece - 1) / kPiece * kPiece, to = s.to / kPiece * kPiece;
    if (from >= to) continue;
    if (!out.empty() && out.back().to >= from) {
      out.back().to = std::max(out.back().to, to);
    } else {
      out.push_back({from, to});
    }
  }
  return out;
}

Minute length(const Spans& spans) {
  Minute sum = 0;
  for (const Span& s : spans) sum += s.to - s.from;
  return sum;
}

bool whole_inside(const Spans& calendar, const Span& span) {
  return std::any_of(calendar.begin(), calendar.end(),
                     [&](const Span& s) { return s.from <= span.from && span.to <= s.to; });
}

Spans merged(Spans spans) {
  std::sort(spans.begin(), spans.end(), [](const Span& a, const Span& b) { return a.from < b.from; });
  Spans out;
  for (const Span& s : spans) {
    if (!out.empty() && s.from <= out.back().to) {
      out.back().to = std::max(out.back().to, s.to);
    } else {
      out.push_back(s);
    }
  }
  return out;
}

Spans calendar_of(const Facts& f, const Hand& hand) {
  Spans free = inward(merged(hand.free));
  for (const Committed& c : f.h.committed) {
    if (std::find(c.hands.begin(), c.hands.end(), hand.key) == c.hands.end()) continue;
    free = without(free, c.span.from / kPiece * kPiece, (c.span.to + kPiece - 1) / kPiece * kPiece);
  }
  return free;
}

namespace {

bool good_piece(const Facts& f, const almanac::WeatherWindow& w, Minute piece) {
  const int day = piece / kDay;
  if (day < 0 || day >= static_cast<int>(f.h.weather.size())) return true;
  const WeatherDay& known = f.h.weather[static_cast<std::size_t>(day)];
  const Minute of_day = piece - day * kDay;
  if (w.daylight && (of_day < known.sunrise || of_day + kPiece > known.sunset)) return false;
  if (w.dry && known.rain_mm >= 1) return false;
  if (w.max_wind_kmh && known.wind_kmh > *w.max_wind_kmh) return false;
  if (w.min_temp_c || w.max_temp_c) {
    const auto middle = static_cast<double>(of_day - of_day % 30 + 15);
    const double temp = (known.low_c + known.high_c) / 2 +
                        (known.high_c - known.low_c) / 2 * std::cos(2 * std::numbers::pi * (middle - 900) / 1440.0);
    if (w.min_temp_c && temp < *w.min_temp_c) return false;
    if (w.max_temp_c && temp > *w.max_temp_c) return false;
  }
  return true;
}

bool asks_weather(const almanac::WeatherWindow& w) {
  return w.daylight || w.dry || w.min_temp_c || w.max_temp_c || w.max_wind_kmh;
}

Spans weather_spans(const Facts& f, const almanac::WeatherWindow& w, Minute from, Minute to) {
  Spans out;
  for (Minute piece = from / kPiece * kPiece; piece < to; piece += kPiece) {
    if (!good_piece(f, w, piece)) continue;
    if (!out.empty() && out.back().to == piece) {
      out.back().to += kPiece;
    } else {
      out.push_back({piece, piece + kPiece});
    }
  }
  return out;
}

}  // namespace

std::optional<Spans> working_calendar(const Facts& f, const std::vector<std::string>& hands,
                                      const almanac::WeatherWindow& weather, const Span& around) {
  std::optional<Spans> calendar;
  const auto narrow = [&](const Spans& by) { calendar = calendar ? both(*calendar, by) : by; };
  for (const std::string& key : hands) {
    if (const Hand* hand = f.hand(key)) narrow(calendar_of(f, *hand));
  }
  if (asks_weather(weather)) narrow(weather_spans(f, weather, around.from, around.to));
  return calendar;
}

}  // namespace stillroom::planning::check
