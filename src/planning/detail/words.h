#pragma once

#include <string>

#include "planning/household.h"

/// Moments, amounts and names as a person would say them.
namespace stillroom::planning::detail {

/// "Saturday morning", "today at noon" is never said: "this morning" for the first day after `now`, else the weekday.
[[nodiscard]] std::string part_of_day(const Household& h, Minute t);
/// "Saturday", or "today", "tomorrow".
[[nodiscard]] std::string day_name(const Household& h, Minute t);
/// "14:05".
[[nodiscard]] std::string clock_time(Minute t);
/// "$12", "$1.20" below ten, "40 cents" below one.
[[nodiscard]] std::string dollars(double usd);
/// "40 minutes", "2 hours", "3 days".
[[nodiscard]] std::string length_of(double minutes);
[[nodiscard]] std::string capital(std::string text);
/// "pressure canner" from "pressure_canner", "quart jars" from "jar_quart".
[[nodiscard]] std::string thing(const std::string& key);

}  // namespace stillroom::planning::detail
