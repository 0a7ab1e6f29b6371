#pragma once

#include <optional>
#include <string>
#include <vector>

#include "measure/result.h"

namespace stillroom::almanac {

/// How surely a row was read. `recalled` rows are kept but never offered.
enum class RowStatus { verified2, verified, recalled };

/// One published heat process for one food, form, jar, canner and altitude band: data/canning/*.csv, one row each.
/// Times in minutes, pressures in psi gauge, headspace in inches, altitudes in feet, as printed.
struct ProcessRow {
  std::string id;  ///< process id of the table, e.g. "pears_hot"; unique together with method, jar and band
  std::string food, form, style_of_pack;  ///< style: "hot" or "raw"
  std::string acid_class;                 ///< "acid", "acidified", "low_acid"
  std::string method;                     ///< "boiling_water", "dial_gauge", "weighted_gauge"
  std::string jar;                        ///< "half_pint", "pint", "quart", "half_gallon"
  double altitude_over_ft = 0;            ///< exclusive, except 0 which includes sea level
  std::optional<double> altitude_to_ft;   ///< inclusive; blank = no upper bound
  double time_min = 0;
  std::optional<double> pressure_psi;
  double headspace_in = 0;
  std::string added_acid;
  std::vector<std::string>
      covers;  ///< crop keys this row speaks for; a variety is covered by its parent unless excluded
  std::vector<std::string> excludes;  ///< crop keys it does not speak for (elderberry, white-flesh peach, ...)
  std::vector<std::string>
      requirements;  ///< "sterilised_jars", "venting_10_min", "acid_in_every_jar", "steam_canner_not_over_45_min"...
  std::string notes;
  std::string source, source_place, edition_read;
  RowStatus status = RowStatus::recalled;
};

/// One row of the deny list: food or practice no home process exists for. Beats every ProcessRow.
struct DenyRow {
  std::string what, why, instead, source;
  std::vector<std::string> crops;  ///< crop keys; empty = any crop
  std::vector<std::string>
      words;  ///< words of the form or practice that trigger it ("mashed", "puree", "butter"); empty = every form
};

struct ProcessTable {
  std::vector<ProcessRow> rows;
  std::vector<DenyRow> deny;
};

/// Loads and validates data/canning: types, ranges, bands without gaps, time (and pressure) not falling with altitude,
/// every crop key known. The first fault refuses with code "bad_table" naming file, row and column.
[[nodiscard]] measure::Result<ProcessTable> load_process_table(const class Crops& crops);

}  // namespace stillroom::almanac
