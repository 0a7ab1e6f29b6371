#pragma once

#include <functional>
#include <optional>
#include <string>

#include "app/app.h"
#include "planning/plan.h"

namespace CLI {
class App;
}

/// What the verbs of the command line share.
namespace stillroom::cli {

/// What every verb may need; opened only when it is asked for.
struct Context {
  std::string household, at;
  bool json = false;
  std::optional<almanac::Almanac> almanac;
  std::optional<app::House> house;
  measure::Instant now{};

  /// Says why not; the exit code.
  int refused(const measure::Refusal& r) const;
  measure::Result<void> load_almanac();
  measure::Result<void> open();
  int done(const measure::Result<std::string>& r, const std::string& words) const;
};

struct Planned {
  planning::Household snapshot;
  planning::Plan plan;
  double seconds = 0;
};
[[nodiscard]] measure::Result<Planned> plan_now(const Context& c, double seconds);
/// A plan that is shown is the one people follow.
[[nodiscard]] measure::Result<Planned> plan_to_follow(Context& c, double seconds);
/// By steps instead of time: the same plan on every machine.
[[nodiscard]] measure::Result<Planned> plan_by_steps(const Context& c, long schedules, std::uint64_t seed);

using Action = std::function<int(Context&)>;
/// A verb that works on the household.
void verb(CLI::App* sub, Action& chosen, Action action);

}  // namespace stillroom::cli
