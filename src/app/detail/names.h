#pragma once

#include <string>
#include <string_view>

#include "app/app.h"
#include "app/detail/settings.h"
#include "measure/text.h"

/// Names and short sentences for what the household has, in its own words and units.
namespace stillroom::app::detail {

[[nodiscard]] measure::Units units_of(const Settings& s);
/// The form a crop comes in by: "carcass" where the first of its routes, holds aside, takes carcasses; else "fresh".
[[nodiscard]] std::string usual_form(const almanac::Almanac& almanac, std::string_view crop);
/// Place as named by the household; the key with spaces when nobody named it.
[[nodiscard]] std::string place_name(const ledger::State& state, std::string_view key);
/// Key of the place meant by "in the pantry"; refuses "unknown_place" with near names.
[[nodiscard]] Result<std::string> place_key(const ledger::State& state, std::string_view typed);
/// "pears", "acorn squash", or the key when the almanac does not know it.
[[nodiscard]] std::string crop_plural(const almanac::Almanac& almanac, std::string_view key);
[[nodiscard]] bool is_animal(const almanac::Almanac& almanac, std::string_view crop);
/// What has not come in yet: "not picked yet", "still alive".
/// Whether it is killed whole and comes in as a carcass: birds and rabbits.
[[nodiscard]] bool is_butchered(const almanac::Almanac& almanac, std::string_view crop);
[[nodiscard]] std::string standing_words(const almanac::Almanac& almanac, std::string_view crop);
[[nodiscard]] std::string crop_name(const almanac::Almanac& almanac, std::string_view key);
/// A message of the book, which knows crops by their keys only ("green_bean"), with their names.
[[nodiscard]] std::string with_crop_names(const almanac::Almanac& almanac, std::string_view message);
/// "pears, firm" for a lot; "pears, canned halves" for a pack.
[[nodiscard]] std::string parcel_name(const almanac::Almanac& almanac, const ledger::Parcel& p);
/// "84 lb" of what is left of it, or "7 quart jars".
[[nodiscard]] std::string parcel_amount(const ledger::Parcel& p, measure::Units units);
/// "quart jars" for "jar_quart", "sugar (kg)" for "sugar_kg": a stock or equipment key in words.
[[nodiscard]] std::string item_words(std::string_view key);
/// "2026-09-14T08:05".
[[nodiscard]] std::string local_text(const Settings& s, Instant t);
[[nodiscard]] std::string local_text(measure::Date first_day, planning::Minute minute);
/// Both ends rounded to whole ones: "3 to 5 days", "1 day". `unit` in the singular.
[[nodiscard]] std::string span_words(double low, double high, std::string_view unit);
/// "2 to 4 days left", "about 1 day left", "at most 3 days left", "less than a day left", "4 to 6 months left".
[[nodiscard]] DaysLeftView days_words(double low, double likely, double high);
/// Mass as written ("2 lb", "half", "all", "3 jars" for packs) of what is there. Refuses "more_than_there".
struct Part {
  ledger::Mass mass;
  double packs = 0;
};
[[nodiscard]] Result<Part> part_of(const House& h, const ledger::Parcel& parcel, std::string_view amount);

}  // namespace stillroom::app::detail
