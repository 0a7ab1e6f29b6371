#include "bound_bench.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <chrono>
#include <thread>

#include "calibration.h"
#include "generate.h"
#include "planning/bound.h"

namespace stillroom::bench {
namespace {

struct BoundWish {
  Season season;
  int households = 3;  ///< seeds season.seed, +1, ...
  double seconds = 5;  ///< for each plan
  bool terms = false;
};

template <class T>
bool read_whole(const std::string& text, T& value) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc{} && end == text.data() + text.size();
}

bool parse_bound(const std::vector<std::string>& arguments, BoundWish& o) {
  for (std::size_t i = 0; i < arguments.size(); ++i) {
    const std::string& word = arguments[i];
    bool* flag = word == "--missing-jars" ? &o.season.missing_jars
                 : word == "--sick-days"  ? &o.season.sick_days
                 : word == "--shopping"   ? &o.season.shopping
                 : word == "--terms"      ? &o.terms
                                          : nullptr;
    if (flag != nullptr) {
      *flag = true;
      continue;
    }
    if (i + 1 == arguments.size()) return false;
    const std::string& value = arguments[++i];
    bool fine = false;
    if (word == "--lots") fine = read_whole(value, o.season.lots) && o.season.lots > 0;
    if (word == "--days") fine = read_whole(value, o.season.days) && o.season.days > 0 && o.season.days <= 90;
    if (word == "--seed") fine = read_whole(value, o.season.seed);
    if (word == "--households") fine = read_whole(value, o.households) && o.households > 0;
    if (word == "--seconds") fine = read_whole(value, o.seconds) && o.seconds > 0;
    if (!fine) return false;
  }
  return true;
}

double middle_of(std::vector<double> x) {
  std::sort(x.begin(), x.end());
  return (x[(x.size() - 1) / 2] + x[x.size() / 2]) / 2;
}

class Clock {
 public:
  [[nodiscard]] double seconds() const {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count();
  }

 private:
  std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

void print_terms(const char* whose, const planning::ObjectiveTerms& t) {
  fmt::print(
      "      {:<6} put by {:.0f}, still sound {:.0f}, materials {:.0f}, energy {:.0f}, effort {:.0f}, late {:.1f}\n",
      whose, t.put_by, t.still_sound, t.materials, t.energy, t.effort, t.lateness);
}

}  // namespace

int bound(const std::vector<std::string>& arguments) {
  BoundWish o;
  if (!parse_bound(arguments, o)) {
    fmt::print(stderr,
               "Usage: stillroom-bench bound [--lots 40] [--days 21] [--seed 1] [--households 3] [--seconds 5]\n"
               "       [--terms] [--missing-jars] [--sick-days] [--shopping]\n");
    return 2;
  }
  const auto almanac = almanac::load_almanac();
  if (!almanac) {
    fmt::print(stderr, "{}\n", almanac.error().message);
    return 1;
  }
  int beaten = 0;
  std::vector<double> gaps, took;
  fmt::print("{:>5} {:>5} {:>5} {:>10} {:>10} {:>7} {:>8} {:>7} {:>8}\n", "seed", "lots", "days", "plan USD",
             "bound USD", "gap %", "bound s", "rows", "columns");
  for (int i = 0; i < o.households; ++i) {
    Season season = o.season;
    season.seed += static_cast<std::uint64_t>(i);
    const planning::Household h = generate(*almanac, season);
    const Clock planning_clock;
    planning::PlanOptions options;
    options.max_schedules = 2'000'000'000;
    options.max_seconds = o.seconds;
    options.elapsed = [&] { return planning_clock.seconds(); };
    options.threads = std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
    const auto plan = planning::make_plan(h, options);
    const Clock bound_clock;
    const auto most = planning::bound(h);
    const double seconds = bound_clock.seconds();
    if (!plan || !most) {
      fmt::print(stderr, "{}\n", (plan ? most.error() : plan.error()).message);
      return 1;
    }
    const double worth = plan->terms.total();
    if (worth > most->value) ++beaten;
    gaps.push_back(100 * (most->value - worth) / std::max(1.0, most->value));
    took.push_back(seconds);
    fmt::print("{:>5} {:>5} {:>5} {:>10.2f} {:>10.2f} {:>7.2f} {:>8.2f} {:>7} {:>8}\n", season.seed, h.lots.size(),
               h.days, worth, most->value, gaps.back(), seconds, most->rows, most->columns);
    if (!o.terms) continue;
    print_terms("plan", plan->terms);
    print_terms("bound", most->terms);
    for (const auto& b : most->binding) fmt::print("      {} {:.0f} USD\n", b.what, b.worth);
  }
  fmt::print("median gap {:.2f} %, median {:.2f} s ({:.0f} loops)\n", middle_of(gaps), middle_of(took),
             in_loops(1000 * middle_of(took)));
  return beaten == 0 ? 0 : 1;
}

}  // namespace stillroom::bench
