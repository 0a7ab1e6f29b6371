#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "keeping/keeping.h"
#include "keeping/rate_curve.h"

namespace stillroom::keeping {

namespace {

using almanac::Crops;
using almanac::Tables;

/// Where neither the crop nor its kind has a row; common practice.
constexpr double kUsualBeta = 2;

double beta_of(const Crops& crops, const Tables& tables, const almanac::Crop& crop) {
  const auto own = almanac::rows_for(crops, tables.keeping.shapes, crop.key, "shape",
                                     [](const almanac::TailShape& s) -> const std::string& { return s.crop; });
  if (own) return own->first().beta;
  for (const auto& s : tables.keeping.shapes) {
    if (s.kind == crop.kind) return s.beta;
  }
  return kUsualBeta;
}

void take_ripening(const Crops& crops, const Tables& tables, std::string_view crop, KeepingModel& m) {
  const auto found = tables.ripening(crops, crop);
  if (!found) return;
  const auto& r = found->first();
  std::ranges::copy(r.days_at_20c, m.ripening_days_at_20c);
  m.life_counts_from = static_cast<double>(r.life_counts_from);
  m.ripening_q10 = r.q10;
  m.ripening_stops_below_c = r.stops_below_c;
  m.ripening_no_faster_above_c = r.no_faster_above_c;
}

}  // namespace

double KeepingModel::life_days_best() const { return std::sqrt(life_days_best_low * life_days_best_high); }

measure::Result<KeepingModel> model_for(const Crops& crops, const Tables& tables, std::string_view crop) {
  const auto* c = crops.find(crop);
  if (c == nullptr) return measure::refuse("unknown_crop", fmt::format("No crop has the key \"{}\".", crop));
  if (c->animal) {
    return measure::refuse("hazard_clock",
                           fmt::format("{} keeps by a fixed time limit, not by a keeping model.", c->name),
                           {"use or freeze it within its limit"});
  }
  const auto storage = tables.fresh_storage(crops, crop);
  if (!storage) return tl::unexpected(storage.error());
  const auto inputs = rate_inputs(crops, tables, crop);
  if (!inputs) return tl::unexpected(inputs.error());
  const auto best = best_life(crops, tables, crop).value();
  const auto& row = *best.row;
  KeepingModel m;
  m.crop = c->key;
  const auto slash = c->key.find('/');
  m.variety = slash == std::string::npos ? "" : c->key.substr(slash + 1);
  m.life_days_best_low = best.days.low;
  m.life_days_best_high = best.days.high;
  m.best_temp_c = (row.temp_c.low + row.temp_c.high) / 2;
  m.beta = beta_of(crops, tables, *c);
  m.relative_rate = rate_curve(*inputs);
  m.chilling_below_c = inputs->chilling_below_c;
  m.ethylene_producer = row.ethylene_producer == "high";
  m.ethylene_sensitivity = row.ethylene_sensitivity;
  m.source = best.from.source;
  m.checked = almanac::to_code(best.from.checked);
  m.from = storage->from;
  take_ripening(crops, tables, crop, m);
  return m;
}

measure::Result<KeepingModel> model_for(const almanac::Almanac& almanac, std::string_view crop) {
  return model_for(almanac.crops, almanac.tables, crop);
}

}  // namespace stillroom::keeping
