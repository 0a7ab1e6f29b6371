#pragma once

#include <gtest/gtest.h>

#include "planning/detail/evaluate.h"
#include "planning/plan.h"
#include "planning/validate.h"

/// Households of a few lots whose plans can be worked out by hand.
/// Unless a test says otherwise: one grown-up, Ann, free from 8 to 18 o'clock with every minute usable, effort free,
/// food that keeps for ever, one route "a/jar" of one 60-minute stage, worth 10 USD per kg.
namespace stillroom::planning::test {

constexpr Minute kHour = 60, kDay = 1440;
constexpr Minute at(int day, int hour, int minute = 0) { return day * kDay + hour * 60 + minute; }

inline Hand hand(const std::string& key, int days, int from_hour = 8, int to_hour = 18) {
  Hand p{.key = key, .name = key, .age = 40, .skills = {}, .free = {}, .usable_share = 1, .most_minutes_per_day = 1440};
  for (int d = 0; d < days; ++d) p.free.push_back({at(d, from_hour), at(d, to_hour)});
  return p;
}

inline almanac::Stage stage(const std::string& key, double minutes,
                            almanac::Attention attention = almanac::Attention::hands_on) {
  almanac::Stage s;
  s.key = key;
  s.name = key;
  s.duration_min.fixed = minutes;
  s.attention = attention;
  return s;
}

inline almanac::Route route(const std::string& key, std::vector<almanac::Stage> stages) {
  almanac::Route r;
  r.key = key;
  r.crop = key.substr(0, key.find('/'));
  r.name = "put up " + r.crop;
  r.method = "frozen";
  r.quality = {1, 1, 1, 1, 1};
  r.stages = std::move(stages);
  r.product_food = r.crop;
  r.product_form = key.substr(key.find('/') + 1);
  r.batch_min_kg = 0.5;
  r.batch_max_kg = 50;
  r.worth_per_kg_in = 10;
  return r;
}

inline Lot lot(const std::string& id, const std::string& crop, double kg) {
  Lot l;
  l.id = id;
  l.crop = crop;
  l.name = crop;
  l.kg = kg;
  return l;
}

/// Fades to nine tenths in ten days at 5 degC and four times as fast at 20; does not ripen.
inline keeping::KeepingModel fading() {
  keeping::KeepingModel m;
  m.crop = "a";
  m.life_days_best_low = m.life_days_best_high = 10;
  m.best_temp_c = 5;
  m.beta = 2;
  m.relative_rate = {{5, 1}, {20, 4}};
  return m;
}

inline Household household(int days = 1) {
  Household h;
  h.first_day = std::chrono::sys_days{std::chrono::year{2026} / 9 / 14};
  h.days = days;
  h.effort_per_hour = 0;
  h.hands = {hand("ann", days)};
  h.routes = {route("a/jar", {stage("do", 60)})};
  h.lots = {lot("l1", "a", 10)};
  return h;
}

/// The plan, held to the independent checker.
inline Plan planned(const Household& h, long schedules = 150) {
  PlanOptions options;
  options.max_schedules = schedules;
  auto plan = make_plan(h, options);
  if (!plan) {
    ADD_FAILURE() << plan.error().message;
    return {};
  }
  const auto faults = check_plan(h, *plan);
  for (const auto& fault : faults) ADD_FAILURE() << fault;
  return std::move(*plan);
}

inline double kg_put_up(const Plan& plan) {
  double kg = 0;
  for (const PlannedBatch& b : plan.batches) kg += b.kg_in;
  return kg;
}

/// The only placed stage with this key.
inline const PlacedStage* the(const Plan& plan, const std::string& key) {
  const PlacedStage* found = nullptr;
  for (const PlannedBatch& b : plan.batches)
    for (const PlacedStage& s : b.stages)
      if (s.stage == key) found = &s;
  return found;
}

}  // namespace stillroom::planning::test
