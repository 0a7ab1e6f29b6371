#pragma once

#include <vector>

#include "app/detail/settings.h"
#include "ledger/state.h"
#include "planning/household.h"

/// People's weekly patterns and the weather, laid out on the planner's minutes.
namespace stillroom::app::detail {

/// Everyone who can work, with free time expanded over `days` from `first_day`; meals and minding taken out.
/// Children who need minding are not hands; each takes a third of one adult's free attention (common practice).
[[nodiscard]] std::vector<planning::Hand> hands_of(const ledger::State& state, const Settings& settings,
                                                   measure::Date first_day, int days);

/// One day of weather per planned day: the forecast where there is one; empty when nothing is known.
[[nodiscard]] std::vector<planning::WeatherDay> weather_of(const ledger::State& state, const Settings& settings,
                                                           measure::Date first_day, int days);

/// Minutes in which a job may run outdoors, from daylight and the forecast; the whole horizon when it asks for nothing.
[[nodiscard]] std::vector<planning::Span> windows_of(const ledger::OtherWorkSet& work, const Settings& settings,
                                                     const std::vector<planning::WeatherDay>& weather,
                                                     measure::Date first_day, int days);

}  // namespace stillroom::app::detail
