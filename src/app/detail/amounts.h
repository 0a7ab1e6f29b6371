#pragma once

#include <string>

#include "app/app.h"
#include "measure/amount.h"

/// What an amount as said weighs, for one crop.
namespace stillroom::app::detail {

struct Weighed {
  ledger::Mass mass;
  std::string how_found;  ///< "weighed", "2 bushels at 50 lb each, University of Georgia Circular 780", "by eye: ..."
};
/// Mass as it is; containers by the almanac's weight for the crop; volume by its heaped density; a bare count of birds
/// or carcasses by a usual weight. Refuses "no_weight" when nothing published or usual says what such a thing weighs.
[[nodiscard]] Result<Weighed> mass_of(const almanac::Almanac& almanac, const measure::Amount& amount,
                                      const almanac::Crop& crop, measure::Units units);

}  // namespace stillroom::app::detail
