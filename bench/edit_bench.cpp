#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <chrono>
#include <cmath>
#include <functional>

#include "calibration.h"
#include "commands.h"
#include "generate.h"
#include "planning/plan.h"

namespace stillroom::bench {
namespace {

struct Options {
  Season season{.lots = 60};
  int households = 5;
  double first = 1, replan = 0.15, fresh = 1;  ///< seconds
};

template <class T>
bool read(const std::string& text, T& value) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  return error == std::errc{} && end == text.data() + text.size();
}

bool parse(const std::vector<std::string>& arguments, Options& o) {
  for (std::size_t i = 0; i + 1 < arguments.size(); i += 2) {
    const std::string &word = arguments[i], &value = arguments[i + 1];
    bool fine = false;
    if (word == "--lots") fine = read(value, o.season.lots) && o.season.lots > 1;
    if (word == "--days") fine = read(value, o.season.days) && o.season.days > 0 && o.season.days <= 90;
    if (word == "--seed") fine = read(value, o.season.seed);
    if (word == "--households") fine = read(value, o.households) && o.households > 0;
    if (word == "--replan") fine = read(value, o.replan) && o.replan > 0;
    if (word == "--fresh") fine = read(value, o.fresh) && o.fresh > 0;
    if (!fine) return false;
  }
  return arguments.size() % 2 == 0;
}

/// One small thing that a person says of an ordinary day.
struct Edit {
  const char* name;
  std::function<void(planning::Household&)> change;
};

planning::Lot* first_in_hand(planning::Household& h) {
  const auto it = std::find_if(h.lots.begin(), h.lots.end(),
                               [&](const auto& l) { return l.model && l.pick_by == 0 && l.ready <= h.now; });
  return it == h.lots.end() ? nullptr : &*it;
}

const std::vector<Edit>& edits() {
  static const std::vector<Edit> all{
      {"nothing has changed", [](planning::Household&) {}},
      {"a lot weighs a tenth more",
       [](planning::Household& h) {
         if (auto* lot = first_in_hand(h)) lot->kg *= 1.1;
       }},
      {"a lot is three days older than thought",
       [](planning::Household& h) {
         auto* lot = first_in_hand(h);
         if (lot == nullptr) return;
         const auto at = measure::Temperature::celsius(h.places.front().temp_c);
         lot->belief = keeping::advance(*lot->model, lot->belief, measure::days(3), at);
       }},
      {"two kilos more of a crop come in",
       [](planning::Household& h) {
         auto* lot = first_in_hand(h);
         if (lot == nullptr) return;
         planning::Lot more = *lot;
         more.id += "+";
         more.kg = 2;
         h.lots.push_back(more);
       }},
      {"nobody can work tomorrow afternoon",
       [](planning::Household& h) {
         const planning::Minute from = 1440 + 13 * 60, to = 1440 + 18 * 60;
         for (planning::Hand& hand : h.hands) {
           std::vector<planning::Span> left;
           for (const planning::Span& s : hand.free) {
             if (s.from < from) left.push_back({s.from, std::min(s.to, from)});
             if (s.to > to) left.push_back({std::max(s.from, to), s.to});
           }
           hand.free = left;
         }
       }},
  };
  return all;
}

planning::Plan plan_for(const planning::Household& h, double seconds, double& took,
                        std::shared_ptr<const planning::Plan> from = nullptr) {
  const auto start = std::chrono::steady_clock::now();
  planning::PlanOptions options;
  options.max_schedules = 2'000'000'000;
  options.max_seconds = seconds;
  options.start_from = std::move(from);
  options.elapsed = [start] { return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count(); };
  auto plan = planning::make_plan(h, options);
  took = options.elapsed();
  if (!plan) {
    fmt::print(stderr, "{}\n", plan.error().message);
    return {};
  }
  return std::move(*plan);
}

/// Stages of the next two days that are in both plans (same lot, route, stage, within half an hour), and all of them.
struct Kept {
  int kept = 0, all = 0;
};
Kept near_term_kept(const planning::Household& h, const planning::Plan& before, const planning::Plan& after) {
  const auto later = planning::in_force(after, 0);
  Kept out;
  for (const auto& was : planning::in_force(before, 0)) {
    if (was.start < h.now || was.start >= h.now + 2 * 1440) continue;
    ++out.all;
    out.kept += std::any_of(later.begin(), later.end(), [&](const planning::PlacedBefore& is) {
      return is.lot == was.lot && is.route == was.route && is.stage == was.stage &&
             std::abs(is.start - was.start) <= 30;
    });
  }
  return out;
}

}  // namespace

int edits(const std::vector<std::string>& arguments) {
  Options o;
  if (!parse(arguments, o)) {
    fmt::print(
        stderr,
        "Usage: stillroom-bench edits [--lots 60] [--days 21] [--seed 1] [--households 5] [--replan 0.15] [--fresh 1]\n"
        "After one small change, replans from the plan in force and compares with a search from nothing: worth\n"
        "without what change costs, and the share of the next two days' stages that stay.\n");
    return 2;
  }
  const auto almanac = almanac::load_almanac();
  if (!almanac) {
    fmt::print(stderr, "{}\n", almanac.error().message);
    return 1;
  }
  std::size_t faults = 0;
  fmt::print("{:<40} {:>5} {:>9} {:>6} {:>11} {:>7} {:>10} {:>11}\n", "edit", "seed", "replan ms", "loops",
             "replan USD", "gap %", "stay here", "stay fresh");
  for (int i = 0; i < o.households; ++i) {
    Season season = o.season;
    season.seed += static_cast<std::uint64_t>(i);
    const planning::Household base = generate(*almanac, season);
    double took = 0;
    const auto kept = std::make_shared<const planning::Plan>(plan_for(base, o.first, took));
    const planning::Plan& before = *kept;
    for (const Edit& edit : edits()) {
      planning::Household changed = base;
      edit.change(changed);
      const planning::Plan fresh = plan_for(changed, o.fresh, took);
      changed.in_force = planning::in_force(before, 0);
      const planning::Plan again = plan_for(changed, o.replan, took, kept);
      faults += planning::check_plan(changed, again).size();
      const double worth = again.terms.total() + again.terms.change;
      const Kept here = near_term_kept(changed, before, again), from_nothing = near_term_kept(changed, before, fresh);
      fmt::print("{:<40} {:>5} {:>9.0f} {:>6.1f} {:>11.2f} {:>7.2f} {:>6}/{:<3} {:>7}/{:<3}\n", edit.name, season.seed,
                 took * 1000, in_loops(took * 1000), worth,
                 100 * (fresh.terms.total() - worth) / std::max(1.0, std::abs(fresh.terms.total())), here.kept,
                 here.all, from_nothing.kept, from_nothing.all);
    }
  }
  return faults == 0 ? 0 : 1;
}

}  // namespace stillroom::bench
