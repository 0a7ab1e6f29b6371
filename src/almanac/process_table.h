#pragma once

#include <functional>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "almanac/process_words.h"
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
      requirements;  ///< words of data/canning/requirements.csv: "sterilised_jars", "venting_10_min", ...
  std::string notes;
  std::string source, source_place, edition_read;
  RowStatus status = RowStatus::recalled;
  bool operator==(const ProcessRow&) const = default;
};

/// One row of the deny list: food or practice no home process exists for. Beats every ProcessRow.
/// It speaks when one of its crops is named (or it has none), one of its words stands in what was typed (or it has
/// none), and none of the words in `unless` does (pickled cauliflower is not plain cauliflower).
struct DenyRow {
  std::string key;  ///< for the rows the program itself asks for ("larger_jar"); else empty
  std::string what, why, instead, source;
  std::vector<std::string> crops;   ///< crop keys; empty = any crop
  std::vector<std::string> words;   ///< words of the form or practice that trigger it ("mash", "puree"), as written
  std::vector<std::string> unless;  ///< words that lift it, as written; see WordPattern
  std::vector<WordPattern> triggers, lifts;  ///< `words` and `unless`, folded
};

/// The words by which the rows of one process id may be asked for: data/canning/forms.csv. Every word a person types
/// beyond the food must be known here, or the row is not offered.
struct FormWords {
  std::vector<WordList> words;  ///< folded, longest first
  std::vector<WordList> said;   ///< if not empty, one of these must be said ("plum" for grape-plum jelly)
  bool takes_frozen = false;    ///< a cooked form that what was frozen raw may go into (common practice)
};

/// A name a person may type: of a crop, or of a dish that stands for some process ids ("salsa", "sauerkraut").
struct NamePhrase {
  WordList words;
  std::string crop;              ///< crop key, or empty
  std::vector<std::string> ids;  ///< process ids, or empty
};

/// What a requirement word asks of the cook, in one sentence.
struct Requirement {
  std::string word, sentence, source;
};

/// Fresh weight that fills jars, in pounds, as printed; a blank cell is a figure that is not published.
struct FreshQuantity {
  std::string food, form;
  std::vector<std::string> crops;
  std::optional<double> lb_per_7qt, lb_per_9pt, lb_per_qt, bushel_or_crate_lb, yield_qt_per_bushel_low,
      yield_qt_per_bushel_high;
  std::string source;
};

/// Pasteurising in water below the boil, which some pickle recipes name beside their boiling-water time:
/// data/canning/low_temperature.csv. Temperatures of the water in degF, time in minutes, as printed.
struct LowTemperature {
  std::vector<std::string> ids;  ///< the process ids whose recipe allows it; no other may use it
  double start_low_f = 0, start_high_f = 0, hold_low_f = 0, hold_high_f = 0;
  double time_min = 0, water_over_lids_in = 0;
  std::string source, source_place, edition_read;
  RowStatus status = RowStatus::recalled;
};

struct ProcessTable {
  std::vector<ProcessRow> rows;
  std::vector<LowTemperature> low_temperature;
  std::vector<DenyRow> deny;
  Wording wording;
  std::map<std::string, FormWords, std::less<>> forms;  ///< by process id
  std::vector<NamePhrase> names;                        ///< longest first; dishes before crops
  std::map<std::string, std::vector<std::size_t>, std::less<>> names_by_first_word;  ///< indices into `names`
  std::map<std::string, Requirement, std::less<>> requirements;                      ///< by word
  std::vector<FreshQuantity> fresh_quantities;
  std::set<std::string, std::less<>> known_words;  ///< every folded word these tables understand

  /// The deny row with that key; nullptr when there is none.
  [[nodiscard]] const DenyRow* deny_by_key(std::string_view key) const;
  /// The sentence for a requirement of a row; the word in plain letters when it is not in the table.
  [[nodiscard]] std::string sentence_for(std::string_view requirement) const;
};

/// True for the rows of a process id: "tomato_juice_hot" has "tomato_juice_hot_opt_low" too, an equal pair of time and
/// pressure.
[[nodiscard]] bool is_of_process(std::string_view row_id, std::string_view id);

/// Loads and validates data/canning: types, ranges, bands without gaps, time (and pressure) not falling with altitude,
/// every crop key known. The first fault refuses with code "bad_table" naming file, row and column.
[[nodiscard]] measure::Result<ProcessTable> load_process_table(const class Crops& crops);

/// The text of one file of data/canning by its bare name ("fruit.csv"); what `read_process_table` reads from.
using CanningFile = std::function<std::string_view(std::string_view name)>;
[[nodiscard]] measure::Result<ProcessTable> read_process_table(const class Crops& crops, const CanningFile& file);

}  // namespace stillroom::almanac
