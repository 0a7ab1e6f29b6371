#pragma once

#include <string>
#include <vector>

#include "almanac/process_table.h"
#include "process/process.h"

/// The answer of `stillroom process`: words in, JSON or a printed card out.
namespace stillroom::process {

/// The command's words as typed; empty = not given.
struct QuestionWords {
  std::string food, form;
  std::string pack;      ///< "hot" or "raw"
  std::string jar;       ///< "half-pint", "pint", "quart", "half-gallon"
  std::string canner;    ///< "boiling-water", "steam", "dial", "weighted", "pressure", "low-temperature"
  std::string altitude;  ///< feet ("2900", "2,900 ft") or metres ("880 m")
  std::string id = {};   ///< process id of the table, where the recipe is already chosen
};

/// Refuses (code "wrong_use") a pack that is neither hot nor raw and an altitude that is no height. A jar or canner
/// nobody publishes for goes through: choose() then says so.
[[nodiscard]] measure::Result<Question> question_from_words(const QuestionWords& words);

/// "2900", "2,900 ft", "880 m" (bare numbers are feet); refuses with code "wrong_use". A minus is read too.
[[nodiscard]] measure::Result<measure::Altitude> altitude_from_words(std::string_view typed);

/// {"ok":true,"choices":[{"id","food","form","style_of_pack","jar","method","time_min","pressure_psi","headspace_in",
/// "added_acid","requires":[...],"altitude_over_ft","altitude_to_ft","notes","source","source_place","edition_read",
/// "title","said":{"method","jar","time","pressure","headspace","altitude","first":[...]}}]}
/// or {"ok":false,"code","message","instead":[...]}. A pressure or upper altitude that is not there is null. `said` has
/// the same in words, "first" the sentence of each requirement, from `table`.
[[nodiscard]] std::string to_json(const almanac::ProcessTable& table,
                                  const measure::Result<std::vector<Choice>>& answer);

/// A card per recipe: canner, jar, minutes, headspace; what to do first; the source below; cautions at the end.
/// `table` gives the requirement words their sentences. Lines end in '\n'.
[[nodiscard]] std::string to_text(const almanac::ProcessTable& table,
                                  const measure::Result<std::vector<Choice>>& answer);

}  // namespace stillroom::process
