#pragma once

#include <optional>
#include <string>
#include <vector>

#include "almanac/almanac.h"
#include "keeping/keeping.h"
#include "ledger/state.h"
#include "measure/time.h"

/// What is believed of a waiting parcel, from everything that was seen of it and everywhere it lay.
namespace stillroom::app::detail {

/// How warm a place has been: its readings, and its usual temperature before the first of them.
[[nodiscard]] std::vector<keeping::Stay> stays_of(const ledger::State& state, const ledger::Parcel& parcel,
                                                  measure::Instant until);

/// Temperature of a place now: its latest reading, else its usual one; 20 degC for a place nobody described.
[[nodiscard]] measure::Temperature temperature_now(const ledger::State& state, std::string_view place);

struct Waiting {
  std::optional<keeping::KeepingModel>
      model;  ///< none for food on a hazard clock, and for crops without published lives
  keeping::Belief belief;
  std::optional<measure::Instant> hazard_by;  ///< hard
  const keeping::HazardClock* clock = nullptr;
};
/// Put away frozen, wherever it lies now.
[[nodiscard]] bool is_frozen(const ledger::Parcel& parcel);
/// By when food that was put away frozen must be cooked or eaten, on the clock of thawed food; in the past when that
/// has run out. None while it lies frozen, and where nobody has said how cold its place is. Cold after a thaw stops the
/// clock and never turns it back.
[[nodiscard]] std::optional<measure::Instant> thawed_by(const almanac::Almanac& almanac, const ledger::State& state,
                                                        const ledger::Parcel& parcel, measure::Instant now);
[[nodiscard]] Waiting waiting_of(const almanac::Almanac& almanac, const ledger::State& state,
                                 const ledger::Parcel& parcel, measure::Instant now);

/// Food that can still become something: lots, what a batch left over (bones), and packs that only bought time (frozen
/// whole).
[[nodiscard]] bool goes_on(const almanac::Almanac& almanac, const ledger::Parcel& parcel);

/// Key of the hazard clock a food in this form runs on; empty for whole raw produce. A carcass with the fact
/// "carcass_small", "carcass_middle" or "carcass_large" was just killed: it has the hours of that clock to get cold.
/// What is cut from it has not.
[[nodiscard]] std::string hazard_key(const almanac::Almanac& almanac, std::string_view food, std::string_view form,
                                     const std::vector<std::string>& facts = {});

/// Whether a fact of a parcel names the clock of a carcass just killed. It says how long there is, and bars no process.
[[nodiscard]] bool is_fresh_kill(std::string_view fact);

/// Share of its hazard clock that a raw parcel has used up to `until`, what it was cut from included: the shares add up
/// along the way from slaughter, each stretch by the clock of what it was then. 0 for what runs no clock.
[[nodiscard]] double hazard_share_used(const almanac::Almanac& almanac, const ledger::State& state,
                                       const ledger::Parcel& parcel, measure::Instant until);

}  // namespace stillroom::app::detail
