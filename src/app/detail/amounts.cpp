#include "app/detail/amounts.h"

#include <fmt/format.h>

#include "measure/text.h"

namespace stillroom::app::detail {

Result<Weighed> mass_of(const almanac::Almanac& almanac, const measure::Amount& amount, const almanac::Crop& crop,
                        measure::Units units) {
  switch (amount.kind) {
    case measure::AmountKind::mass:
      return Weighed{amount.mass(), "weighed"};
    case measure::AmountKind::volume: {
      const double kg = measure::in_litres(amount.volume()) * crop.density_kg_per_l;
      return Weighed{measure::kilograms(kg),
                     fmt::format("heaped at {:.2f} kg a litre, {}", crop.density_kg_per_l, crop.source)};
    }
    case measure::AmountKind::container: {
      const auto each = almanac.tables.pounds_in(almanac.crops, amount.container, crop.key);
      if (!each) return tl::unexpected(each.error());
      return Weighed{each->likely * amount.value,
                     fmt::format("{} each, {} ({})", measure::say(each->likely, units), each->from, each->source)};
    }
    default:
      break;
  }
  return measure::refuse(
      "no_weight",
      fmt::format("\"{}\" does not say what the {} weigh, and nothing published says what one weighs.", amount.said,
                  crop.plural),
      {"Give a weight (lb or kg), or a container: bushel, peck, bucket, basket.",
       "A bathroom scale, with you and the basket less you alone, is good enough."});
}

}  // namespace stillroom::app::detail
