#pragma once

#include <string>

#include "app/app.h"

/// Where the household's file is, and what time it is: the two things the command line takes from outside.
namespace stillroom::cli {

/// --household, else STILLROOM_HOUSEHOLD, else household.stillroom in the user's data folder (XDG Base Directory
/// Specification: XDG_DATA_HOME, else ~/.local/share). The folder is made when it is missing.
[[nodiscard]] std::string household_path(const std::string& given);

/// The machine's clock, or `given` (UTC, "2026-09-14T10:00:00Z") when it is not empty.
[[nodiscard]] measure::Result<measure::Instant> clock_or(const std::string& given);

/// Name of the machine's time zone ("Europe/Oslo"), "UTC" when it cannot be told.
[[nodiscard]] std::string machine_zone();

/// Opens the file as it is (":memory:" for one that is not kept).
[[nodiscard]] measure::Result<app::House> open_file(const almanac::Almanac& almanac, const std::string& path);

/// Opens the household's file; a new one gets the machine's time zone as its first entry.
[[nodiscard]] measure::Result<app::House> open_house(const almanac::Almanac& almanac, const std::string& path,
                                                     measure::Instant now);

}  // namespace stillroom::cli
