#include <fmt/core.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "bench/policies.h"
#include "bench/seasons.h"

namespace stillroom::bench {
namespace {

using Results = std::vector<SeasonResult>;

double median(std::vector<double> values) {
  if (values.empty()) return 0;
  std::sort(values.begin(), values.end());
  const std::size_t half = values.size() / 2;
  return values.size() % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
}

template <class Of>
std::vector<double> each(const Results& results, Of of) {
  std::vector<double> out;
  out.reserve(results.size());
  for (const SeasonResult& r : results) out.push_back(of(r));
  return out;
}

/// How much less of something ours leaves, compared with another: 0.2 = a fifth less.
struct Less {
  double median = 0, worst = 0, pooled = 0;
  int better = 0, worse = 0;  ///< households; the rest are equal to a cent
};

/// `other` gives the worth of what ours is compared with, `top` what loss is counted
/// from.
template <class Other, class Top>
Less less_lost(const Results& results, Other other, Top top) {
  Less out;
  std::vector<double> shares;
  double ours = 0, theirs = 0;
  for (const SeasonResult& r : results) {
    const double lost = top(r) - r.ours, other_lost = top(r) - other(r);
    ours += lost;
    theirs += other_lost;
    shares.push_back(other_lost > 0 ? 1 - lost / other_lost : 0);
    if (r.ours > other(r) + 0.01) ++out.better;
    if (r.ours < other(r) - 0.01) ++out.worse;
  }
  out.median = median(shares);
  out.worst = shares.empty() ? 0 : *std::min_element(shares.begin(), shares.end());
  out.pooled = theirs > 0 ? 1 - ours / theirs : 0;
  return out;
}

double full_of(const SeasonResult& r) { return r.full; }
double ours_of(const SeasonResult& r) { return r.ours; }
double bound_of(const SeasonResult& r) { return r.bound.value_or(r.full); }

Results bounded(const Results& results) {
  Results out;
  std::copy_if(results.begin(), results.end(), std::back_inserter(out),
               [](const SeasonResult& r) { return r.bound.has_value(); });
  return out;
}

std::string percent(double share) { return fmt::format("{:.1f} %", 100 * share); }

template <class Other>
std::string compared(const Results& results, const std::string& name, Other other) {
  const auto saved = each(results, [&](const SeasonResult& r) { return other(r) / r.full; });
  const Less all = less_lost(results, other, full_of), avoidable = less_lost(bounded(results), other, bound_of);
  return fmt::format("{:<18} {:>8} {:>8} {:>9} {:>8} {:>8} {:>9} {:>7} {:>6}\n", name, percent(median(saved)),
                     percent(*std::min_element(saved.begin(), saved.end())), percent(all.median), percent(all.worst),
                     percent(all.pooled), percent(avoidable.median), all.better, all.worse);
}

/// Share of the way from the random order to the bound.
double between(const SeasonResult& r) {
  const double random = r.worth_of("random"), way = bound_of(r) - random;
  return way > 0 ? (r.ours - random) / way : 1;
}

std::string exceptions(const Results& results) {
  std::string out;
  for (const SeasonResult& r : results)
    for (const SeasonResult::Simple& s : r.simple)
      if (r.ours < s.worth - 0.01)
        out += fmt::format("household {} ({} lots, {} days): {} {:.2f}, ours {:.2f}\n", r.number, r.lots, r.days,
                           s.name, s.worth, r.ours);
  return out.empty() ? "On no household does any policy save more than ours.\n" : "Policies that save more:\n" + out;
}

}  // namespace

const SeasonResult::Simple& SeasonResult::best() const {
  const Simple* found = &simple.front();
  for (const Simple& s : simple)
    if (s.name != "random" && s.name != "notebook" && s.worth > found->worth) found = &s;
  return *found;
}

double SeasonResult::worth_of(const std::string& name) const {
  for (const Simple& s : simple)
    if (s.name == name) return s.worth;
  return 0;
}

std::string table(const Results& results) {
  std::size_t plans = 0, faults = 0;
  for (const SeasonResult& r : results) {
    plans += r.plans;
    faults += r.faults;
  }
  std::string out = fmt::format(
      "{} households, {} plans checked, {} faults.\n"
      "Saved: worth of the plan by the full worth. Less lost: how much less of the full worth ours loses than the\n"
      "policy (median, worst household, all together); of what the bound leaves (median). Better, worse: "
      "households.\n\n"
      "{:<18} {:>8} {:>8} {:>9} {:>8} {:>8} {:>9} {:>7} {:>6}\n",
      results.size(), plans, faults, "policy", "saved", "worst", "less lost", "worst", "all", "of bound", "better",
      "worse");
  for (const std::string_view name : Policies::names())
    out += compared(results, std::string(name), [&](const SeasonResult& r) { return r.worth_of(std::string(name)); });
  out += compared(results, "best simple", [](const SeasonResult& r) { return r.best().worth; });
  const auto saved = [&](const char* name, const Results& of, auto worth) {
    if (of.empty()) return;
    const auto shares = each(of, [&](const SeasonResult& r) { return worth(r) / r.full; });
    out += fmt::format("{:<18} {:>8} {:>8}\n", name, percent(median(shares)),
                       percent(*std::min_element(shares.begin(), shares.end())));
  };
  const Results held = bounded(results);
  saved("ours", results, ours_of);
  saved("ours, bounded", held, ours_of);
  saved("bound", held, bound_of);
  if (!held.empty())
    out += fmt::format(
        "\nOn the {} bounded households ours lies {} of the way from the random order to the bound (median).\n",
        held.size(), percent(median(each(held, between))));
  return out + exceptions(results);
}

std::string to_json(const Results& results) {
  nlohmann::json all = nlohmann::json::array();
  for (const SeasonResult& r : results) {
    nlohmann::json simple = nlohmann::json::object();
    for (const SeasonResult::Simple& s : r.simple) simple[s.name] = {{"worth", s.worth}, {"variant", s.variant}};
    all.push_back({{"household", r.number},
                   {"seed", r.season.seed},
                   {"lots", r.lots},
                   {"days", r.days},
                   {"kg", r.kg},
                   {"family", r.season.family},
                   {"full_worth", r.full},
                   {"bound", r.bound ? nlohmann::json(*r.bound) : nlohmann::json()},
                   {"ours", r.ours},
                   {"schedules", r.schedules},
                   {"first_seconds", r.first_seconds},
                   {"simple", simple},
                   {"plans", r.plans},
                   {"faults", r.faults}});
  }
  const Less best = less_lost(
      results, [](const SeasonResult& r) { return r.best().worth; }, full_of);
  const Less notebook = less_lost(
      results, [](const SeasonResult& r) { return r.worth_of("notebook"); }, full_of);
  const auto less = [](const Less& l) {
    return nlohmann::json{{"median", l.median}, {"worst", l.worst}, {"all", l.pooled}, {"worse", l.worse}};
  };
  return nlohmann::json{{"households", all},
                        {"less_lost_than_best_simple", less(best)},
                        {"less_lost_than_notebook", less(notebook)},
                        {"median_way_from_random_to_bound", median(each(bounded(results), between))}}
      .dump(1);
}

}  // namespace stillroom::bench
