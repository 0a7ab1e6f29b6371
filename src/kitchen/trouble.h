#pragma once

#include <string>
#include <vector>

#include "kitchen/batch.h"

/// What to do when something goes wrong. Data: data/kitchen/trouble.csv; a row is tested to have a source.
namespace stillroom::kitchen {

struct Trouble {
  std::string key;       ///< "pressure_dropped"
  std::string what;      ///< "Pressure fell below the setting"
  std::string then;      ///< what to do, the first thing first
  std::string in_doubt;  ///< what in doubt comes to: "Throw it out." unless the row says why not
  std::vector<std::string>
      when;  ///< kinds of batch it can befall: "boiling_water","pressure","canned","fermented", ...
  std::string source, checked;
};

/// All of them, in the order of the table. Refuses (code "bad_table") a broken table.
[[nodiscard]] measure::Result<std::vector<Trouble>> load_troubles();

/// Those that can befall this batch, in the order of the table.
[[nodiscard]] std::vector<Trouble> troubles_for(const BatchCard& card);

}  // namespace stillroom::kitchen
