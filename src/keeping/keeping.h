#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "almanac/almanac.h"
#include "measure/quantity.h"
#include "measure/time.h"

/// Ripeness and soundness of produce through time and temperature, and the hard clocks of hazardous food.
/// Model and sources: docs/science/keeping.md.
namespace stillroom::keeping {

/// One stretch of a lot's life at one place.
struct Stay {
  measure::Instant from;      ///< until the next stay's `from`
  measure::Temperature temp;  ///< mean over the stay
  double humidity_pct = 70;
};

/// How one crop (or variety) keeps. Built from the almanac's published lives; immutable.
/// soundness S(a) = exp(-(a/eta)^beta) with a the age in life units: da = dt / life(T); eta is set so that S(1) = 0.9.
struct KeepingModel {
  std::string crop, variety;
  double life_days_best_low = 0,
         life_days_best_high = 0;  ///< published life at its best temperature: time to nine tenths sound
  double best_temp_c = 0;
  double beta = 2;  ///< shape of the tail
  std::vector<std::pair<double, double>>
      relative_rate;                       ///< (deg C, rate relative to best temperature), piecewise log-linear
  std::optional<double> chilling_below_c;  ///< colder than this, loss speeds up instead of slowing
  double ripening_days_at_20c[5] = {0, 0, 0, 0,
                                    0};  ///< dwell in each Condition at 20 degC; 0 = does not ripen off the plant
  bool ethylene_producer = false;
  std::string ethylene_sensitivity;
  std::string source, checked;
};

/// What is believed of a lot now.
struct Belief {
  double ripeness = 1;               ///< 0..4 along Condition, continuous
  double age = 0;                    ///< life units used (likely)
  double age_low = 0, age_high = 0;  ///< 10 and 90 % band
  bool operator==(const Belief&) const = default;
};

struct DaysLeft {
  double low = 0, likely = 0, high = 0;
};  ///< days until the usable share falls to `floor`

[[nodiscard]] measure::Result<KeepingModel> model_for(const almanac::Almanac& almanac, std::string_view crop);
/// Belief at bring-in from the condition the person saw.
[[nodiscard]] Belief at_bring_in(const KeepingModel& m, almanac::Condition seen);
[[nodiscard]] Belief advance(const KeepingModel& m, Belief b, measure::Duration dt, measure::Temperature temp);
/// The person looked: condition seen moves ripeness, and age by Bayes with the stated spread.
[[nodiscard]] Belief observe(const KeepingModel& m, Belief b, almanac::Condition seen);
/// Usable share 0..1 at age a (likely when `a` = b.age).
[[nodiscard]] double usable_share(const KeepingModel& m, double age);
/// Life units used per day at a temperature, chilling included.
[[nodiscard]] double ageing_per_day(const KeepingModel& m, measure::Temperature temp);
[[nodiscard]] double ripening_per_day(const KeepingModel& m, double ripeness, measure::Temperature temp);
[[nodiscard]] almanac::Condition condition_of(const Belief& b);
[[nodiscard]] DaysLeft days_left(const KeepingModel& m, const Belief& b, measure::Temperature temp, double floor = 0.5);

/// Hard clock for animal, cooked, thawed and opened food. Nothing a person sees or sets lengthens it.
struct HazardClock {
  std::string key;  ///< "raw_poultry", "cooked_food", "thawed_raw", "opened_jar", "cut_produce", ...
  std::string name;
  double room_hours = 2;   ///< total time allowed above 4.4 degC (40 degF)
  double fridge_days = 0;  ///< at or below 4.4 degC
  std::string source, checked;
};
[[nodiscard]] const std::vector<HazardClock>& hazard_clocks();
[[nodiscard]] const HazardClock* hazard_clock(std::string_view key);
/// Moment by which the food must be cooked, frozen or eaten given its stays (sum of fractions used; frozen stays use
/// none).
[[nodiscard]] measure::Instant hazard_deadline(const HazardClock& clock, const std::vector<Stay>& stays,
                                               measure::Instant now);

}  // namespace stillroom::keeping
