#pragma once

#include <string_view>

#include "almanac/crops.h"
#include "almanac/process_table.h"

/// The small tables beside the heat-process rows, each into its place in a ProcessTable. All refuse with "bad_table"
/// naming file, row and column. `wording` is read first, `names` last: the others fold their words with it.
namespace stillroom::almanac::detail {

using ReadFault = std::optional<measure::Refusal>;

[[nodiscard]] ReadFault read_wordings(std::string_view text, ProcessTable& into);
[[nodiscard]] ReadFault read_requirements(std::string_view text, ProcessTable& into);
[[nodiscard]] ReadFault read_deny_list(std::string_view text, const Crops& crops, ProcessTable& into);
[[nodiscard]] ReadFault read_fresh_quantities(std::string_view text, const Crops& crops, ProcessTable& into);
/// Needs the rows: every process id must have form words, and every id named must be there.
[[nodiscard]] ReadFault read_forms(std::string_view text, ProcessTable& into);
/// Needs the rows: every id must be a process whose rows do not forbid it, held at 180 to 185 degF for 30 minutes or
/// more (USDA AIB-539 Guide 6).
[[nodiscard]] ReadFault read_low_temperature(std::string_view text, ProcessTable& into);
/// All words of the names, forms, wordings and the deny list; last of all.
void collect_known_words(ProcessTable& into);
/// Dishes of names.csv and every name of every crop, longest first.
[[nodiscard]] ReadFault read_names(std::string_view text, const Crops& crops, ProcessTable& into);

}  // namespace stillroom::almanac::detail
