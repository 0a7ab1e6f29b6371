#pragma once

#include <optional>
#include <string>
#include <vector>

#include "planning/check/facts.h"

/// Spans of minutes, people's calendars and weather, for the checker.
namespace stillroom::planning::check {

inline constexpr Minute kPiece = 5;  ///< the grain of a plan

/// Sorted, disjoint spans.
using Spans = std::vector<Span>;

[[nodiscard]] Spans without(const Spans& spans, Minute from, Minute to);
[[nodiscard]] Spans both(const Spans& a, const Spans& b);
[[nodiscard]] Spans merged(Spans spans);
[[nodiscard]] Spans inward(const Spans& spans);  ///< whole five-minute pieces only
[[nodiscard]] Minute length(const Spans& spans);
[[nodiscard]] bool whole_inside(const Spans& calendar, const Span& span);

/// Free time less committed stages.
[[nodiscard]] Spans calendar_of(const Facts& f, const Hand& hand);
/// What people and weather leave of the days `around` touches; nothing when there is neither (any time is good).
[[nodiscard]] std::optional<Spans> working_calendar(const Facts& f, const std::vector<std::string>& hands,
                                                    const almanac::WeatherWindow& weather, const Span& around);

}  // namespace stillroom::planning::check
