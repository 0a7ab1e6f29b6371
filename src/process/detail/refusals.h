#pragma once

#include <span>
#include <string>
#include <vector>

#include "almanac/process_table.h"
#include "measure/result.h"
#include "process/detail/near_spelling.h"
#include "process/detail/phrase.h"
#include "process/process.h"

/// The refusals of choose(), one per code. Each says what and where in one sentence, and a way on that needs no canner.
namespace stillroom::process::detail {

using RowRefs = std::vector<const almanac::ProcessRow*>;

/// What a refusal may refer to.
struct Asked {
  const almanac::Almanac& almanac;
  const Question& question;
  const Phrase& phrase;
  double altitude_ft = 0;  ///< set once the altitude is known
};

[[nodiscard]] measure::Refusal altitude_missing(const Asked& asked);
[[nodiscard]] measure::Refusal unknown_food(const Asked& asked);
/// `row` speaks against what was asked.
[[nodiscard]] measure::Refusal not_safe_to_can(const Asked& asked, const almanac::DenyRow& row);
/// Says what was probably meant, and what speaks against that.
[[nodiscard]] measure::Refusal near_not_safe(const Asked& asked, const NearDenial& near);
/// No table gives a time for this pectin; the leaflet does.
[[nodiscard]] measure::Refusal makers_leaflet(const Asked& asked, const almanac::DenyRow& row);
/// No row speaks for this crop at all.
[[nodiscard]] measure::Refusal not_covered(const Asked& asked);
/// `there` are the rows the food has; `what` says which wish none of them meets.
[[nodiscard]] measure::Refusal no_row(const Asked& asked, const RowRefs& there, const std::string& what);
[[nodiscard]] measure::Refusal condition_bars(const Asked& asked, const std::string& why, const std::string& way);
/// `there` are rows that would fit but for the altitude; `elsewhere` are rows by another canner that fit it.
[[nodiscard]] measure::Refusal altitude_outside(const Asked& asked, const RowRefs& there, const RowRefs& elsewhere);
[[nodiscard]] measure::Refusal recalled_only(const Asked& asked, const almanac::ProcessRow& row);

/// "by boiling-water canner", for sentences.
[[nodiscard]] std::string method_in_words(std::string_view method);
/// "half-pint", "quart".
[[nodiscard]] std::string jar_in_words(std::string_view jar);
/// 2900 -> "2,900 ft".
[[nodiscard]] std::string feet_in_words(double feet);
/// "halves_or_slices" -> "halves or slices".
[[nodiscard]] std::string plain_words(std::string_view table_word);

}  // namespace stillroom::process::detail
