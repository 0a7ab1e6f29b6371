#pragma once

#include <optional>
#include <string>
#include <vector>

#include "almanac/almanac.h"
#include "measure/quantity.h"
#include "measure/result.h"

/// Chooses published heat processes, or refuses. Nothing here computes a time or a pressure.
namespace stillroom::process {

struct Question {
  std::string food;           ///< as typed, or a crop key
  std::string form;           ///< as typed: "halves", "juice"; empty = every form but those that must be named:
                              ///< pickles, relishes, salsas and mixtures, whose times are wrong for the plain food
  std::string style_of_pack;  ///< "hot", "raw" or empty
  std::string jar;            ///< "half_pint", "pint", "quart", "half_gallon" or empty
  std::string canner;         ///< "boiling_water", "steam", "dial", "weighted", "pressure" (either gauge),
                       ///< "low_temperature" (pasteurising below the boil, only where a recipe names it) or empty
  std::optional<measure::Altitude> altitude;
  std::vector<std::string>
      conditions;  ///< facts that may bar it: "frozen_raw", "frost_killed_vine", "mould", "own_recipe"
  std::string id =
      {};  ///< process id of the table, when the recipe is already chosen; its "_opt_..." rows belong to it
};

/// One published row that fits, as frozen into a batch.
struct Choice {
  std::string id, food, form, style_of_pack, jar, method;
  double time_min = 0;
  std::optional<double> pressure_psi;
  double headspace_in = 0;
  std::string added_acid;
  /// The row's own words, and what this question adds to them: a steam canner ("manufacturer_approved_steam_canner",
  /// "steam_canner_not_over_45_min"), a half-pint filled by the pint row ("half_pint_takes_pint_time").
  std::vector<std::string> requirements;
  double altitude_over_ft = 0;
  std::optional<double> altitude_to_ft;
  std::string notes, source, source_place, edition_read;
  bool operator==(const Choice&) const = default;
};

/// "boiling_water", "steam", "dial", "weighted" or "low_temperature": by the row's method and what the question added.
[[nodiscard]] std::string canner_key(const Choice& c);
/// "steam canner", "dial-gauge pressure canner".
[[nodiscard]] std::string canner_words(const Choice& c);
/// "0 to 1,000 ft", "1,001 to 3,000 ft", "above 6,000 ft".
[[nodiscard]] std::string altitude_band(const Choice& c);

/// All rows that fit, or a refusal: "altitude_missing", "unknown_food", "not_safe_to_can", "not_covered",
/// "recalled_only", "no_row", "condition_bars", "altitude_outside", "makers_leaflet" (low-methoxyl and no-sugar
/// pectin); `instead` always offers a safe way on. A misspelt name or practice of the deny list is refused with its own
/// row. Altitude 0 ft and up; below the sea there is no table. Every field of a Choice is the row's own, never
/// adjusted. Order: as the tables list the foods; hot before raw; boiling water, dial, weighted; small jars first.
/// Source: data/canning; docs/science/heat_process.md. Held by tests/reference/process_values.csv and
/// process_refusals.csv.
[[nodiscard]] measure::Result<std::vector<Choice>> choose(const almanac::Almanac& almanac, const Question& q);

}  // namespace stillroom::process
