#include "planning/detail/solve.h"

#include <memory>

#include "planning/detail/dispatch.h"
#include "scheduling/anneal.h"

namespace stillroom::planning::detail {
namespace {

/// A search at a fixed address (profiles are journalled by address) that can stand in a vector.
class Worker {
 public:
  using Snapshot = PlanSearch::Snapshot;
  static constexpr int kMoveKinds = PlanSearch::kMoveKinds;
  Worker(const Project& project, const Snapshot& first) : search_(std::make_unique<PlanSearch>(project)) {
    search_->load(first);
  }
  scheduling::Evaluation start(measure::Random& rng) { return search_->start(rng); }
  int propose(measure::Random& rng, double progress) { return search_->propose(rng, progress); }
  scheduling::Evaluation evaluate(double limit) { return search_->evaluate(limit); }
  void accept() { search_->accept(); }
  void reject() { search_->reject(); }
  void save(Snapshot& out) const { search_->save(out); }
  void load(const Snapshot& in) { search_->load(in); }

 private:
  std::unique_ptr<PlanSearch> search_;
};

/// Rules of thumb to start from. Chosen one after another on generated households (stillroom-bench seasons), each the
/// one that lifts the best start most: the first alone brings 95 % of the best of 96 rules, all twelve over 99 %.
constexpr Rule kRules[] = {
    {.turn = Turn::dearest_kg, .hour_price = 6, .work_first = false},
    {.turn = Turn::spoils_first, .hold_cold = true},
    {.turn = Turn::dearest_lot, .hour_price = 15, .work_first = false},
    {.turn = Turn::spoils_first, .hour_price = 6, .work_first = false},
    {.turn = Turn::dearest_kg, .hold_cold = true},
    {.turn = Turn::dearest_kg, .hour_price = 15, .work_first = false},
    {.turn = Turn::dearest_kg, .work_first = false},
    {.turn = Turn::dearest_lot},
    {.turn = Turn::least_laxity, .hour_price = 15, .work_first = false},
    {.turn = Turn::least_laxity, .work_first = false},
    {.turn = Turn::least_laxity, .hold_cold = true},
    {.turn = Turn::dearest_lot, .hour_price = 6, .hold_cold = true, .work_first = false},
};

/// A household of a few lots is searched several times, hotter and from different starts: one run gets stuck where
/// nothing near is better. Measured against an integer program (tests/planning/oracle_test.cpp).
constexpr std::size_t kSmall = 8;  // lots
constexpr int kRunsWhenSmall = 4;

struct Start {
  Schedule::Snapshot schedule;
  double cost = 0;
  bool warm = false;
};

/// Starting schedules, best first.
std::vector<Start> starts(PlanSearch& search, const PinnedList& warm, const Effort& effort) {
  std::vector<Start> out;
  measure::Random rng(effort.seed);
  const auto add = [&](double cost, bool is_warm) {
    out.push_back({{}, cost, is_warm});
    search.save(out.back().schedule);
  };
  if (!warm.empty()) {
    search.fill_with(warm);
    add(search.fill_up(rng), true);
  }
  Dispatcher dispatcher(search);
  for (const Rule& rule : kRules) {
    if (effort.only_warm && !out.empty()) break;
    add(dispatcher.run(rule), false);
    if (effort.cancelled && effort.cancelled()) break;
    // On a short budget a third of the time must be left for the search.
    if (effort.seconds > 0 && effort.elapsed && effort.elapsed() > effort.seconds / 3) break;
  }
  std::stable_sort(out.begin(), out.end(), [](const Start& a, const Start& b) { return a.cost < b.cost; });
  return out;
}

}  // namespace

Solved solve(const Project& project, const PinnedList& warm, const Effort& effort, const OnBetter& on_better) {
  PlanSearch probe(project);
  const std::vector<Start> first = starts(probe, warm, effort);
  Solved out{first.front().schedule, 0, probe.schedules()};
  if (on_better) on_better(out.best);
  const auto finish = [&] {
    probe.load(out.best);
    out.worth = probe.objective().terms().total();
    return out;
  };
  if (effort.schedules <= 0) return finish();

  scheduling::SearchOptions options;
  options.budget.cancelled = effort.cancelled;
  options.workers = std::max(1, effort.workers);
  options.threads = std::max(1, effort.threads);
  options.poll_every = 8;
  // A typical lot's worth sets the scale; a good plan in force is only polished.
  const double scale =
      std::max(1.0, std::abs(first.front().cost)) / static_cast<double>(std::max<std::size_t>(4, project.lots.size()));
  const bool small = project.lots.size() <= kSmall;
  options.start_temperature = std::max(0.02, scale * (first.front().warm ? 0.03 : small ? 0.3 : 0.1));
  options.end_temperature = std::max(0.002, options.start_temperature / 200);

  double best = first.front().cost;
  const auto better = [&](const Schedule::Snapshot& schedule, double cost) {
    if (cost >= best - 1e-9) return;
    best = cost;
    out.best = schedule;
    if (on_better) on_better(schedule);
  };
  const int runs = first.front().warm || !small ? 1 : kRunsWhenSmall;
  const double began = effort.seconds > 0 ? effort.elapsed() : 0;
  for (int run = 0; run < runs; ++run) {
    options.seed = effort.seed + static_cast<std::uint64_t>(run) * 7919;
    options.budget.schedules = std::max(1L, effort.schedules / runs);
    if (effort.seconds > 0) {
      options.budget.seconds = std::max(1e-3, effort.seconds - began) / runs;
      options.budget.elapsed = [&effort, from = began + run * options.budget.seconds] {
        return effort.elapsed() - from;
      };
    }
    std::vector<Worker> states;
    for (int w = 0; w < options.workers; ++w)
      states.emplace_back(project, first[static_cast<std::size_t>(run * options.workers + w) % first.size()].schedule);
    const auto found = scheduling::anneal(std::span<Worker>(states), options, better);
    out.schedules += found.statistics.schedules;
    if (found.statistics.cancelled) break;
  }
  return finish();
}

}  // namespace stillroom::planning::detail
