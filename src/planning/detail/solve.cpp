#include "planning/detail/solve.h"

#include <memory>

#include "scheduling/anneal.h"

namespace stillroom::planning::detail {
namespace {

/// A search at a fixed address (profiles are journalled by address) that can stand in a vector.
class Worker {
 public:
  using Snapshot = PlanSearch::Snapshot;
  static constexpr int kMoveKinds = PlanSearch::kMoveKinds;
  Worker(const Project& project, JobList first) : search_(std::make_unique<PlanSearch>(project, std::move(first))) {}
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

struct Start {
  JobList list;
  double cost = 0;
  bool warm = false;
};

/// The list with what failed taken out, and every lot that is left over given a chance at the end.
JobList filled(PlanSearch& search, const Project& project, const JobList& list) {
  search.cost_of(list);
  JobList out;
  for (std::size_t i = 0; i < list.size(); ++i)
    if (search.decoder().placed(i).placed || list[i].kind == JobKind::other) out.push_back(list[i]);
  std::vector<double> left, put_by = search.objective().put_by();
  std::vector<Fade> fades;
  for (int lot = 0; lot < static_cast<int>(project.lots.size()); ++lot) {
    left.push_back(project.lots[static_cast<std::size_t>(lot)].source->kg - search.decoder().taken(lot));
    fades.push_back(search.decoder().fade(lot));
  }
  add_jobs(project, {}, left, put_by, fades, out);
  for (int o = 0; o < static_cast<int>(project.other.size()); ++o)
    if (std::none_of(out.begin(), out.end(), [&](const Job& j) { return j.kind == JobKind::other && j.what == o; }))
      out.push_back({.kind = JobKind::other, .what = o});
  return out;
}

/// Starting lists, best first.
std::vector<Start> starts(PlanSearch& search, const Project& project, const JobList& warm, const Effort& effort) {
  std::vector<Start> out;
  const auto add = [&](JobList list, bool is_warm) {
    const double cost = search.cost_of(list);
    out.push_back({std::move(list), cost, is_warm});
  };
  if (!warm.empty()) add(filled(search, project, warm), true);
  for (const Recipe& recipe : recipes()) {
    add(construct(project, recipe), false);
    if (effort.cancelled && effort.cancelled()) break;
    // On a short budget a third of the time must be left for the search.
    if (effort.seconds > 0 && effort.elapsed && effort.elapsed() > effort.seconds / 3) break;
  }
  if (!project.trip.teams.empty()) {
    JobList with_trip =
        std::min_element(out.begin(), out.end(), [](const Start& a, const Start& b) { return a.cost < b.cost; })->list;
    with_trip.insert(with_trip.begin(), Job{.kind = JobKind::trip});
    add(filled(search, project, with_trip), false);
  }
  std::stable_sort(out.begin(), out.end(), [](const Start& a, const Start& b) { return a.cost < b.cost; });
  return out;
}

}  // namespace

Solved solve(const Project& project, const JobList& warm, const Effort& effort, const OnBetter& on_better) {
  PlanSearch probe(project, {});
  const std::vector<Start> first = starts(probe, project, warm, effort);
  Solved out{first.front().list, -first.front().cost, probe.decoder().schedules()};
  if (on_better) on_better(out.list);
  if (effort.schedules <= 0) return out;

  scheduling::SearchOptions options;
  options.seed = effort.seed;
  options.budget.schedules = effort.schedules;
  options.budget.seconds = effort.seconds;
  options.budget.elapsed = effort.elapsed;
  options.budget.cancelled = effort.cancelled;
  options.workers = std::max(1, effort.workers);
  options.threads = std::max(1, effort.threads);
  options.poll_every = 8;
  // A typical lot's worth sets the scale; a good plan in force is only polished.
  const double scale =
      std::max(1.0, std::abs(first.front().cost)) / static_cast<double>(std::max<std::size_t>(4, project.lots.size()));
  options.start_temperature = std::max(0.02, scale * (first.front().warm ? 0.03 : 0.1));
  options.end_temperature = std::max(0.002, options.start_temperature / 200);

  std::vector<Worker> states;
  for (int w = 0; w < options.workers; ++w)
    states.emplace_back(project, first[std::min(static_cast<std::size_t>(w), first.size() - 1)].list);
  double best = first.front().cost;
  const auto better = [&](const JobList& list, double cost) {
    if (on_better && cost < best - 1e-9) on_better(list);
    best = std::min(best, cost);
  };
  const auto found = scheduling::anneal(std::span<Worker>(states), options, better);
  out.schedules += found.statistics.schedules;
  if (found.cost < first.front().cost) {
    out.list = found.best;
    out.worth = -found.cost;
  }
  return out;
}

}  // namespace stillroom::planning::detail
