#pragma once

#include <algorithm>
#include <atomic>
#include <barrier>
#include <cassert>
#include <cmath>
#include <span>
#include <thread>
#include <utility>
#include <vector>

#include "scheduling/search_types.h"

/// Anytime local search for any Searchable problem (search_types.h): simulated annealing or late acceptance by a fixed
/// number of logical workers. Workers run alone between barriers and exchange at them in a fixed order, so the result
/// depends on seed, schedule budget and number of workers only, not on threads or load. No problem knowledge here.
/// Page docs/science/scheduling.md; held by tests/scheduling/anneal_test.cpp.
namespace stillroom::scheduling {

namespace detail {

/// One logical worker: its problem state, random stream, best so far.
template <Searchable S>
class Worker {
 public:
  Worker(S& state, const SearchOptions& options, std::uint64_t stream)
      : state_(state), options_(options), rng_(stream), moves_(S::kMoveKinds) {
    if (options.acceptance == Acceptance::late_acceptance) history_.assign(std::max(1, options.history), 0);
  }

  void start() {
    const Evaluation first = state_.start(rng_);
    schedules_ += first.schedules;
    current_ = best_guided_ = first.cost + first.guide;
    best_cost_ = first.cost;
    state_.save(best_);
    std::fill(history_.begin(), history_.end(), current_);
  }

  /// Begins the second leg, from where the problem goes on from the best seen by any worker.
  void restart(const typename S::Snapshot& best) {
    if constexpr (Restartable<S>) {
      const Evaluation first = state_.restart(best, rng_);
      schedules_ += first.schedules;
      current_ = best_guided_ = first.cost + first.guide;
      best_cost_ = first.cost;
      state_.save(best_);
      std::fill(history_.begin(), history_.end(), current_);
      leg_begin_ = options_.restart_at;
    }
  }

  /// Searches until `progress_end` of the budget is used up, or something stops the search.
  void run_until(double progress_end) {
    for (long i = 0;; ++i) {
      if (i % options_.poll_every == 0 && !look_around()) return;
      const double progress = progress_now();
      if (progress >= progress_end || best_cost_ <= options_.budget.good_enough) return;
      step(progress);
    }
  }

  /// Goes on from another worker's best.
  void take_over(const Worker& other) {
    best_ = other.best_;
    best_cost_ = other.best_cost_;
    best_guided_ = current_ = other.best_guided_;
    state_.load(best_);
  }

  [[nodiscard]] double best_cost() const { return best_cost_; }
  [[nodiscard]] const typename S::Snapshot& best() const { return best_; }
  [[nodiscard]] bool stopped() const { return stopped_; }
  void add_to(SearchStatistics& total) const {
    total.schedules += schedules_;
    total.evaluations += evaluations_;
    total.cancelled = total.cancelled || stopped_;
    for (std::size_t k = 0; k < moves_.size(); ++k) {
      total.moves[k].proposed += moves_[k].proposed;
      total.moves[k].accepted += moves_[k].accepted;
      total.moves[k].new_best += moves_[k].new_best;
    }
  }

 private:
  /// Clock, cancellation, temperature. False: stop.
  bool look_around() {
    const SearchBudget& budget = options_.budget;
    if (budget.cancelled && budget.cancelled()) stopped_ = true;
    if (budget.seconds > 0) time_share_ = budget.elapsed() / budget.seconds;
    const double hottest = leg_begin_ > 0 ? options_.restart_temperature : options_.start_temperature;
    const double ratio = options_.end_temperature / hottest;
    temperature_ = hottest * std::pow(ratio, std::min(1.0, leg_share(progress_now())));
    return !stopped_;
  }

  [[nodiscard]] double progress_now() const {
    const long limit = options_.budget.schedules;
    return limit > 0 ? std::max(time_share_, static_cast<double>(schedules_) / static_cast<double>(limit))
                     : time_share_;
  }

  /// From 0 to 1 over the present leg.
  [[nodiscard]] double leg_share(double progress) const {
    const double leg_end = leg_begin_ > 0 ? 1 : options_.restart_at;
    return (progress - leg_begin_) / (leg_end - leg_begin_);
  }

  /// The worst cost that will be accepted, drawn before the evaluation so that it can stop early.
  double draw_limit() {
    if (options_.acceptance == Acceptance::late_acceptance)
      return std::max(current_, history_[static_cast<std::size_t>(evaluations_) % history_.size()]);
    return current_ - temperature_ * std::log(1.0 - rng_.uniform());
  }

