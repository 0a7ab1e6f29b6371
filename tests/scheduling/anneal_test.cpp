#include "scheduling/anneal.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <utility>
#include <vector>

/// The driver on a problem with a known answer: one machine, minimise the weighted sum of completion times. Smith's
/// rule (W. E. Smith, Naval Research Logistics Quarterly 3 (1956) 59-66): sorting by weight / time is optimal.
namespace {
using stillroom::measure::Random;
using stillroom::scheduling::Acceptance;
using stillroom::scheduling::anneal;
using stillroom::scheduling::Evaluation;
using stillroom::scheduling::SearchOptions;

struct Jobs {
  std::vector<int> time, weight;
  explicit Jobs(int n) : time(n), weight(n) {
    Random rng(5);
    for (int j = 0; j < n; ++j) {
      time[j] = 1 + static_cast<int>(rng.below(20));
      weight[j] = 1 + static_cast<int>(rng.below(20));
    }
  }
  [[nodiscard]] double cost(const std::vector<int>& order) const {
    double clock = 0, sum = 0;
    for (const int j : order) sum += weight[j] * (clock += time[j]);
    return sum;
  }
  [[nodiscard]] std::vector<int> best_order() const {
    std::vector<int> order(time.size());
    std::iota(order.begin(), order.end(), 0);
    std::sort(order.begin(), order.end(), [&](int a, int b) { return weight[a] * time[b] > weight[b] * time[a]; });
    return order;
  }
  [[nodiscard]] double optimum() const { return cost(best_order()); }
};

class Sequence {
 public:
  static constexpr int kMoveKinds = 2;
  using Snapshot = std::vector<int>;
  explicit Sequence(const Jobs& jobs) : jobs_(&jobs), order_(jobs.time.size()) {}

  Evaluation start(Random& rng) {
    std::iota(order_.begin(), order_.end(), 0);
    for (std::size_t i = order_.size(); i > 1; --i)
      std::swap(order_[i - 1], order_[rng.below(static_cast<unsigned>(i))]);
    candidate_ = order_;
    return {jobs_->cost(order_), 1};
  }
  int propose(Random& rng, double) {
    const auto n = static_cast<unsigned>(order_.size());
    const unsigned i = rng.below(n), j = rng.below(n);
    if (rng.below(2) == 0) {
      std::swap(candidate_[i], candidate_[j]);
      return 0;
    }
    std::rotate(candidate_.begin() + std::min(i, j), candidate_.begin() + std::min(i, j) + 1,
                candidate_.begin() + std::max(i, j) + 1);
    return 1;
  }
  Evaluation evaluate(double) { return {jobs_->cost(candidate_), 1}; }
  void accept() { order_ = candidate_; }
  void reject() { candidate_ = order_; }
  void save(Snapshot& out) const { out = order_; }
  void load(const Snapshot& in) { candidate_ = order_ = in; }

 private:
  const Jobs* jobs_;
  std::vector<int> order_, candidate_;
};

/// Begins its second leg with the order it is told to.
class TwoLegs : public Sequence {
 public:
  TwoLegs(const Jobs& jobs, std::vector<int> second) : Sequence(jobs), jobs_(&jobs), second_(std::move(second)) {}
  Evaluation restart(const Snapshot& best, Random&) {
    seen_.push_back(best);
    load(second_);
    return {jobs_->cost(second_), 1};
  }
  [[nodiscard]] const std::vector<Snapshot>& seen() const { return seen_; }

