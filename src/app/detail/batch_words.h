#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "app/app.h"
#include "kitchen/batch.h"
#include "ledger/state.h"

/// What a batch, its steps and its packs are called on a screen: said one way, by every view.
namespace stillroom::app::detail {

[[nodiscard]] ProcessView process_view(const almanac::Almanac& almanac, const process::Choice& c);
/// Everything of a step but what the batch's own record says of it.
[[nodiscard]] StepView step_view(const kitchen::Step& step);

/// Where packs that are stored in such a place go: the first place of that kind, else the kind's own word.
[[nodiscard]] std::string pack_place(const ledger::State& state, std::string_view store_in);
/// Number of the next free pack code.
[[nodiscard]] std::uint32_t next_code_number(const ledger::State& state);

/// "Processed as published in ...": only of packs whose process is on record and stands in the tables; otherwise empty.
[[nodiscard]] std::string process_record(const almanac::Almanac& almanac, const ledger::Parcel& p);
/// Why packs must not be eaten, by what was written down; empty when nothing speaks against it.
[[nodiscard]] std::string not_food_words(const ledger::Parcel& p);
/// Why packs are in doubt by the settings of now: the household lies in another band, and their process is less than
/// what the tables answer when the card's question is put again there; or their process stands in no table. Computes
/// nothing. Nothing when all is well, or when the altitude is not known.
[[nodiscard]] std::optional<std::string> doubt_of(const House& h, const ledger::Parcel& p);
/// When the hard clock of a lot, or of packs that thawed, ran out; none while it has not, and for jars and dry packs.
[[nodiscard]] std::optional<Instant> ran_out(const House& h, const ledger::Parcel& p, Instant now);
/// Why it must not be eaten any more.
[[nodiscard]] std::string ran_out_words(const House& h, const ledger::Parcel& p, Instant ran_out_at);

/// A key of data/kitchen/trouble.csv.
[[nodiscard]] bool fact_is_fault(std::string_view fact);
[[nodiscard]] std::string lower_first(std::string words);
/// "The boil stopped", from data/kitchen/trouble.csv; the key in words when it is not there.
[[nodiscard]] std::string fault_words(std::string_view fault);
/// "Thrown out.", "To be processed again in full."
[[nodiscard]] std::string outcome_words(std::string_view fault, std::string_view outcome);

/// "14:05", the last such moment that is not ahead, or "2026-09-14T14:05"; refuses (code "bad_time") anything else.
[[nodiscard]] Result<Instant> moment_said(const measure::Zone& zone, Instant now, std::string_view said);

}  // namespace stillroom::app::detail
