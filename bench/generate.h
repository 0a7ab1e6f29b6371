#pragma once

#include <cstdint>

#include "almanac/almanac.h"
#include "planning/household.h"

/// Invented households for benchmarks and fuzz tests: one kitchen, a family of up to five, a late-summer harvest with
/// the published routes and lives. No data of a real household.
namespace stillroom::bench {

struct Season {
  int lots = 40;
  int days = 21;
  std::uint64_t seed = 1;
  double glut = 0.3;          ///< share of the lots that come in within the same three days
  bool frost = true;          ///< a killing frost ends the standing crops in the second half
  bool missing_jars = false;  ///< a third of the jars, more arriving on day 6
  bool sick_days = false;     ///< the cook is away for three days of the first week
  bool shopping = false;      ///< jars and lids may be bought
  bool animals = true;        ///< poultry on a hard clock among the lots
  int family = 5;             ///< hands, 1 to 5
  int start_hour = 7;         ///< of day 0
  bool own_kitchen = false;   ///< equipment, freezer, cellar, fridge and jars drawn too; else one fixed kitchen
  int one_job_day = -1;       ///< a day on which one job only is wanted; -1 = none
};

/// The household number `number` of a set: 10 to 200 lots (log-uniform) over 14 to 60 days (longer for more), hands,
/// kitchen and all the troubles above drawn (docs/science/generated_seasons.md). Same seed and number, same season.
[[nodiscard]] Season drawn_season(std::uint64_t seed, int number);

/// Same season, same household.
[[nodiscard]] planning::Household generate(const almanac::Almanac& almanac, const Season& season);

}  // namespace stillroom::bench
