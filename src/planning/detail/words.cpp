#include "planning/detail/words.h"

#include <fmt/format.h>

#include <cctype>
#include <cmath>

#include "measure/text.h"

namespace stillroom::planning::detail {
namespace {

constexpr Minute kDay = 1440;

Minute minute_of_day(Minute t) { return ((t % kDay) + kDay) % kDay; }
int day_index(Minute t) { return (t - minute_of_day(t)) / kDay; }

}  // namespace

std::string day_name(const Household& h, Minute t) {
  const int today = day_index(h.now), day = day_index(t);
  if (day == today) return "today";
  if (day == today + 1) return "tomorrow";
  const std::string_view name = measure::say_weekday(h.first_day + std::chrono::days(day));
  return day < today + 7 ? std::string(name) : fmt::format("{} in {} days", name, day - today);
}

std::string part_of_day(const Household& h, Minute t) {
  const Minute m = minute_of_day(t);
  const char* part = m < 12 * 60 ? "morning" : m < 17 * 60 ? "afternoon" : "evening";
  const int today = day_index(h.now), day = day_index(t);
  if (day == today) return fmt::format("this {}", part);
  if (day < today + 7) return fmt::format("{} {}", day_name(h, t), part);
  return day_name(h, t);
}

std::string clock_time(Minute t) { return fmt::format("{}:{:02}", minute_of_day(t) / 60, minute_of_day(t) % 60); }

std::string dollars(double usd) {
  if (usd < 0.995) return fmt::format("{:.0f} cents", std::max(0.0, usd) * 100);
  return usd < 9.995 ? fmt::format("${:.2f}", usd) : fmt::format("${:.0f}", usd);
}

std::string length_of(double minutes) {
  if (minutes < 91) return fmt::format("{:.0f} minutes", minutes);
  if (minutes < 2 * kDay) return fmt::format("{:.0f} hours", minutes / 60);
  return fmt::format("{:.0f} days", minutes / kDay);
}

std::string capital(std::string text) {
  if (!text.empty()) text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  return text;
}

std::string thing(const std::string& key) {
  if (key == "lid") return "lids";
  std::string text = key;
  if (text.starts_with("jar_")) text = text.substr(4) + " jars";
  for (const char* unit : {"_kg_per_day", "_l", "_kg", "_packet"})
    if (text.ends_with(unit)) text.erase(text.size() - std::string(unit).size());
  for (char& c : text)
    if (c == '_') c = ' ';
  return text;
}

}  // namespace stillroom::planning::detail
