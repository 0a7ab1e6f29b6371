#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ledger/state.h"
#include "measure/quantity.h"
#include "measure/time.h"

/// Typed reading of the household's settings. Every default is stated here and nowhere else.
namespace stillroom::app::detail {

struct MealTime {
  int from_min = 0, to_min = 0;
};

struct Settings {
  std::string name, place;
  measure::Zone zone = measure::Zone::utc();
  bool metric = false;
  std::optional<measure::Altitude> altitude;
  std::optional<double> latitude_deg;
  int horizon_days = 21;
  std::optional<measure::Date> one_job_day;
  std::vector<MealTime> meals;  ///< "12:00-13:00,17:30-18:30": taken out of the day of whoever has the skill "cooks"
  double effort_per_hour = 2;   ///< USD
  double eaters = 0;            ///< adult equivalents; 0 = from the people
};

[[nodiscard]] Settings settings_of(const ledger::State& state);
/// Adult equivalents who eat from the larder: the setting, else the published portions by age.
[[nodiscard]] double eaters_of(const ledger::State& state, const Settings& settings);

/// Sunrise and sunset in minutes of the local solar day, from latitude and day of the year.
/// Model: declination by Cooper 1969 (23.45 deg * sin(360/365*(284+n))), sunset hour angle acos(-tan lat tan dec);
/// within about 15 minutes of the almanac away from the polar circles, which is all that outdoor daylight needs.
/// Without a latitude: 6:30, 18:30.
struct Daylight {
  int sunrise_min = 390, sunset_min = 1110;
};
[[nodiscard]] Daylight daylight_on(measure::Date day, std::optional<double> latitude_deg);

}  // namespace stillroom::app::detail