  void step(double progress) {
    auto& move = moves_[static_cast<std::size_t>(state_.propose(rng_, leg_share(progress)))];
    const double limit = draw_limit();
    const Evaluation e = state_.evaluate(limit);
    schedules_ += e.schedules;
    ++move.proposed;
    if (e.cost + e.guide <= limit) {
      state_.accept();
      ++move.accepted;
      current_ = e.cost + e.guide;
      if (e.cost < best_cost_) {
        best_cost_ = e.cost;
        best_guided_ = current_;
        state_.save(best_);
        ++move.new_best;
      }
    } else {
      state_.reject();
    }
    if (!history_.empty()) history_[static_cast<std::size_t>(evaluations_) % history_.size()] = current_;
    ++evaluations_;
  }

  S& state_;
  const SearchOptions& options_;
  measure::Random rng_;
  typename S::Snapshot best_{};
  double best_cost_ = 0, best_guided_ = 0, current_ = 0, temperature_ = 0, time_share_ = 0;
  double leg_begin_ = 0;  ///< progress
  long schedules_ = 0, evaluations_ = 0;
  bool stopped_ = false;
  std::vector<double> history_;
  std::vector<SearchStatistics::Move> moves_;
};

}  // namespace detail

/// Runs the search on `states` (one per worker, built alike) and returns the best candidate seen.
/// `on_better(snapshot, cost)` is called at barriers, by one thread at a time, whenever the common best has improved.
/// Range: states.size() == options.workers, a budget is set, temperatures > 0; asserts otherwise.
template <Searchable S, class OnBetter>
SearchResult<typename S::Snapshot> anneal(std::span<S> states, const SearchOptions& options, OnBetter&& on_better) {
  assert(!states.empty() && states.size() == static_cast<std::size_t>(options.workers));
  assert(options.budget.schedules > 0 || (options.budget.seconds > 0 && options.budget.elapsed));
  assert(options.start_temperature > 0 && options.restart_temperature > 0 && options.end_temperature > 0);
  assert(options.restart_at > 0 && (options.restart_at == 1 || Restartable<S>));
  using Worker = detail::Worker<S>;
  measure::Random streams(options.seed);
  std::vector<Worker> workers;
  workers.reserve(states.size());
  for (S& state : states) workers.emplace_back(state, options, streams.next());

  SearchResult<typename S::Snapshot> result;
  const int barriers = std::max(1, options.barriers);
  const int last_of_first_leg = static_cast<int>(std::lround(options.restart_at * barriers));
  int round = 0;  // round 0 only builds the first candidates
  std::atomic<bool> done = false;
  const auto meet = [&]() noexcept {
    std::size_t leader = 0;
    for (std::size_t w = 1; w < workers.size(); ++w)
      if (workers[w].best_cost() < workers[leader].best_cost()) leader = w;
    if (workers[leader].best_cost() < result.cost) {
      result.cost = workers[leader].best_cost();
      result.best = workers[leader].best();
      on_better(std::as_const(result.best), result.cost);
    }
    for (const Worker& w : workers) done = done || w.stopped();
    done = done || round == barriers || result.cost <= options.budget.good_enough;
    ++round;
    if (done || round == 1 || round == last_of_first_leg + 1) return;
    for (Worker& w : workers)
      if (w.best_cost() > workers[leader].best_cost()) {
        w.take_over(workers[leader]);
        ++result.statistics.exchanges;
      }
  };
  const auto advance = [&](Worker& w) {
    if (round == 0) return w.start();
    if (round == last_of_first_leg + 1) w.restart(result.best);
    w.run_until(static_cast<double>(round) / barriers);
  };

  const std::size_t threads = std::clamp<std::size_t>(static_cast<std::size_t>(options.threads), 1, workers.size());
  if (threads == 1) {
    while (!done) {
      for (Worker& w : workers) advance(w);
      meet();
    }
  } else {
    std::barrier sync(static_cast<std::ptrdiff_t>(threads), meet);
    const auto work = [&](std::size_t first) {
      while (!done) {
        for (std::size_t w = first; w < workers.size(); w += threads) advance(workers[w]);
        sync.arrive_and_wait();
      }
    };
    std::vector<std::thread> others;
    for (std::size_t t = 1; t < threads; ++t) others.emplace_back(work, t);
    work(0);
    for (std::thread& t : others) t.join();
  }
  result.statistics.moves.resize(S::kMoveKinds);
  for (const Worker& w : workers) w.add_to(result.statistics);
  return result;
}

template <Searchable S>
SearchResult<typename S::Snapshot> anneal(std::span<S> states, const SearchOptions& options) {
  return anneal(states, options, [](const typename S::Snapshot&, double) {});
}

}  // namespace stillroom::scheduling
