#include "bench/seasons.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <chrono>
#include <thread>

#include "bench/policies.h"
#include "bench/reference.h"
#include "planning/bound.h"

namespace stillroom::bench {
namespace {

struct Options {
  int households = 100;
  std::uint64_t seed = 1;
  double seconds = 1;
  long budget = 0;  ///< schedules per worker instead of seconds
  int orders = 100;
  int bound_lots = 60;  ///< households of more lots are not bounded: that takes a minute for 200
  bool json = false;
};

template <class T>
bool read(const std::string& text, T& value) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc{} && end == text.data() + text.size();
}

bool parse(const std::vector<std::string>& arguments, Options& o) {
  for (std::size_t i = 0; i < arguments.size(); ++i) {
    const std::string& word = arguments[i];
    if (word == "--json") {
      o.json = true;
      continue;
    }
    if (i + 1 == arguments.size()) return false;
    const std::string& value = arguments[++i];
    bool fine = false;
    if (word == "--households") fine = read(value, o.households) && o.households > 0;
    if (word == "--seed") fine = read(value, o.seed);
    if (word == "--seconds") fine = read(value, o.seconds) && o.seconds > 0;
    if (word == "--budget") fine = read(value, o.budget) && o.budget > 0;
    if (word == "--orders") fine = read(value, o.orders) && o.orders > 0;
    if (word == "--bound-lots") fine = read(value, o.bound_lots) && o.bound_lots >= 0;
    if (!fine) return false;
  }
  return true;
}

class Comparison {
 public:
  Comparison(const planning::Household& h, const Options& o, SeasonResult& out) : h_(h), o_(o), out_(out) {}

  void run() {
    out_.lots = static_cast<int>(h_.lots.size());
    out_.days = h_.days;
    for (const planning::Lot& lot : h_.lots) out_.kg += lot.kg;
    out_.full = full_worth(h_);
    if (out_.lots <= o_.bound_lots) {
      if (const auto bound = planning::bound(h_)) out_.bound = bound->value;
    }
    simple();
    ours();
  }

 private:
  void check(const planning::Plan& plan, std::string_view whose) {
    ++out_.plans;
    for (const std::string& fault : planning::check_plan(h_, plan)) {
      ++out_.faults;
      fmt::print(stderr, "  {}: {}\n", whose, fault);
    }
  }

  void simple() {
    Policies policies(h_);
    for (const std::string_view name : Policies::names()) {
      const PolicyResult result = policies.run(name, out_.season.seed, o_.orders);
      for (const planning::Plan& plan : result.plans) check(plan, name);
      out_.simple.push_back({std::string(name), result.variant, result.worth});
    }
  }

  void ours() {
    const auto start = std::chrono::steady_clock::now();
    const auto elapsed = [&] {
      return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    };
    planning::PlanOptions options;
    options.max_schedules = o_.budget > 0 ? o_.budget : 2'000'000'000;
    if (o_.budget <= 0) options.max_seconds = o_.seconds;
    options.elapsed = elapsed;
    options.threads = std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
    options.on_better = [&](const planning::Plan&) {
      if (out_.first_seconds == 0) out_.first_seconds = elapsed();
    };
    const auto plan = planning::make_plan(h_, options);
    if (!plan) {
      fmt::print(stderr, "  ours: {}\n", plan.error().message);
      ++out_.faults;
      return;
    }
    out_.ours = plan->terms.total();
    out_.schedules = plan->schedules;
    check(*plan, "ours");
  }

  const planning::Household& h_;
  const Options& o_;
  SeasonResult& out_;
};

}  // namespace

int seasons(const std::vector<std::string>& arguments) {
  Options o;
  if (!parse(arguments, o)) {
    fmt::print(stderr,
               "Usage: stillroom-bench seasons [--households 100] [--seed 1] [--seconds 1 | --budget SCHEDULES]\n"
               "       [--orders 100] [--bound-lots 60] [--json]\n"
               "Generated households of 10 to 200 lots: our plan against simple policies and the bound. --orders is\n"
               "how many random orders are averaged; households of up to --bound-lots lots are bounded, which takes a\n"
               "second for 50 lots and a minute for 200. With --json the table goes to stderr.\n");
    return 2;
  }
  const auto almanac = almanac::load_almanac();
  if (!almanac) {
    fmt::print(stderr, "{}\n", almanac.error().message);
    return 1;
  }
  std::vector<SeasonResult> results;
  std::size_t faults = 0;
  for (int i = 0; i < o.households; ++i) {
    SeasonResult& r = results.emplace_back();
    r.number = i;
    r.season = drawn_season(o.seed, i);
    Comparison(generate(*almanac, r.season), o, r).run();
    faults += r.faults;
    fmt::print(stderr, "{:>3} of {}: {:>3} lots, {:>2} days, ours {:.2f}, best simple {:.2f} ({}){}\n", i + 1,
               o.households, r.lots, r.days, r.ours, r.best().worth, r.best().name,
               r.bound ? fmt::format(", bound {:.2f}", *r.bound) : "");
  }
  fmt::print(o.json ? stderr : stdout, "{}\n", table(results));
  if (o.json) fmt::print("{}\n", to_json(results));
  return faults == 0 ? 0 : 1;
}

}  // namespace stillroom::bench
