#include "scheduling/detail/lag_state.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace stillroom::scheduling {

namespace {
constexpr Time kFarPast = -500'000'000, kFarFuture = 500'000'000;
constexpr int kMoveAttempts = 16;
}  // namespace

LagState::LagState(const LagProject& project) : p_(project), n_(project.activities) {
  const auto n = static_cast<std::size_t>(n_);
  const Time longest = n_ == 0 ? 0 : *std::max_element(p_.duration.begin(), p_.duration.end());
  free_.assign(2 * static_cast<std::size_t>(p_.horizon) + static_cast<std::size_t>(longest) + 2, p_.full);
  past_.assign(n, kFarPast);
  future_.assign(n, kFarFuture);
  for (auto* v : {&order_, &position_, &order_before_}) v->assign(n, 0);
  raised_.assign(n, 0);
  start_.assign(n, 0);
}

/// Latest-start order, which keeps the strict order, with small random changes.
Evaluation LagState::start(measure::Random& rng) {
  std::vector<double> key(static_cast<std::size_t>(n_));
  for (int i = 0; i < n_; ++i) key[i] = -p_.tail[i] + 0.1 * rng.uniform();
  std::vector<int> waiting(static_cast<std::size_t>(n_));
  std::vector<int> open;
  for (int i = 0; i < n_; ++i) {
    waiting[i] = static_cast<int>(p_.before[i].size());
    if (waiting[i] == 0) open.push_back(i);
  }
  for (int k = 0; k < n_; ++k) {
    const auto next = std::min_element(open.begin(), open.end(), [&](int a, int b) { return key[a] < key[b]; });
    const int i = *next;
    open.erase(next);
    order_[k] = i;
    position_[i] = k;
    for (const int j : p_.after[i])
      if (--waiting[j] == 0) open.push_back(j);
  }
  generate(p_.horizon);
  const double first = cost();
  accept();
  return {first, 1, 0};
}

void LagState::place(int activity, Time at) {
  for (Time u = at; u < at + p_.duration[activity]; ++u) free_[u] -= p_.demand[activity];
  past_[activity] = future_[activity] = at;
  ++placed_;
}

void LagState::unplace(int activity) {
  const Time at = past_[activity];
  for (Time u = at; u < at + p_.duration[activity]; ++u) free_[u] += p_.demand[activity];
  past_[activity] = kFarPast;
  future_[activity] = kFarFuture;
  --placed_;
}

void LagState::generate(Time limit) {
  for (int i = 0; i < n_; ++i)
    if (past_[i] != kFarPast) unplace(i);
  std::copy(p_.head.begin(), p_.head.end(), raised_.begin());
  int room_left = 4 * n_;
  most_placed_ = 0;
  complete_ = false;
  makespan_ = 0;
  for (int k = 0; k < n_;) {
    const int i = order_[k];
    if (past_[i] != kFarPast) {
      ++k;
      continue;
    }
    Time earliest = raised_[i], latest = p_.horizon;
    const Time *to_i = &p_.to_row[static_cast<std::size_t>(i) * n_],
               *from_i = &p_.from_row[static_cast<std::size_t>(i) * n_];
    for (int j = 0; j < n_; ++j) earliest = std::max(earliest, past_[j] + to_i[j]);
    for (int j = 0; j < n_; ++j) latest = std::min(latest, future_[j] - from_i[j]);
    if (earliest + p_.tail[i] > limit) break;
    const Time at = earliest_fit(free_.data(), p_.guard, earliest, p_.duration[i], p_.demand[i]);
    if (at + p_.tail[i] > limit) break;
    if (at <= latest) {
      place(i, at);
      most_placed_ = std::max(most_placed_, placed_);
      ++k;
      continue;
    }
    if (--room_left < 0 || !make_room(i, at - latest)) break;
    k = 0;
  }
  if (placed_ < n_) return;
  complete_ = true;
  for (int i = 0; i < n_; ++i) makespan_ = std::max(makespan_, past_[i] + p_.duration[i]);
}

/// `activity` comes `missing` periods too late for the maximum lags of some placed ones: those must start later by that
/// much. They and everything that started after the first of them are taken out.
bool LagState::make_room(int activity, Time missing) {
  const Time* from = &p_.from_row[static_cast<std::size_t>(activity) * n_];
  Time latest = p_.horizon;
  for (int j = 0; j < n_; ++j) latest = std::min(latest, future_[j] - from[j]);
  Time first = kFarFuture;
  for (int j = 0; j < n_; ++j) {
    if (past_[j] == kFarPast || past_[j] - from[j] >= latest + missing) continue;
    // j holds the activity back: it must not start before its lag reaches.
    first = std::min(first, past_[j]);
    raised_[j] = std::max(raised_[j], latest + missing + from[j]);
    if (raised_[j] + p_.tail[j] > p_.horizon) return false;
  }
  if (first == kFarFuture) return false;
  for (int j = 0; j < n_; ++j)
    if (past_[j] != kFarPast && (past_[j] > first || raised_[j] > past_[j])) unplace(j);
  return true;
}

int LagState::propose(measure::Random& rng, double) {
  std::copy(order_.begin(), order_.end(), order_before_.begin());
  for (int attempt = 0; attempt < kMoveAttempts; ++attempt) {
    const int i = static_cast<int>(rng.below(static_cast<unsigned>(n_))), at = position_[i];
    int low = 0, high = n_ - 1;
    for (const int j : p_.before[i]) low = std::max(low, position_[j] + 1);
    for (const int j : p_.after[i]) high = std::min(high, position_[j] - 1);
    if (low == high) continue;
    int to = low + static_cast<int>(rng.below(static_cast<unsigned>(high - low)));
    if (to >= at) ++to;
    move_in_list(at, to);
    return 0;
  }
  return 0;
}

void LagState::move_in_list(int from, int to) {
  const int activity = order_[from], step = from < to ? 1 : -1;
  for (int k = from; k != to; k += step) {
    order_[k] = order_[k + step];
    position_[order_[k]] = k;
  }
  order_[to] = activity;
  position_[activity] = to;
}

double LagState::cost() const { return complete_ ? static_cast<double>(makespan_) : kInfeasible + (n_ - most_placed_); }

Evaluation LagState::evaluate(double limit) {
  const bool any = limit >= kInfeasible;
  generate(any ? p_.horizon : std::min(p_.horizon, static_cast<Time>(std::floor(limit))));
  return {cost(), 1, 0};
}

void LagState::accept() {
  incumbent_makespan_ = complete_ ? makespan_ : -1;
  if (complete_) std::copy(past_.begin(), past_.end(), start_.begin());
}

void LagState::reject() {
  std::copy(order_before_.begin(), order_before_.end(), order_.begin());
  for (int k = 0; k < n_; ++k) position_[order_[k]] = k;
}

void LagState::save(Snapshot& out) const {
  out.order = order_;
  out.start = start_;
  out.makespan = incumbent_makespan_;
}

void LagState::load(const Snapshot& in) {
  order_ = in.order;
  start_ = in.start;
  incumbent_makespan_ = in.makespan;
  for (int k = 0; k < n_; ++k) position_[order_[k]] = k;
}

}  // namespace stillroom::scheduling
