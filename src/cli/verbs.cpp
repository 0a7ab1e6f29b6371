#include "cli/verbs.h"

#include <CLI/CLI.hpp>
#include <chrono>
#include <iostream>

#include "app/json.h"
#include "cli/open.h"
#include "cli/print.h"

namespace stillroom::cli {

using measure::Result;

int Context::refused(const measure::Refusal& r) const {
  if (json) {
    std::cout << app::to_json(r) << "\n";
  } else {
    std::cerr << wrapped(r.message, 80, 2) << "\n";
    for (const std::string& line : r.instead) std::cerr << wrapped("  - " + line, 80, 4) << "\n";
  }
  return 1;
}

Result<void> Context::load_almanac() {
  auto loaded = almanac::load_almanac();
  if (!loaded) return tl::unexpected(loaded.error());
  almanac.emplace(std::move(*loaded));
  return {};
}

Result<void> Context::open() {
  const auto clock = clock_or(at);
  if (!clock) return tl::unexpected(clock.error());
  now = *clock;
  if (const auto loaded = load_almanac(); !loaded) return loaded;
  auto opened = open_house(*almanac, household_path(household), now);
  if (!opened) return tl::unexpected(opened.error());
  house.emplace(std::move(*opened));
  return {};
}

int Context::done(const Result<std::string>& r, const std::string& words) const {
  if (!r) return refused(r.error());
  if (json) {
    std::cout << app::done_json(*r) << "\n";
  } else {
    std::cout << words << (r->size() == 32 ? "   " + r->substr(0, 8) : "") << "\n";
  }
  return 0;
}

Result<Planned> plan_now(const Context& c, double seconds) {
  auto snapshot = app::snapshot_for_planning(*c.house, c.now);
  if (!snapshot) return tl::unexpected(snapshot.error());
  const auto start = std::chrono::steady_clock::now();
  const auto elapsed = [start] {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  };
  planning::PlanOptions options;
  options.max_seconds = seconds;
  options.max_schedules = 100'000'000;
  options.elapsed = elapsed;
  auto plan = planning::make_plan(*snapshot, options);
  if (!plan) return tl::unexpected(plan.error());
  return Planned{std::move(*snapshot), std::move(*plan), elapsed()};
}

Result<Planned> plan_by_steps(const Context& c, long schedules, std::uint64_t seed) {
  auto snapshot = app::snapshot_for_planning(*c.house, c.now);
  if (!snapshot) return tl::unexpected(snapshot.error());
  planning::PlanOptions options;
  options.max_schedules = schedules;
  options.seed = seed;
  auto plan = planning::make_plan(*snapshot, options);
  if (!plan) return tl::unexpected(plan.error());
  return Planned{std::move(*snapshot), std::move(*plan), 0};
}

Result<Planned> plan_to_follow(Context& c, double seconds) {
  auto planned = plan_now(c, seconds);
  if (!planned) return planned;
  if (const auto taken = app::follow(*c.house, c.now, planned->snapshot, planned->plan); !taken)
    return tl::unexpected(taken.error());
  return planned;
}

void verb(CLI::App* sub, Action& chosen, Action action) {
  sub->callback([&chosen, action = std::move(action)] {
    chosen = [action](Context& c) {
      if (const auto opened = c.open(); !opened) return c.refused(opened.error());
      return action(c);
    };
  });
}

}  // namespace stillroom::cli
