#include "kitchen/learned.h"

#include <algorithm>
#include <cmath>
#include <string_view>

namespace stillroom::kitchen {
namespace {

constexpr double kLeastSpread = 0.05;
constexpr double kEightInTen = 1.2816;  // standard deviations from the middle to the 10 or 90 % point of a bell curve

bool believable(double ratio, double most_off) {
  return std::isfinite(ratio) && ratio > 0 && ratio <= most_off && ratio * most_off >= 1;
}

/// Logarithms of those that are believed, in order of size: the same batches in another order add up to the same bits.
std::vector<double> logs_of(std::span<const double> ratios, double most_off) {
  std::vector<double> logs;
  for (const double ratio : ratios) {
    if (believable(ratio, most_off)) logs.push_back(std::log(ratio));
  }
  std::ranges::sort(logs);
  return logs;
}

double sum_of(const std::vector<double>& logs) {
  double sum = 0;
  for (const double x : logs) sum += x;
  return sum;
}

/// Routes lend to each other what is the same work by the same number of people; and what a crop gives by one method,
/// whatever the jar.
std::string kind_of(const almanac::Route& route, const almanac::Stage* stage) {
  if (stage == nullptr) return "yield|" + route.crop + "|" + route.method + "|" + route.accepts_form;
  return stage->key + "|" + (stage->attention == almanac::Attention::hands_on ? "by hand" : "nearby") + "|" +
         std::to_string(stage->hands);
}

const almanac::Stage* stage_of(const almanac::Route& route, std::string_view key) {
  const auto it = std::ranges::find(route.stages, key, &almanac::Stage::key);
  return it == route.stages.end() ? nullptr : &*it;
}

double published_packs(const almanac::Route& route, double kg) {
  const bool counted = !route.is_hold && !route.pack.empty() && route.pack != "loose" && route.kg_in_per_pack > 0;
  return counted ? kg / route.kg_in_per_pack : 0;
}

void stretch(almanac::Scaled& amount, double factor) {
  amount.fixed *= factor;
  amount.per_kg *= factor;
  amount.per_load *= factor;
}

/// More packs need more jars, bags and room. Fewer packs leave them as published: too many in hand does no harm.
void widen_stores(almanac::Route& route, double factor) {
  if (factor <= 1) return;
  for (almanac::Stage& stage : route.stages) {
    for (almanac::StockUse& use : stage.stock) {
      if (use.item.starts_with("jar_") || use.item.starts_with("freezer_bag") || use.item == "lid")
        stretch(use.amount, factor);
    }
    for (almanac::RoomUse& use : stage.room) stretch(use.amount, factor);
  }
}

}  // namespace

Refined refine(double spread, std::span<const double> own, std::span<const double> lent, double most_off) {
  const std::vector<double> mine = logs_of(own, most_off);
  const std::vector<double> theirs = logs_of(lent, most_off);
  Refined r;
  r.batches = static_cast<int>(mine.size());
  r.lent = static_cast<int>(theirs.size());
  r.left_out = static_cast<int>(own.size() - mine.size());
  const double lent_weight = std::min(kMostLent, kLentWeight * r.lent);
  r.weight = r.batches + lent_weight;
  const double lent_sum = theirs.empty() ? 0 : lent_weight * sum_of(theirs) / r.lent;
  // Normal prior around no change, normal batches of known spread: precisions add, and the middle is their mean.
  const double middle = (sum_of(mine) + lent_sum) / (kPublishedWeight + r.weight);
  const double cv = std::max(kLeastSpread, spread);
  const double deviation = std::sqrt(std::log1p(cv * cv) * kPublishedWeight / (kPublishedWeight + r.weight));
  r.factor = std::exp(middle);
  r.low = std::exp(middle - kEightInTen * deviation);
  r.high = std::exp(middle + kEightInTen * deviation);
  return r;
}

bool may_learn(const almanac::Stage& stage) {
  if (stage.attention == almanac::Attention::unattended || stage.key == "process") return false;
  return std::ranges::none_of(
      stage.equipment, [](const almanac::EquipmentUse& use) { return use.key.find("canner") != std::string::npos; });
}

Learned::Learned(const almanac::RouteBook& book, const std::vector<FinishedBatch>& batches) {
  for (const FinishedBatch& batch : batches) {
    const almanac::Route* route = book.find(batch.route);
    if (route != nullptr && batch.kg_in > 0) hear(*route, batch);
  }
  for (const auto& [key, heard] : heard_) {
    const almanac::Route& route = *book.find(key.first);
    Figure f{.route = key.first, .stage = key.second, .refined = of(route, key.second)};
    f.kg = heard.kg / static_cast<double>(heard.ratios.size() + static_cast<std::size_t>(heard.doubtful));
    const almanac::Stage* stage = stage_of(route, key.second);
    f.published =
        stage == nullptr ? published_packs(route, f.kg) : stage->duration_min.at(f.kg, almanac::loads_for(route, f.kg));
    figures_.push_back(std::move(f));
  }
}

void Learned::note(const almanac::Route& route, const almanac::Stage* stage, const FinishedBatch& batch, double ratio,
                   bool doubtful) {
  Heard& heard = heard_[{route.key, stage == nullptr ? "" : stage->key}];
  heard.kg += batch.kg_in;
  if (doubtful) {
    ++heard.doubtful;
    return;
  }
  heard.ratios.push_back(ratio);
  by_kind_[kind_of(route, stage)][route.key].push_back(ratio);
}

void Learned::hear(const almanac::Route& route, const FinishedBatch& batch) {
  for (const FinishedStage& done : batch.stages) {
    const almanac::Stage* stage = stage_of(route, done.stage);
    if (stage == nullptr || !may_learn(*stage)) continue;
    const double published = stage->duration_min.at(batch.kg_in, almanac::loads_for(route, batch.kg_in));
    if (published > 0) note(route, stage, batch, done.minutes / published, done.doubtful);
  }
  const double published = published_packs(route, batch.kg_in);
  const double packs = (published > 0 && batch.packs_expected > 0 ? batch.packs_expected : published) * batch.usable;
  if (packs > 0 && batch.packs > 0) note(route, nullptr, batch, batch.packs / packs, false);
}

Refined Learned::of(const almanac::Route& route, std::string_view stage_key) const {
  const almanac::Stage* stage = stage_of(route, stage_key);
  if (!stage_key.empty() && (stage == nullptr || !may_learn(*stage))) return {};
  std::vector<double> lent;
  if (const auto kind = by_kind_.find(kind_of(route, stage)); kind != by_kind_.end()) {
    for (const auto& [key, ratios] : kind->second) {
      if (key != route.key) lent.insert(lent.end(), ratios.begin(), ratios.end());
    }
  }
  const auto own = heard_.find({route.key, std::string(stage_key)});
  static const Heard kNothing;
  const Heard& heard = own == heard_.end() ? kNothing : own->second;
  Refined refined = refine(stage == nullptr ? kYieldSpread : stage->spread, heard.ratios, lent,
                           stage == nullptr ? kMostOffYield : kMostOffMinutes);
  refined.left_out += heard.doubtful;
  return refined;
}

almanac::Route Learned::as_here(const almanac::Route& route) const {
  almanac::Route here = route;
  for (almanac::Stage& stage : here.stages) {
    if (!may_learn(stage)) continue;
    if (const Refined r = of(route, stage.key); r.weight >= kEnoughWeight) stretch(stage.duration_min, r.factor);
  }
  const Refined gives = of(route, "");
  if (gives.weight < kEnoughWeight || published_packs(route, 1) <= 0) return here;
  here.yield_kg_per_kg *= gives.factor;
  here.worth_per_kg_in *= gives.factor;  // the pack is worth what it was; a kilogram gives more or fewer of them
  here.kg_in_per_pack /= gives.factor;
  widen_stores(here, gives.factor);
  return here;
}

}  // namespace stillroom::kitchen
