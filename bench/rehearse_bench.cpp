#include "rehearse_bench.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <chrono>
#include <cmath>

#include "generate.h"
#include "planning/rehearse.h"

namespace stillroom::bench {
namespace {

struct RehearseWish {
  Season season;
  int households = 3;  ///< seeds season.seed, +1, ...
  long budget = 4000;  ///< schedules per worker for the plan in hand
  planning::RehearseOptions rehearse;
  int fresh = 200;  ///< seasons of another seed to hold the forecast against
};

template <class T>
bool read_number(const std::string& text, T& value) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc{} && end == text.data() + text.size();
}

bool parse_rehearse(const std::vector<std::string>& arguments, RehearseWish& o) {
  for (std::size_t i = 0; i < arguments.size(); ++i) {
    const std::string& word = arguments[i];
    if (word == "--no-replan") {
      o.rehearse.replan = false;
      continue;
    }
    if (i + 1 == arguments.size()) return false;
    const std::string& value = arguments[++i];
    bool fine = false;
    if (word == "--lots") fine = read_number(value, o.season.lots) && o.season.lots > 0;
    if (word == "--days") fine = read_number(value, o.season.days) && o.season.days > 0 && o.season.days <= 90;
    if (word == "--seed") fine = read_number(value, o.season.seed);
    if (word == "--households") fine = read_number(value, o.households) && o.households > 0;
    if (word == "--budget") fine = read_number(value, o.budget) && o.budget > 0;
    if (word == "--seasons") fine = read_number(value, o.rehearse.seasons) && o.rehearse.seasons > 0;
    if (word == "--fresh") fine = read_number(value, o.fresh) && o.fresh >= 0;
    if (word == "--threads") fine = read_number(value, o.rehearse.threads) && o.rehearse.threads > 0;
    if (word == "--steps") fine = read_number(value, o.rehearse.steps) && o.rehearse.steps >= 0;
    if (!fine) return false;
  }
  return true;
}

/// Lots by the chance they were given.
struct Bin {
  int lots = 0;
  double given = 0, came = 0, variance = 0;  ///< sums over lots; of the difference of the two
};
using Bins = std::array<Bin, 10>;

void hold_against(const planning::Rehearsal& forecast, const planning::Rehearsal& fresh, Bins& bins) {
  for (std::size_t l = 0; l < forecast.lots.size(); ++l) {
    const double p = forecast.lots[l].saved;
    Bin& bin = bins[std::min<std::size_t>(9, static_cast<std::size_t>(p * 10))];
    ++bin.lots;
    bin.given += p;
    bin.came += fresh.lots[l].saved;
    bin.variance += std::pow(forecast.lots[l].saved_error, 2) + std::pow(fresh.lots[l].saved_error, 2);
  }
}

bool print_bins(const Bins& bins, int fresh) {
  fmt::print("\nLots by the chance a rehearsal gave them, and how often they were saved in {} fresh seasons\n", fresh);
  fmt::print("{:>12} {:>5} {:>8} {:>8} {:>10}\n", "chance", "lots", "given %", "came %", "luck +- %");
  bool fine = true;
  for (std::size_t b = 0; b < bins.size(); ++b) {
    const Bin& bin = bins[b];
    if (bin.lots == 0) continue;
    const double given = bin.given / bin.lots, came = bin.came / bin.lots, luck = std::sqrt(bin.variance) / bin.lots;
    fmt::print("{:>8}-{:<3} {:>5} {:>8.1f} {:>8.1f} {:>10.1f}\n", b * 10, b * 10 + 10, bin.lots, 100 * given,
               100 * came, 200 * luck);
    // Lots are sorted by what they were given, which draws the ends towards the middle a little: 5 % more is allowed.
    fine = fine && std::abs(given - came) <= 3 * luck + 0.05;
  }
  return fine;
}

}  // namespace

int rehearse(const std::vector<std::string>& arguments) {
  RehearseWish o;
  if (!parse_rehearse(arguments, o)) {
    fmt::print(stderr,
               "Usage: stillroom-bench rehearse [--lots 40] [--days 21] [--seed 1] [--households 3] [--budget 4000]\n"
               "       [--seasons 1000] [--fresh 200] [--threads 2] [--steps 48] [--no-replan]\n");
    return 2;
  }
  const auto almanac = almanac::load_almanac();
  if (!almanac) {
    fmt::print(stderr, "{}\n", almanac.error().message);
    return 1;
  }
  Bins bins{};
  fmt::print("{:>5} {:>5} {:>5} {:>9} {:>9} {:>6} {:>9} {:>9} {:>8} {:>9}\n", "seed", "lots", "days", "plan USD",
             "mean USD", "+-", "10 %", "90 %", "lost kg", "per s");
  for (int i = 0; i < o.households; ++i) {
    Season season = o.season;
    season.seed += static_cast<std::uint64_t>(i);
    const planning::Household h = generate(*almanac, season);
    planning::PlanOptions planning;
    planning.max_schedules = o.budget;
    const auto plan = planning::make_plan(h, planning);
    if (!plan) {
      fmt::print(stderr, "{}\n", plan.error().message);
      return 1;
    }
    const auto start = std::chrono::steady_clock::now();
    const auto forecast = planning::rehearse(h, *plan, o.rehearse);
    const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    if (!forecast) return 1;
    fmt::print("{:>5} {:>5} {:>5} {:>9.0f} {:>9.0f} {:>6.1f} {:>9.0f} {:>9.0f} {:>8.1f} {:>9.1f}\n", season.seed,
               h.lots.size(), h.days, forecast->planned, forecast->value, forecast->value_error, forecast->value_low,
               forecast->value_high, forecast->kg_lost, forecast->seasons / seconds);
    std::fflush(stdout);
    if (o.fresh == 0) continue;
    planning::RehearseOptions fresh = o.rehearse;
    fresh.seed += 1'000'003;
    fresh.seasons = o.fresh;
    const auto came = planning::rehearse(h, *plan, fresh);
    if (!came) return 1;
    hold_against(*forecast, *came, bins);
  }
  return o.fresh == 0 || print_bins(bins, o.fresh) ? 0 : 1;
}

}  // namespace stillroom::bench
