#include "plan_bench.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <chrono>
#include <thread>

#include "calibration.h"
#include "generate.h"
#include "planning/plan.h"

namespace stillroom::bench {
namespace {

struct Options {
  Season season;
  int households = 3;  ///< seeds season.seed, +1, ...
  std::vector<double> times = {0.05, 1, 60};
  long budget = 0;  ///< schedules per worker instead of times
};

template <class T>
bool read(const std::string& text, T& value) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc{} && end == text.data() + text.size();
}

bool read_times(const std::string& text, std::vector<double>& times) {
  times.clear();
  for (std::size_t from = 0; from <= text.size();) {
    const std::size_t comma = std::min(text.find(',', from), text.size());
    double t = 0;
    if (!read(text.substr(from, comma - from), t) || t <= 0) return false;
    times.push_back(t);
    from = comma + 1;
  }
  return !times.empty();
}

bool parse(const std::vector<std::string>& arguments, Options& o) {
  for (std::size_t i = 0; i < arguments.size(); ++i) {
    const std::string& word = arguments[i];
    if (word == "--missing-jars") {
      o.season.missing_jars = true;
      continue;
    }
    if (word == "--sick-days") {
      o.season.sick_days = true;
      continue;
    }
    if (word == "--shopping") {
      o.season.shopping = true;
      continue;
    }
    if (i + 1 == arguments.size()) return false;
    const std::string& value = arguments[++i];
    bool fine = false;
    if (word == "--lots") fine = read(value, o.season.lots) && o.season.lots > 0;
    if (word == "--days") fine = read(value, o.season.days) && o.season.days > 0 && o.season.days <= 90;
    if (word == "--seed") fine = read(value, o.season.seed);
    if (word == "--households") fine = read(value, o.households) && o.households > 0;
    if (word == "--times") fine = read_times(value, o.times);
    if (word == "--budget") fine = read(value, o.budget) && o.budget > 0;
    if (!fine) return false;
  }
  return true;
}

struct Run {
  double first_ms = 0, seconds = 0, worth = 0;
  long schedules = 0;
  std::size_t faults = 0;
};

Run run(const planning::Household& h, double seconds, long budget) {
  const auto start = std::chrono::steady_clock::now();
  const auto elapsed = [&] { return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count(); };
  Run out;
  planning::PlanOptions options;
  options.max_schedules = budget > 0 ? budget : 2'000'000'000;
  if (budget <= 0) options.max_seconds = seconds;
  options.elapsed = elapsed;
  options.threads = std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
  options.on_better = [&](const planning::Plan&) {
    if (out.first_ms == 0) out.first_ms = 1000 * elapsed();
  };
  const auto plan = planning::make_plan(h, options);
  out.seconds = elapsed();
  if (!plan) {
    fmt::print(stderr, "{}\n", plan.error().message);
    out.faults = 1;
    return out;
  }
  out.worth = plan->terms.total();
  out.schedules = plan->schedules;
  const auto faults = planning::check_plan(h, *plan);
  out.faults = faults.size();
  for (const std::string& fault : faults) fmt::print(stderr, "  {}\n", fault);
  return out;
}

}  // namespace

int plan(const std::vector<std::string>& arguments) {
  Options o;
  if (!parse(arguments, o)) {
    fmt::print(stderr,
               "Usage: stillroom-bench plan [--lots 40] [--days 21] [--seed 1] [--households 3] [--times 0.05,1,60]\n"
               "       [--budget SCHEDULES] [--missing-jars] [--sick-days] [--shopping]\n");
    return 2;
  }
  const auto almanac = almanac::load_almanac();
  if (!almanac) {
    fmt::print(stderr, "{}\n", almanac.error().message);
    return 1;
  }
  if (o.budget > 0) o.times = {0};
  std::size_t faults = 0;
  fmt::print("{:>5} {:>5} {:>5} {:>7} {:>9} {:>9} {:>12} {:>9} {:>10} {:>7}\n", "seed", "lots", "days", "routes",
             "limit s", "first ms", "first, loops", "took s", "worth USD", "weighed");
  for (int i = 0; i < o.households; ++i) {
    Season season = o.season;
    season.seed += static_cast<std::uint64_t>(i);
    const planning::Household h = generate(*almanac, season);
    for (const double seconds : o.times) {
      const Run r = run(h, seconds, o.budget);
      fmt::print("{:>5} {:>5} {:>5} {:>7} {:>9} {:>9.1f} {:>12.2f} {:>9.2f} {:>10.2f} {:>7}\n", season.seed,
                 h.lots.size(), h.days, h.routes.size(), seconds, r.first_ms, in_loops(r.first_ms), r.seconds, r.worth,
                 r.schedules);
      faults += r.faults;
    }
  }
  return faults == 0 ? 0 : 1;
}

}  // namespace stillroom::bench
