#include "app/detail/settings.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numbers>

namespace stillroom::app::detail {
namespace {

std::optional<std::string> setting(const ledger::State& state, const std::string& key) {
  const auto it = state.settings.find(key);
  if (it == state.settings.end() || it->second.empty()) return std::nullopt;
  return it->second;
}

std::optional<double> number_setting(const ledger::State& state, const std::string& key) {
  const auto text = setting(state, key);
  if (!text) return std::nullopt;
  double value = 0;
  const auto [end, error] = std::from_chars(text->data(), text->data() + text->size(), value);
  if (error != std::errc{} || end != text->data() + text->size()) return std::nullopt;
  return value;
}

std::optional<int> clock_minutes(std::string_view text) {
  if (text.size() != 5 || text[2] != ':') return std::nullopt;
  const auto digit = [&](std::size_t i) { return text[i] - '0'; };
  const int minutes = (digit(0) * 10 + digit(1)) * 60 + digit(3) * 10 + digit(4);
  if (minutes < 0 || minutes > 1440) return std::nullopt;
  return minutes;
}

std::vector<MealTime> meals_from(std::string_view text) {
  std::vector<MealTime> meals;
  while (!text.empty()) {
    const auto comma = text.find(',');
    const std::string_view one = text.substr(0, comma);
    text = comma == std::string_view::npos ? std::string_view{} : text.substr(comma + 1);
    if (one.size() != 11 || one[5] != '-') continue;
    const auto from = clock_minutes(one.substr(0, 5));
    const auto to = clock_minutes(one.substr(6, 5));
    if (from && to && *from < *to) meals.push_back({*from, *to});
  }
  return meals;
}

}  // namespace

Settings settings_of(const ledger::State& state) {
  Settings s;
  s.name = setting(state, "name").value_or("");
  s.place = setting(state, "place").value_or("");
  if (const auto zone = measure::Zone::named(setting(state, "zone").value_or("UTC"))) s.zone = *zone;
  s.metric = setting(state, "units").value_or("us") == "metric";
  if (const auto feet = number_setting(state, "altitude_ft")) s.altitude = measure::Altitude::feet(*feet);
  s.latitude_deg = number_setting(state, "latitude");
  s.horizon_days = std::clamp(static_cast<int>(number_setting(state, "horizon_days").value_or(21)), 1, 90);
  if (const auto day = setting(state, "one_job_day")) {
    if (const auto date = measure::parse_date(*day)) s.one_job_day = *date;
  }
  s.meals = meals_from(setting(state, "meals").value_or("12:00-12:45,17:30-18:30"));
  s.effort_per_hour = number_setting(state, "effort_per_hour").value_or(2);
  s.eaters = number_setting(state, "eaters").value_or(0);
  return s;
}

double eaters_of(const ledger::State& state, const Settings& settings) {
  if (settings.eaters > 0) return settings.eaters;
  double sum = 0;
  // Portions by age: Franz, Brigham Young University (data/household/need.csv).
  for (const auto& [key, person] : state.people) {
    sum += person.age <= 3 ? 0.5 : person.age <= 6 ? 0.7 : person.age <= 10 ? 0.9 : 1.0;
  }
  return std::max(sum, 1.0);
}

Daylight daylight_on(measure::Date day, std::optional<double> latitude_deg) {
  if (!latitude_deg) return {};
  const std::chrono::year_month_day ymd{day};
  const measure::Date new_year{std::chrono::sys_days{ymd.year() / std::chrono::January / 1}};
  const double n = static_cast<double>((day - new_year).count()) + 1.0;
  constexpr double kRadians = std::numbers::pi / 180.0;
  const double declination = 23.45 * kRadians * std::sin(360.0 / 365.0 * (284.0 + n) * kRadians);
  const double cosine = std::clamp(-std::tan(*latitude_deg * kRadians) * std::tan(declination), -1.0, 1.0);
  const double half_day_min = std::acos(cosine) / kRadians / 15.0 * 60.0;
  return {static_cast<int>(std::lround(720.0 - half_day_min)), static_cast<int>(std::lround(720.0 + half_day_min))};
}

}  // namespace stillroom::app::detail
