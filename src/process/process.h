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
  std::string form;           ///< as typed: "halves", "juice"; empty = every form
  std::string style_of_pack;  ///< "hot", "raw" or empty
  std::string jar;            ///< "half_pint", "pint", "quart", "half_gallon" or empty
  std::string canner;         ///< "boiling_water", "steam", "dial", "weighted" or empty
  std::optional<measure::Altitude> altitude;
  std::vector<std::string>
      conditions;  ///< facts that may bar it: "frozen_raw", "frost_killed_vine", "mould", "own_recipe"
};

/// One published row that fits, as frozen into a batch.
struct Choice {
  std::string id, food, form, style_of_pack, jar, method;
  double time_min = 0;
  std::optional<double> pressure_psi;
  double headspace_in = 0;
  std::string added_acid;
  std::vector<std::string> requirements;
  double altitude_over_ft = 0;
  std::optional<double> altitude_to_ft;
  std::string notes, source, source_place, edition_read;
  bool operator==(const Choice&) const = default;
};

/// All rows that fit, or a refusal: "altitude_missing", "unknown_food", "not_safe_to_can", "not_covered",
/// "recalled_only", "no_row", "condition_bars", "altitude_outside"; `instead` always offers a safe way on.
[[nodiscard]] measure::Result<std::vector<Choice>> choose(const almanac::Almanac& almanac, const Question& q);

}  // namespace stillroom::process
