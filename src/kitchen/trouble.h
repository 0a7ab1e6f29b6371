#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kitchen/batch.h"

/// What to do when something goes wrong. Data: data/kitchen/trouble.csv, fault by acid class by time; a row is tested
/// to have a source. What no row covers is thrown out.
namespace stillroom::kitchen {

/// What stands between food and the spores that heat alone would have to kill. Low acid unless known to be acid.
enum class AcidClass { acid, low_acid };

/// One row: a fault, for one acid class or both, over a span of time.
struct Trouble {
  std::string fault;                  ///< "pressure_dropped"
  std::string what;                   ///< "Pressure fell below the setting"
  std::string asks;                   ///< "How many minutes ago did it happen?"; empty when the time does not matter
  std::string see;                    ///< what you see
  std::vector<std::string> when;      ///< kinds of batch: "boiling_water","pressure","canned","fermented", ...
  std::optional<AcidClass> acid;      ///< nothing = either
  double from_min = 0;                ///< minutes, including
  std::optional<double> to_min;       ///< minutes, excluding; nothing = without end
  std::string then;                   ///< what to do, the first thing first
  std::vector<std::string> outcomes;  ///< "process_again","chill","discard","keep_watch","go_on"; the first is meant
  std::string source, checked;
  bool by_default = false;  ///< no row covers this: discard
};

/// All of them, in the order of the table. Refuses (code "bad_table") a broken table: a cell missing, a span that
/// ends before it begins, words of one fault that differ. That the spans of a fault leave no gap is held by a test.
[[nodiscard]] measure::Result<std::vector<Trouble>> load_troubles();

/// The table, read once. Compiled in and held by a test: empty only when it is broken.
[[nodiscard]] const std::vector<Trouble>& troubles();

/// First row of each fault that can befall this batch, in the order of the table.
[[nodiscard]] std::vector<Trouble> troubles_for(const BatchCard& card);

/// Boiling-water processes are published for acid food only; ferments are acid by their own work. Everything else
/// counts as low acid.
[[nodiscard]] AcidClass acid_class_of(const BatchCard& card);

/// What to do now. A row for the class itself stands before one for either. No time where the fault's rows depend on
/// it, a negative one, or a fault that is not in the table: thrown out (by_default).
[[nodiscard]] Trouble what_now(const std::vector<Trouble>& table, std::string_view fault, AcidClass acid,
                               std::optional<double> elapsed_min);

}  // namespace stillroom::kitchen
