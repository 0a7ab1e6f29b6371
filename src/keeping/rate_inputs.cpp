#include <algorithm>
#include <array>

#include "keeping/rate_curve.h"

namespace stillroom::keeping {

namespace {

using almanac::Crops;
using almanac::Kin;
using almanac::Tables;

/// Where no row gives one: fresh produce freezes a little below 0 degC (common practice).
constexpr double kUsualFreezing = -0.5;

/// Exceptions that name the crop or an ancestor of it, or every crop.
const almanac::KeepingException* exception_for(const Crops& crops, const Tables& tables, std::string_view crop,
                                               std::string_view rule) {
  for (const auto& e : tables.keeping.exceptions) {
    if (e.rule != rule) continue;
    const auto named = [&](const std::string& key) { return crops.is_a(crop, key); };
    if (e.crops.empty() || std::ranges::any_of(e.crops, named)) return &e;
  }
  return nullptr;
}

/// Lives that fix the curve: own rows, then those of ancestors (and of varieties that stand for the crop asked for) at
/// temperatures still free. Rows of sisters are left out: a slicing cucumber says nothing of a pickling one.
std::vector<LifeAnchor> life_anchors(const Crops& crops, const Tables& tables, std::string_view asked,
                                     std::string_view found) {
  std::vector<LifeAnchor> out;
  const auto known_at = [&out](double t) {
    return std::ranges::any_of(out, [t](const LifeAnchor& a) { return a.temp_c == t; });
  };
  const auto take = [&](std::string_view key) {
    std::vector<LifeAnchor> fresh;
    for (const auto& row : tables.keeping.rooms) {
      if (row.crop == key && row.fixes_life && !known_at(row.temp_c))
        fresh.push_back({row.temp_c, row.life_days.middle()});
    }
    for (const auto& a : fresh) {
      if (!known_at(a.temp_c)) out.push_back(a);
    }
  };
  if (crops.is_a(asked, found)) take(asked);
  for (const auto& k : almanac::kin_of(crops, found)) {
    if (crops.is_a(found, k.key) || (k.kin == Kin::stands_for && crops.is_a(k.key, asked))) take(k.key);
  }
  std::ranges::sort(out, {}, &LifeAnchor::temp_c);
  return out;
}

/// Life at 20 degC summed over the ripening stages, where no counter life fixes it.
void add_ripening_anchor(const Crops& crops, const Tables& tables, std::string_view crop,
                         std::vector<LifeAnchor>& anchors) {
  const auto ripening = tables.ripening(crops, crop);
  if (!ripening || std::ranges::any_of(anchors, [](const LifeAnchor& a) { return a.temp_c == 20; })) return;
  const auto& r = ripening->first();
  double days = 0;
  for (int c = static_cast<int>(r.life_counts_from); c <= static_cast<int>(almanac::Condition::ripe); ++c) {
    days += r.days_at_20c.at(static_cast<std::size_t>(c));
  }
  anchors.push_back({20, days});
  std::ranges::sort(anchors, {}, &LifeAnchor::temp_c);
}

void take_q10(const Crops& crops, const Tables& tables, std::string_view crop, RateInputs& in) {
  const auto found = tables.q10(crops, crop);
  if (!found) return;
  const auto& q = found->first();
  in.q10_0_10 = std::max(1.0, q.from_0_to_10.value_or(q.fitted));
  in.q10_10_20 = std::max(1.0, q.from_10_to_20.value_or(q.fitted));
}

/// Dry seed, grain and nuts do not spoil by frost.
bool spoils_by_frost(const Crops& crops, const almanac::FreshStorage& row) {
  const auto* c = crops.find(row.crop);
  if (row.highest_freezing_c) return true;
  if (c == nullptr || c->kind == almanac::CropKind::nut || c->kind == almanac::CropKind::other) return false;
  return row.part != "seed";
}

/// A life in an ordinary place within the best range that is more surely known than the storage row and cannot be
/// squared with it: that life stands (pickling cucumbers: a day or two, whatever the handbook recalled).
const almanac::RoomLife* surer_life(const Tables& tables, const almanac::FreshStorage& best) {
  for (const auto& row : tables.keeping.rooms) {
    const bool there =
        row.crop == best.crop && row.fixes_life && row.temp_c >= best.temp_c.low && row.temp_c <= best.temp_c.high;
    const bool apart = row.life_days.high < best.life_days.low || row.life_days.low > best.life_days.high;
    if (there && apart && row.from.checked < best.from.checked) return &row;
  }
  return nullptr;
}

}  // namespace

measure::Result<BestLife> best_life(const Crops& crops, const Tables& tables, std::string_view crop) {
  const auto best = tables.best_storage(crops, crop);
  if (!best) return tl::unexpected(best.error());
  BestLife life{*best, (*best)->life_days, (*best)->from};
  if (const auto* row = surer_life(tables, **best)) {
    life.days = row->life_days;
    life.from = row->from;
  }
  return life;
}

measure::Result<RateInputs> rate_inputs(const Crops& crops, const Tables& tables, std::string_view crop) {
  const auto best = best_life(crops, tables, crop);
  if (!best) return tl::unexpected(best.error());
  const auto& row = *best->row;
  RateInputs in;
  in.best_low_c = row.temp_c.low;
  in.best_high_c = row.temp_c.high;
  in.life_days = best->days.middle();
  in.anchors = life_anchors(crops, tables, crop, row.crop);
  add_ripening_anchor(crops, tables, crop, in.anchors);
  take_q10(crops, tables, crop, in);
  in.respiration_counts = exception_for(crops, tables, row.crop, "no_respiration") == nullptr;
  // Within the published best range nothing chills (asparagus: 0 to 2 degC, harmed below 1 degC only when kept long).
  if (row.chilling_below_c) in.chilling_below_c = std::min(*row.chilling_below_c, row.temp_c.low);
  if (const auto* e = exception_for(crops, tables, row.crop, "chilling")) in.chilling_factor_per_3c = e->factor;
  if (const auto* e = exception_for(crops, tables, row.crop, "freezing")) in.freezing_factor = e->factor;
  if (spoils_by_frost(crops, row)) in.freezing_c = row.highest_freezing_c.value_or(kUsualFreezing);
  if (const auto* e = exception_for(crops, tables, row.crop, "mealy")) {
    in.mealy_c = e->temp_c;
    in.mealy_factor = e->factor;
  }
  return in;
}

}  // namespace stillroom::keeping
