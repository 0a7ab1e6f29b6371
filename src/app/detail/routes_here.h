#pragma once

#include <string>
#include <vector>

#include "app/detail/settings.h"
#include "kitchen/batch.h"
#include "ledger/state.h"
#include "planning/household.h"
#include "process/process.h"

/// Which routes this household can take at all: canned ones only with a published process for its altitude and canners.
namespace stillroom::app::detail {

using measure::Result;

/// What the household owns, in the routes' words: dial and weighted canners are both a "pressure_canner", a steam
/// canner also runs boiling-water processes that allow it, the fridge's litres are "chill_l".
[[nodiscard]] std::vector<planning::EquipmentPiece> equipment_of(const ledger::State& state);

/// The published process a canned route would run by here, or why there is none. A route without a process answers
/// nothing.
[[nodiscard]] Result<std::optional<process::Choice>> process_here(const almanac::Almanac& almanac,
                                                                  const ledger::State& state,
                                                                  const almanac::Route& route, std::string_view crop,
                                                                  const std::vector<std::string>& facts);

/// The batch card for one route here, its process (if any) chosen and frozen. Refuses as process::choose does.
[[nodiscard]] Result<kitchen::BatchCard> card_here(const almanac::Almanac& almanac, const ledger::State& state,
                                                   const almanac::Route& route, std::string_view crop,
                                                   const std::vector<std::string>& facts, double kg);

/// The route as it runs here: its processing stage as long as the published time asks.
[[nodiscard]] almanac::Route timed_route(const almanac::Route& route, const std::optional<process::Choice>& choice);

}  // namespace stillroom::app::detail
