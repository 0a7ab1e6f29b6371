#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "almanac/almanac.h"
#include "measure/quantity.h"
#include "measure/time.h"

/// Ripeness and soundness of produce through time and temperature, and the hard clocks of hazardous food.
/// Model and sources: docs/science/soundness.md, ripeness.md, hazard_clocks.md.
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

  double life_counts_from = 0;  ///< ripeness at which the published life begins (2 for tomatoes: life of the ripe
                                ///< fruit); less ripe goods come in with an age below 0, and are wholly sound till 0
  double ripening_q10 = 2.5;    ///< ripening speeds up by this for each 10 degC
  std::optional<double> ripening_stops_below_c;
  std::optional<double> ripening_no_faster_above_c;
  std::string from;  ///< whose rows these are, in words: "for peach, borrowed for nectarine"

  /// Life at its best temperature, the middle of the published range (geometric mean), days.
  [[nodiscard]] double life_days_best() const;
  [[nodiscard]] bool ripens() const { return ripening_days_at_20c[0] > 0; }
};

/// What is believed of a lot now.
struct Belief {
  double ripeness = 1;               ///< 0..4 along Condition, continuous
  double age = 0;                    ///< life units used (likely); below 0 before the published life begins
  double age_low = 0, age_high = 0;  ///< 10 and 90 % band
  bool operator==(const Belief&) const = default;
};

struct DaysLeft {
  double low = 0, likely = 0, high = 0;
};  ///< days until the usable share falls to `floor`; at most kMostDays

inline constexpr double kMostDays = 3650;

/// Refuses (code "no_published_value") a crop without a published storage life, and animal food (code "hazard_clock"):
/// that has a clock, never a model.
[[nodiscard]] measure::Result<KeepingModel> model_for(const almanac::Almanac& almanac, std::string_view crop);
/// The same from crops and tables alone.
[[nodiscard]] measure::Result<KeepingModel> model_for(const almanac::Crops& crops, const almanac::Tables& tables,
                                                      std::string_view crop);
/// Belief at bring-in from the condition the person saw.
[[nodiscard]] Belief at_bring_in(const KeepingModel& m, almanac::Condition seen);
/// One stay of length `dt`. Age adds up the same in any order of stays, and so does ripeness until the goods have used
/// a quarter more than their life: then they are taken to be soft whatever their ripening says, and further on going
/// over.
[[nodiscard]] Belief advance(const KeepingModel& m, Belief b, measure::Duration dt, measure::Temperature temp);
/// A history of stays (sorted by `from`) from `begin` to `end`; the last stay runs on.
[[nodiscard]] Belief advance(const KeepingModel& m, Belief b, const std::vector<Stay>& stays, measure::Instant begin,
                             measure::Instant end);
/// The person looked: condition seen moves ripeness, and age by Bayes with the stated spread (kLookSpread).
[[nodiscard]] Belief observe(const KeepingModel& m, Belief b, almanac::Condition seen);
/// How far, in life units, what a person calls ripe or soft may lie from the model's: common practice.
inline constexpr double kLookSpread = 0.25;
/// Usable share 0..1 at age a (likely when `a` = b.age).
[[nodiscard]] double usable_share(const KeepingModel& m, double age);
/// Age at which the usable share is `share` (0 < share < 1): the inverse of usable_share.
[[nodiscard]] double age_of_share(const KeepingModel& m, double share);
/// Life units used per day at a temperature, chilling included.
[[nodiscard]] double ageing_per_day(const KeepingModel& m, measure::Temperature temp);
/// Steps of ripeness per day; 0 for a crop that does not ripen off the plant.
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
/// All of data/keeping/hazard_clocks.csv.
[[nodiscard]] const std::vector<HazardClock>& hazard_clocks();
[[nodiscard]] const HazardClock* hazard_clock(std::string_view key);
/// The clock on which raw food of this crop starts; nullptr for produce and for goods cured dry.
[[nodiscard]] const HazardClock* hazard_clock_for_crop(const almanac::Crops& crops, std::string_view crop);

/// 40 degF: at or below counts by `fridge_days`, above by `room_hours`.
inline constexpr measure::Temperature kFridgeHighest = measure::Temperature::fahrenheit(40);
/// Above 90 degF the room hours are halved.
inline constexpr measure::Temperature kHotDay = measure::Temperature::fahrenheit(90);
/// At or below this the clock stands still (from memory: nothing grows below -10 degC).
inline constexpr measure::Temperature kFrozen = measure::Temperature::celsius(-10);
/// What hazard_deadline gives for food that lies frozen: 9999-12-31.
[[nodiscard]] measure::Instant no_deadline();

/// Moment by which the food must be cooked, frozen or eaten given its stays (sum of fractions used; frozen stays use
/// none). Stays are sorted by `from`; the last runs on. In the past when the clock has run out. Without any stay
/// nothing is known of the food and the answer is `now`. `used` is what was gone of the clock before the first stay, 0
/// or more: what was cut from a carcass goes on where the carcass stood.
[[nodiscard]] measure::Instant hazard_deadline(const HazardClock& clock, const std::vector<Stay>& stays,
                                               measure::Instant now, double used = 0);
/// Share of the clock used up to `now`: 0 fresh, 1 run out.
[[nodiscard]] double hazard_used(const HazardClock& clock, const std::vector<Stay>& stays, measure::Instant now);

}  // namespace stillroom::keeping