 private:
  const Jobs* jobs_;
  Snapshot second_;
  std::vector<Snapshot> seen_;
};

SearchOptions options_for(long schedules) {
  SearchOptions o;
  o.budget.schedules = schedules;
  o.start_temperature = 300;
  o.end_temperature = 0.5;
  return o;
}

auto run(const Jobs& jobs, const SearchOptions& o) {
  std::vector<Sequence> states(static_cast<std::size_t>(o.workers), Sequence(jobs));
  return anneal(std::span(states), o);
}

TEST(Anneal, FindsTheKnownOptimum) {
  const Jobs jobs(25);
  for (const auto acceptance : {Acceptance::annealing, Acceptance::late_acceptance}) {
    SearchOptions o = options_for(60000);
    o.acceptance = acceptance;
    const auto result = run(jobs, o);
    EXPECT_EQ(result.cost, jobs.optimum());
    EXPECT_EQ(jobs.cost(result.best), result.cost);
  }
}

TEST(Anneal, SameSeedAndBudgetGiveTheSameResultOnAnyThreadCount) {
  const Jobs jobs(60);
  for (const int workers : {1, 2, 3}) {
    SearchOptions o = options_for(3000);
    o.workers = workers;
    o.threads = 1;
    const auto one = run(jobs, o);
    o.threads = 2;
    const auto two = run(jobs, o);
    EXPECT_EQ(one.best, two.best);
    EXPECT_EQ(one.cost, two.cost);
    EXPECT_EQ(one.statistics.exchanges, two.statistics.exchanges);
    EXPECT_EQ(one.statistics.schedules, two.statistics.schedules);
    o.seed = 2;
    EXPECT_NE(run(jobs, o).best, one.best);
  }
}

// The second leg is too short to come back from the worst order.
TEST(Anneal, KeepsTheBestOfTheFirstLegIfTheSecondIsWorse) {
  const Jobs jobs(60);
  std::vector<int> worst = jobs.best_order();
  std::reverse(worst.begin(), worst.end());
  SearchOptions o = options_for(4000);
  o.restart_at = 0.9375;
  o.restart_temperature = 10;
  std::vector<std::vector<int>> answers;
  for (const int threads : {1, 2}) {
    o.threads = threads;
    std::vector<TwoLegs> states(2, TwoLegs(jobs, worst));
    const auto result = anneal(std::span(states), o);
    EXPECT_EQ(result.statistics.schedules, 8000);
    for (const TwoLegs& s : states) {
      ASSERT_EQ(s.seen().size(), 1U);
      EXPECT_EQ(s.seen().front(), result.best);
    }
    answers.push_back(result.best);
  }
  EXPECT_EQ(answers[0], answers[1]);
}

TEST(Anneal, BeginsTheSecondLegWhereTheProblemSays) {
  const Jobs jobs(60);
  SearchOptions o = options_for(4000);
  o.restart_at = 0.75;
  o.restart_temperature = 0.5;
  std::vector<TwoLegs> states(2, TwoLegs(jobs, jobs.best_order()));
  const auto result = anneal(std::span(states), o);
  EXPECT_GT(jobs.cost(states.front().seen().front()), jobs.optimum());
  EXPECT_EQ(result.cost, jobs.optimum());
}

TEST(Anneal, SpendsTheScheduleBudgetAndCountsMoves) {
  const Jobs jobs(30);
  const auto result = run(jobs, options_for(1000));
  EXPECT_EQ(result.statistics.schedules, 2000);  // two workers, one schedule per evaluation
  ASSERT_EQ(result.statistics.moves.size(), 2U);
  long proposed = 0, accepted = 0;
  for (const auto& m : result.statistics.moves) {
    EXPECT_GT(m.accepted, 0);
    EXPECT_GE(m.accepted, m.new_best);
    proposed += m.proposed;
    accepted += m.accepted;
  }
  EXPECT_EQ(proposed, result.statistics.evaluations);
  EXPECT_LT(accepted, proposed);
}

TEST(Anneal, CallsBackWithEverBetterCandidates) {
  const Jobs jobs(40);
  SearchOptions o = options_for(5000);
  std::vector<Sequence> states(2, Sequence(jobs));
  std::vector<double> costs;
  const auto result = anneal(std::span(states), o, [&](const std::vector<int>& order, double cost) {
    EXPECT_EQ(jobs.cost(order), cost);
    costs.push_back(cost);
  });
  ASSERT_GE(costs.size(), 3U);
  EXPECT_TRUE(std::is_sorted(costs.rbegin(), costs.rend()));
  EXPECT_EQ(costs.back(), result.cost);
}

TEST(Anneal, StopsWhenCancelledWithTheBestSoFar) {
  const Jobs jobs(40);
  SearchOptions o = options_for(100000000);
  int polls = 0;
  o.threads = 1;
  o.budget.cancelled = [&] { return ++polls > 50; };
  const auto result = run(jobs, o);
  EXPECT_TRUE(result.statistics.cancelled);
  EXPECT_LT(result.statistics.schedules, 100000);
  EXPECT_EQ(jobs.cost(result.best), result.cost);
}

TEST(Anneal, StopsByTheClockItIsGiven) {
  const Jobs jobs(20);
  SearchOptions o = options_for(0);
  o.threads = 1;
  double now = 0;
  o.budget.seconds = 1;
  o.budget.elapsed = [&] { return now += 0.001; };
  const auto result = run(jobs, o);
  EXPECT_FALSE(result.statistics.cancelled);
  EXPECT_GE(now, 1.0);
  EXPECT_LT(now, 1.1);
}

TEST(Anneal, StopsAsSoonAsTheCostIsGoodEnough) {
  const Jobs jobs(10);
  SearchOptions o = options_for(1000000);
  o.budget.good_enough = jobs.optimum();
  const auto result = run(jobs, o);
  EXPECT_EQ(result.cost, jobs.optimum());
  EXPECT_LT(result.statistics.schedules, 1000000);
}

}  // namespace
