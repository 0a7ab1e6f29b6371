#pragma once

#include <string_view>

#include "almanac/almanac.h"
#include "app/detail/settings.h"
#include "ledger/state.h"

/// What this household eats in a year, and what it already has.
namespace stillroom::app::detail {

struct Need {
  double kg_per_year = 0;
  double weight = 1;  ///< what the household says a food or form is worth beside its price
  std::string how_found;
};
/// The household's own figure for the food and form, else its figure for the food, else the published amount to put up
/// per person times its eaters, else 5 kg per eater (common practice). Where nobody said which forms are eaten, each
/// form of a food may cover two fifths of it.
[[nodiscard]] Need need_of(const almanac::Almanac& almanac, const ledger::State& state, double eaters,
                           std::string_view food, std::string_view form);
/// kg of the product put by now.
[[nodiscard]] double put_by_kg(const almanac::Almanac& almanac, const ledger::State& state, std::string_view food,
                               std::string_view form);

}  // namespace stillroom::app::detail
