#pragma once

#include <optional>

#include "app/app.h"

/// What the book would take and the almanac and the clocks do not let through.
namespace stillroom::app::detail {

/// Why food whose hard clock has run out goes into no batch by `route`, compost aside; null = a route that is not
/// known.
[[nodiscard]] std::optional<measure::Refusal> out_of_time(const House& h, Instant now, const ledger::Parcel& parcel,
                                                          const almanac::Route* route);

/// Why a live entry is not taken up; nothing for any other. Every way in asks it, so that no page has to:
/// - "out_of_time": food whose hard clock has run out is eaten, given away, fed or put into a batch;
/// - "do_not_eat": packs that the settings of now put in doubt leave as food, before somebody said what was wrong;
/// - "not_published": a batch whose heat process stands in no table;
/// - "butchered": birds or rabbits come in from what stood as if they had been picked, without form and clock;
/// - "unknown_food": what is brought in, stands, is needed or was put by before is a food the almanac does not have.
/// Facts have happened and are never asked of; nor is an entry that the book has already.
[[nodiscard]] std::optional<measure::Refusal> barred(const House& h, Instant now, const ledger::Entry& entry);

}  // namespace stillroom::app::detail
