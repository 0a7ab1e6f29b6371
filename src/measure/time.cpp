#include "measure/time.h"

#include <date/tz.h>
#include <fmt/format.h>

#include <optional>
#include <stdexcept>

namespace stillroom::measure {

namespace {

/// The decimal number in exactly these characters, or nothing.
std::optional<int> digits(std::string_view text) {
  int value = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return std::nullopt;
    value = value * 10 + (c - '0');
  }
  return value;
}

/// "YYYY-MM-DD" exactly; nothing for another shape or a day the calendar does not have.
std::optional<Date> day_from(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
  const auto y = digits(text.substr(0, 4));
  const auto m = digits(text.substr(5, 2));
  const auto d = digits(text.substr(8, 2));
  if (!y || !m || !d) return std::nullopt;
  const std::chrono::year_month_day ymd{std::chrono::year{*y}, std::chrono::month{static_cast<unsigned>(*m)},
                                        std::chrono::day{static_cast<unsigned>(*d)}};
  if (!ymd.ok()) return std::nullopt;
  return Date{ymd};
}

/// "hh:mm" or "hh:mm:ss"; a leap second is refused, since no clock of a household shows one.
std::optional<std::chrono::seconds> clock_from(std::string_view text) {
  if ((text.size() != 5 && text.size() != 8) || text[2] != ':') return std::nullopt;
  if (text.size() == 8 && text[5] != ':') return std::nullopt;
  const auto h = digits(text.substr(0, 2));
  const auto m = digits(text.substr(3, 2));
  const auto s = text.size() == 8 ? digits(text.substr(6, 2)) : 0;
  if (!h || !m || !s || *h > 23 || *m > 59 || *s > 59) return std::nullopt;
  return std::chrono::hours{*h} + std::chrono::minutes{*m} + std::chrono::seconds{*s};
}

}  // namespace

std::string to_iso(Date d) {
  const std::chrono::year_month_day ymd{d};
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(ymd.year()), static_cast<unsigned>(ymd.month()),
                     static_cast<unsigned>(ymd.day()));
}

std::string to_iso(Instant t) {
  const Date day = std::chrono::floor<std::chrono::days>(t);
  const auto of_day = (t - day).count();
  return fmt::format("{}T{:02}:{:02}:{:02}Z", to_iso(day), of_day / 3600, of_day / 60 % 60, of_day % 60);
}

Result<Instant> parse_instant(std::string_view text) {
  if (text.size() > 11 && text[10] == 'T' && text.back() == 'Z') {
    const auto day = day_from(text.substr(0, 10));
    const auto clock = clock_from(text.substr(11, text.size() - 12));
    if (day && clock) return *day + *clock;
  }
  return refuse("bad_time", fmt::format("'{}' is not a moment in UTC.", text.substr(0, 40)),
                {"Write it as 2026-09-14T06:30:00Z."});
}

Result<Date> parse_date(std::string_view text) {
  if (const auto day = day_from(text)) return *day;
  return refuse("bad_date", fmt::format("'{}' is not a day of the calendar.", text.substr(0, 40)),
                {"Write year, month and day as 2026-09-14."});
}

Result<Zone> Zone::named(std::string_view iana_name) {
  if (iana_name == "UTC") return utc();
  try {
    return Zone(std::string(iana_name), date::locate_zone(iana_name));
  } catch (const std::runtime_error&) {  // the library's way of saying "not found" or "no database"
    return refuse("unknown_zone", fmt::format("'{}' is not a time zone this computer knows.", iana_name.substr(0, 60)),
                  {"Use a region and city, such as America/Chicago.",
                   "If that is refused too, the system's time zone files (package tzdata) are missing."});
  }
}

Zone Zone::utc() { return Zone("UTC", nullptr); }

LocalTime Zone::to_local(Instant t) const {
  if (zone_ == nullptr) return LocalTime{t.time_since_epoch()};
  return LocalTime{zone_->to_local(t).time_since_epoch()};
}

Instant Zone::to_instant(LocalTime t) const {
  if (zone_ == nullptr) return Instant{t.time_since_epoch()};
  // `earliest` answers a local time inside the spring gap with the moment of the change itself.
  return zone_->to_sys(date::local_seconds{t.time_since_epoch()}, date::choose::earliest);
}

Date Zone::date_of(Instant t) const {
  return Date{std::chrono::floor<std::chrono::days>(to_local(t).time_since_epoch())};
}

}  // namespace stillroom::measure
