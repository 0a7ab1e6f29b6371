#pragma once

#include <stdexcept>

#include "bench/generate.h"
#include "planning/plan.h"
#include "thorough.h"

/// Invented seasons of the bench's generator, for the planner's tests.
namespace stillroom::planning::test {

/// `./test long`: as many cases as are worth an hour; else as many as are worth a minute with sanitizers.
using stillroom::test::thorough;

inline const almanac::Almanac& published() {
  static const almanac::Almanac loaded = [] {
    auto result = almanac::load_almanac();
    if (!result) throw std::runtime_error(result.error().message);
    return std::move(*result);
  }();
  return loaded;
}

inline Household season(int lots, std::uint64_t seed) {
  bench::Season s;
  s.lots = lots;
  s.seed = seed;
  s.missing_jars = seed % 2 == 0;
  s.sick_days = seed % 3 == 0;
  s.shopping = seed % 4 == 0;
  return bench::generate(published(), s);
}

inline Plan plan_of(const Household& h, long schedules, int threads = 2, std::uint64_t seed = 1) {
  PlanOptions options;
  options.max_schedules = schedules;
  options.threads = threads;
  options.seed = seed;
  auto plan = make_plan(h, options);
  if (!plan) throw std::runtime_error(plan.error().message);
  return std::move(*plan);
}

}  // namespace stillroom::planning::test
