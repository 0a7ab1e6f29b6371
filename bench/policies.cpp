#include "bench/policies.h"

#include <fmt/core.h>

#include <stdexcept>

#include "measure/id.h"
#include "planning/detail/dispatch.h"
#include "planning/detail/publish.h"

namespace stillroom::bench {
namespace {

using planning::detail::Rule;
using planning::detail::Turn;

struct Named {
  std::string_view name;
  Turn turn;
  bool cold = false;
};

constexpr Named kOrdered[] = {
    {"first come", Turn::first_come},      {"spoils first", Turn::spoils_first},
    {"least laxity", Turn::least_laxity},  {"dearest lot", Turn::dearest_lot},
    {"dearest kg", Turn::dearest_kg},      {"best paid hour", Turn::paid_hour},
    {"most lost", Turn::lost_per_hour},    {"paid over fading", Turn::paid_over_fading},
    {"cold first", Turn::paid_hour, true},
};
constexpr std::string_view kNotebook = "notebook", kRandom = "random";

// What an hour counts beside the household's own price of effort, when ways are compared: nothing, about half of what
// an hour of canning brings, about all of it. In a glut a dear hour chooses the quick ways.
constexpr double kHourPrices[] = {0, 6, 15, 30};
constexpr int kOrdersToChooseBy = 4;

std::vector<Rule> variants(const Named& policy) {
  std::vector<Rule> out;
  for (const bool cold : {false, true}) {
    if (policy.cold && !cold) continue;
    for (const bool daily : {false, true})
      for (const double price : kHourPrices)
        for (const bool work_first : {true, false})
          out.push_back({.turn = policy.turn,
                         .hour_price = price,
                         .day_by_day = daily,
                         .hold_cold = cold,
                         .work_first = work_first});
  }
  return out;
}

std::vector<Rule> notebook() {
  std::vector<Rule> out;
  for (const bool work_first : {true, false})
    out.push_back({.turn = Turn::worst_looking, .day_by_day = true, .work_first = work_first, .one_lot_a_day = true});
  return out;
}

std::string in_words(const Rule& rule) {
  return fmt::format("{}{}, other work {}, an hour {} USD dearer", rule.hold_cold ? "all held cold, " : "",
                     rule.day_by_day ? "day by day" : "one list", rule.work_first ? "first" : "last", rule.hour_price);
}

}  // namespace

struct Policies::Kitchen {
  explicit Kitchen(const planning::Household& h) : project(h), search(project), dispatcher(search) {}

  double worth(const Rule& rule, std::span<const double> number = {}) {
    dispatcher.run(rule, number);
    return search.objective().terms().total();
  }
  [[nodiscard]] planning::Plan plan() const {
    return planning::detail::publish(search.schedule(), search.objective().terms());
  }

  PolicyResult best_of(const std::vector<Rule>& rules) {
    PolicyResult out;
    const Rule* best = nullptr;
    for (const Rule& rule : rules) {
      const double w = worth(rule);
      if (best != nullptr && w <= out.worth) continue;
      best = &rule;
      out.worth = w;
    }
    out.variant = in_words(*best);
    worth(*best);
    out.plans.push_back(plan());
    return out;
  }

  PolicyResult random(std::uint64_t seed, int orders) {
    measure::Random rng(seed);
    std::vector<double> number(project.lots.size());
    const auto shuffle = [&] {
      for (double& n : number) n = rng.uniform();
    };
    Rule best{.turn = Turn::by_number};
    double most = 0;
    bool first = true;
    for (const double price : kHourPrices)
      for (const bool work_first : {true, false}) {
        const Rule rule{.turn = Turn::by_number, .hour_price = price, .work_first = work_first};
        double sum = 0;
        for (int i = 0; i < kOrdersToChooseBy; ++i) {
          shuffle();
          sum += worth(rule, number);
        }
        if (!first && sum <= most) continue;
        first = false;
        most = sum;
        best = rule;
      }
    PolicyResult out;
    for (int i = 0; i < orders; ++i) {
      shuffle();
      out.worth += worth(best, number) / orders;
      out.plans.push_back(plan());
    }
    out.variant = in_words(best);
    return out;
  }

  planning::detail::Project project;
  planning::detail::PlanSearch search;
  planning::detail::Dispatcher dispatcher;
};

Policies::Policies(const planning::Household& h) : kitchen_(std::make_unique<Kitchen>(h)) {}
Policies::~Policies() = default;

const std::vector<std::string_view>& Policies::names() {
  static const std::vector<std::string_view> all = [] {
    std::vector<std::string_view> out;
    for (const Named& policy : kOrdered) out.push_back(policy.name);
    out.insert(out.end(), {kRandom, kNotebook});
    return out;
  }();
  return all;
}

PolicyResult Policies::run(std::string_view name, std::uint64_t seed, int orders) {
  if (name == kRandom) return kitchen_->random(seed, orders);
  if (name == kNotebook) return kitchen_->best_of(notebook());
  for (const Named& policy : kOrdered)
    if (policy.name == name) return kitchen_->best_of(variants(policy));
  throw std::invalid_argument("no policy of that name");
}

}  // namespace stillroom::bench
