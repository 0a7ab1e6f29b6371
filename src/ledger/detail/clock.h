#pragma once

#include "ledger/detail/card.h"
#include "ledger/detail/folding.h"

/// The clocks of a batch's heat process, as entries move them. A clock runs from when its step is started; putting the
/// step down stops it for good, so that picking it up starts the whole time again.
namespace stillroom::ledger::detail {

[[nodiscard]] bool is_process(const CardFacts& card, const std::string& stage);
/// The canner load a stage belongs to; 0 = the whole batch.
[[nodiscard]] int load_of(const CardFacts& card, const std::string& stage);

void start_clock(Folding& f, BatchState& b, const CardFacts& card, const std::string& stage);
/// Refuses (code "process_too_short") to finish a process step before its published minutes are over.
[[nodiscard]] Result<void> may_finish(Folding& f, const BatchState& b, const CardFacts& card, const std::string& stage);
/// The whole time of a load, or of every load when `stage` is empty, has to run again.
void fail_clock(BatchState& b, const CardFacts& card, const std::string& stage, Instant at);
/// Refuses (code "not_processed") packs beyond those whose load ran its published minutes. False when a fact says
/// otherwise: then they exist, and nobody knows that they were processed.
[[nodiscard]] Result<bool> known_processed(Folding& f, const BatchState& b, double packs);

}  // namespace stillroom::ledger::detail
