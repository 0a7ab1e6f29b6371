#pragma once

#include <string>
#include <vector>

#include "almanac/almanac.h"
#include "process/process.h"

/// A published process in words a person reads. Nothing here computes a time or a pressure.
namespace stillroom::kitchen {

/// Sentences for all that a row requires, in its order (data/canning/requirements.csv).
[[nodiscard]] std::vector<std::string> requirement_sentences(const almanac::ProcessTable& table,
                                                             const process::Choice& c);
/// A verified row of the tables says just this: the same process, canner, band, minutes and pressure. A half-pint may
/// stand by its pint row.
[[nodiscard]] bool is_published(const almanac::ProcessTable& table, const process::Choice& c);
/// What the finished batch's record says: "Processed as published in SOURCE, TABLE (edition read EDITION), quart jars
/// in a boiling-water canner, 25 min, for 0 to 1,000 ft." Only for packs whose process is on record.
[[nodiscard]] std::string processed_sentence(const process::Choice& c);
/// The same from the process as the ledger keeps it in a parcel; empty when the text is no process.
[[nodiscard]] std::string processed_sentence(std::string_view process_json);
/// The process as the ledger keeps it in a parcel (refuses "bad_card" otherwise).
[[nodiscard]] measure::Result<process::Choice> process_from_json(std::string_view json);

}  // namespace stillroom::kitchen
