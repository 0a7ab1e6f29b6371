#pragma once

#include <vector>

#include "planning/household.h"
#include "scheduling/calendar.h"

/// Calendars on the five-minute grain: whose time is free, when the weather allows a stage.
namespace stillroom::planning::detail {

using Windows = std::vector<scheduling::Calendar::Window>;  ///< sorted, disjoint, on the grain

/// Free time of a hand within [now, H), less the committed stages that name it.
[[nodiscard]] Windows free_windows(const Household& h, const Hand& hand);

/// Moments of [now, H) the weather allows.
[[nodiscard]] Windows weather_windows(const Household& h, const almanac::WeatherWindow& asked);
[[nodiscard]] bool asks_nothing(const almanac::WeatherWindow& w);
[[nodiscard]] bool same_window(const almanac::WeatherWindow& a, const almanac::WeatherWindow& b);

/// Spans as given, rounded inwards and clipped to [now, H); overlapping ones are joined.
[[nodiscard]] Windows clipped(const Household& h, const std::vector<Span>& spans);
[[nodiscard]] Windows intersection(const Windows& a, const Windows& b);
/// The windows with [from, to) taken out of every one.
[[nodiscard]] Windows without(const Windows& windows, scheduling::Time from, scheduling::Time to);
[[nodiscard]] scheduling::Calendar calendar_of(const Windows& windows, scheduling::Amount capacity);

}  // namespace stillroom::planning::detail
