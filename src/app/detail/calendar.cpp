#include "app/detail/calendar.h"

#include <algorithm>

namespace stillroom::app::detail {
namespace {

constexpr int kDayMinutes = 1440;
constexpr int kLeastHelperAge = 4;  // common practice: washing and sorting under an eye
constexpr double kShareOneChildTakes = 1.0 / 3.0;

/// 0 Monday .. 6 Sunday.
int weekday_of(measure::Date day) { return static_cast<int>(std::chrono::weekday{day}.iso_encoding()) - 1; }

std::vector<planning::Span> free_on(const ledger::Person& person, measure::Date day) {
  std::vector<planning::Span> once, weekly;
  bool replaced = false;
  for (const ledger::FreeTime& free : person.free) {
    if (free.date) {
      if (*free.date != day) continue;
      replaced = true;
      if (free.to_min > free.from_min) once.push_back({free.from_min, free.to_min});
    } else if (free.weekday == weekday_of(day) && free.to_min > free.from_min) {
      weekly.push_back({free.from_min, free.to_min});
    }
  }
  return replaced ? once : weekly;
}

void take_out(std::vector<planning::Span>& spans, int from, int to) {
  std::vector<planning::Span> left;
  for (const planning::Span& span : spans) {
    if (span.to <= from || span.from >= to) {
      left.push_back(span);
      continue;
    }
    if (span.from < from) left.push_back({span.from, from});
    if (span.to > to) left.push_back({to, span.to});
  }
  spans = std::move(left);
}

std::vector<planning::Span> tidy(std::vector<planning::Span> spans) {
  std::sort(spans.begin(), spans.end(), [](const auto& a, const auto& b) { return a.from < b.from; });
  std::vector<planning::Span> out;
  for (const planning::Span& span : spans) {
    if (!out.empty() && span.from <= out.back().to) {
      out.back().to = std::max(out.back().to, span.to);
    } else {
      out.push_back(span);
    }
  }
  return out;
}

bool has_skill(const ledger::Person& p, std::string_view skill) {
  return std::find(p.skills.begin(), p.skills.end(), skill) != p.skills.end();
}

/// The adult who minds the small children: whoever has the skill "minds", else the last adult that is not the cook.
std::string minder(const ledger::State& state) {
  std::string found;
  for (const auto& [key, person] : state.people) {
    if (has_skill(person, "minds")) return key;
    if (person.age >= 18 && (found.empty() || !has_skill(person, "cooks"))) found = key;
  }
  return found;
}

}  // namespace

std::vector<planning::Hand> hands_of(const ledger::State& state, const Settings& settings, measure::Date first_day,
                                     int days) {
  int minded = 0;
  for (const auto& [key, person] : state.people) minded += person.needs_minding ? 1 : 0;
  const std::string minder_key = minded > 0 ? minder(state) : "";
  std::vector<planning::Hand> hands;
  for (const auto& [key, person] : state.people) {
    if (person.needs_minding || person.age < kLeastHelperAge) continue;
    planning::Hand hand{.key = key, .name = person.name, .age = person.age, .skills = person.skills, .free = {}};
    hand.usable_share = std::clamp(person.usable_minutes_per_hour / 60.0, 0.1, 1.0);
    if (key == minder_key) hand.usable_share = std::max(0.2, hand.usable_share * (1.0 - kShareOneChildTakes * minded));
    hand.most_minutes_per_day = person.most_minutes_per_day;
    std::vector<planning::Span> all;
    for (int d = 0; d < days; ++d) {
      std::vector<planning::Span> spans = free_on(person, first_day + std::chrono::days(d));
      if (has_skill(person, "cooks")) {
        for (const MealTime& meal : settings.meals) take_out(spans, meal.from_min, meal.to_min);
      }
      for (const planning::Span& span : spans) all.push_back({span.from + d * kDayMinutes, span.to + d * kDayMinutes});
    }
    hand.free = tidy(std::move(all));
    hands.push_back(std::move(hand));
  }
  return hands;
}

std::vector<planning::WeatherDay> weather_of(const ledger::State& state, const Settings& settings,
                                             measure::Date first_day, int days) {
  std::vector<planning::WeatherDay> out;
  for (int d = 0; d < days; ++d) {
    const measure::Date day = first_day + std::chrono::days(d);
    const auto known =
        std::find_if(state.forecast.begin(), state.forecast.end(), [&](const auto& w) { return w.day == day; });
    if (known == state.forecast.end()) break;  // the forecast is one run of days; beyond it windows count as open
    const Daylight light = daylight_on(day, settings.latitude_deg);
    out.push_back({.low_c = known->low_c,
                   .high_c = known->high_c,
                   .rain_mm = known->rain_mm,
                   .wind_kmh = known->wind_kmh,
                   .sunrise = light.sunrise_min,
                   .sunset = light.sunset_min});
  }
  return out;
}

std::vector<planning::Span> windows_of(const ledger::OtherWorkSet& work, const Settings& settings,
                                       const std::vector<planning::WeatherDay>& weather, measure::Date first_day,
                                       int days) {
  constexpr double kDryDayMm = 1.0;  // below the usual 1 mm "wet day" threshold of climate records (from memory, WMO)
  std::vector<planning::Span> windows;
  for (int d = 0; d < days; ++d) {
    planning::Span span{d * kDayMinutes, (d + 1) * kDayMinutes};
    if (work.daylight) {
      const Daylight light = daylight_on(first_day + std::chrono::days(d), settings.latitude_deg);
      span = {d * kDayMinutes + light.sunrise_min, d * kDayMinutes + light.sunset_min};
    }
    if (d < static_cast<int>(weather.size())) {
      const planning::WeatherDay& w = weather[static_cast<std::size_t>(d)];
      if (work.dry && w.rain_mm >= kDryDayMm) continue;
      if (work.min_temp_c && w.high_c < *work.min_temp_c) continue;
      if (work.max_wind_kmh && w.wind_kmh > *work.max_wind_kmh) continue;
    }
    windows.push_back(span);
  }
  return tidy(std::move(windows));
}

}  // namespace stillroom::app::detail
