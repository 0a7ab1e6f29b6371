#pragma once

#include <string_view>
#include <utility>
#include <vector>

#include "almanac/tables.h"

namespace stillroom::keeping {

/// A life fixed at one temperature by a published row.
struct LifeAnchor {
  double temp_c = 0, life_days = 0;
};

/// What the rate curve of one crop is built from. All from published rows; see docs/science/soundness.md.
struct RateInputs {
  double best_low_c = 0, best_high_c = 0;  ///< the rate is 1 between them
  double life_days = 0;                    ///< there
  std::vector<LifeAnchor> anchors;         ///< sorted by temperature
  double q10_0_10 = 3, q10_10_20 = 2.5;    ///< of respiration; the general curve where none is known
  bool respiration_counts = true;          ///< false: lives alone shape the curve
  std::optional<double> chilling_below_c;
  double chilling_factor_per_3c = 2;
  std::optional<double> freezing_c;
  double freezing_factor = 50;
  std::optional<almanac::Span> mealy_c;
  double mealy_factor = 1;
};

/// (deg C, rate relative to the best temperature), piecewise log-linear, rising in temperature, from just below
/// freezing to 45 degC. Above the best temperature the anchors are met exactly and the respiration curve shapes what
/// lies between; with respiration_counts the rate never falls as it gets warmer.
[[nodiscard]] std::vector<std::pair<double, double>> rate_curve(const RateInputs& in);

/// The published life of a crop where it keeps best.
struct BestLife {
  const almanac::FreshStorage* row = nullptr;
  almanac::Span days;  ///< of the row, unless a more surely known life at that temperature contradicts it
  almanac::Provenance from;
};
/// Refuses (code "no_published_value") where no life is published.
[[nodiscard]] measure::Result<BestLife> best_life(const almanac::Crops& crops, const almanac::Tables& tables,
                                                  std::string_view crop);

/// Collects RateInputs for a crop; refuses (code "no_published_value") where no life is published.
[[nodiscard]] measure::Result<RateInputs> rate_inputs(const almanac::Crops& crops, const almanac::Tables& tables,
                                                      std::string_view crop);

}  // namespace stillroom::keeping
