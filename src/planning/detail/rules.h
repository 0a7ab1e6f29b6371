#pragma once

#include <algorithm>
#include <cmath>

#include "scheduling/steps.h"

/// Constants and units of the planning model; what each means stands in docs/science/planning_model.md. All are design
/// choices, none is a published figure.
namespace stillroom::planning::detail {

using scheduling::Amount;
using scheduling::kNever;
using scheduling::Time;

inline constexpr Time kGrain = 5;  ///< minutes; everything placed starts and lasts in multiples of it
inline constexpr Time kDayMinutes = 1440;
inline constexpr Time kLongestPause = 960;   ///< all breaks inside one stage that may be put down
inline constexpr Time kNearTerm = 2880;      ///< from now: starts that are dear to change
inline constexpr Time kSameStart = 30;       ///< a start moved by no more is not moved
inline constexpr Time kSplitLeast = 30;      ///< shortest piece of other work that may be split
inline constexpr double kOneJobLeast = 15;   ///< working minutes up to which a stage does not count as a job of the day
inline constexpr int kPickLeastAge = 8;      ///< years
inline constexpr double kUsableFloor = 0.5;  ///< usable share below which a lot is past use
inline constexpr double kTrimmedFloor = 0.2;
inline constexpr double kLeastKg = 0.05;  ///< less of a lot is not worth a batch
inline constexpr double kFrozenBelowC = -5;
inline constexpr double kHoldColdestC = -2;    ///< colder places need a hold route, not just a move
inline constexpr double kHoldWarmthC = 20;     ///< where a lot without a place waits
inline constexpr double kLitresPerKg = 1.6;    ///< 1 / (0.6 kg/l heaped)
inline constexpr double kLaterShare = 0.9;     ///< worth of what is still sound against what is put by
inline constexpr double kLaterDays = 3.5;      ///< half of the week after the horizon
inline constexpr double kLongDayHours = 4;     ///< beyond this the hours grow dearer
inline constexpr double kLongDayScale = 8;     ///< hours; effort of the excess x is x * x / 8
inline constexpr double kUndoneDays = 3;       ///< days of lateness more for work that is not done at all
inline constexpr int kLeastHelpLaterAge = 14;  ///< whose hours count for the week after
inline constexpr int kMostParts = 8;           ///< lots in one batch
inline constexpr int kMostTeam = 6;            ///< people at one stage
inline constexpr int kMostStages = 18;         ///< of one route
inline constexpr int kMostSlots = kMostStages + kMostParts;

/// Amounts are kept in whole thousandths so that profiles stay exact.
inline constexpr Amount kWhole = 1000;
inline constexpr double kMostUnits = 1e9;
[[nodiscard]] inline Amount units_needed(double x) {
  return static_cast<Amount>(std::ceil(std::clamp(x * kWhole - 1e-6, 0.0, kMostUnits)));
}
[[nodiscard]] inline Amount units_there(double x) {
  return static_cast<Amount>(std::floor(std::clamp(x * kWhole + 1e-6, 0.0, kMostUnits)));
}

[[nodiscard]] inline constexpr Time grain_down(Time t) { return t - ((t % kGrain) + kGrain) % kGrain; }
[[nodiscard]] inline constexpr Time grain_up(Time t) { return grain_down(t + kGrain - 1); }
/// Length on the grain for a need in minutes; at least one grain.
[[nodiscard]] inline Time grain_length(double need) {
  return std::max(kGrain, kGrain * static_cast<Time>(std::ceil(std::min(need, 1e7) / kGrain - 1e-9)));
}
[[nodiscard]] inline constexpr int day_of(Time t) { return t / kDayMinutes; }

}  // namespace stillroom::planning::detail
