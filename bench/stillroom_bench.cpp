#include <fmt/core.h>

#include <string_view>
#include <vector>

#include "bound_bench.h"
#include "calibration.h"
#include "commands.h"
#include "plan_bench.h"
#include "rehearse_bench.h"
#include "seasons.h"

/// `stillroom-bench WHAT ...`: one yardstick per word. Each lives in a file of its own and is listed here.
namespace {

struct Yardstick {
  std::string_view name, purpose;
  int (*run)(const std::vector<std::string>& arguments);
};

constexpr Yardstick kYardsticks[] = {
    {"mrcpsp", "public project-scheduling instances: makespans, gaps, schedules per second", stillroom::bench::mrcpsp},
    {"plan", "generated households: time to a first plan, worth at given times, each plan checked",
     stillroom::bench::plan},
    {"seasons", "generated households: our plan against simple policies and the bound, each plan checked",
     stillroom::bench::seasons},
    {"edits", "generated households: one small change, replanned from the plan in force", stillroom::bench::edits},
    {"bound", "generated households: how far plans are from what no plan can beat", stillroom::bench::bound},
    {"rehearse", "generated households: seasons per second, and whether forecast chances come true",
     stillroom::bench::rehearse},
};

int usage() {
  fmt::print(stderr,
             "Usage: stillroom-bench WHAT [ARGUMENTS]; `stillroom-bench WHAT --help` says more. WHAT is one of\n");
  for (const auto& y : kYardsticks) fmt::print(stderr, "  {:<8} {}\n", y.name, y.purpose);
  return 2;
}

}  // namespace

int main(int argc, char** argv) {
  const std::vector<std::string> arguments(argv + 1, argv + argc);
  if (arguments.empty()) return usage();
  for (const auto& y : kYardsticks)
    if (arguments.front() == y.name) {
      fmt::print(stderr, "calibration loop: {:.1f} ms\n", stillroom::bench::calibration_ms());
      return y.run({arguments.begin() + 1, arguments.end()});
    }
  return usage();
}
