#include "scheduling/detail/project_state.h"

#include <algorithm>
#include <cmath>

namespace stillroom::scheduling {

namespace {
// Shares of the moves. Fading ones fall linearly to nothing at kFadedOut of the budget: letting every activity take the
// mode that finishes first finds good regions early and is too greedy later.
constexpr double kModeShare = 0.62, kJustifyShare = 0.033, kImproveShare = 0.124, kFadedOut = 0.8;
constexpr double kImprovingJustify = 0.5;  ///< of the forward-backward passes, fading
constexpr double kSendBack = 0.6;          ///< of the list moves: put the blocking activity behind the blocked one
constexpr double kClosenessWeight = 1;
constexpr int kAttempts = 16;
constexpr int kRepairLook = 24;  ///< activities looked at for one repair
constexpr int kRefusals = 64;    ///< so many changes refused in a row count as a schedule, so that every budget ends
// All modes chosen anew: so many choices looked at, temperatures in mean mode durations.
constexpr int kChoices = 100'000;
constexpr double kChoiceStart = 0.1, kChoiceEnd = 0.003, kChoiceCrowding = 1;
constexpr double kCrowded = 0.5;  ///< one resource full to 92 % or two to 84 %: less work could make a shorter makespan
constexpr Time kNoLimit = 1'000'000'000;
}  // namespace

ProjectState::ProjectState(const CompiledProject& project, double crowding_weight)
    : p_(project), n_(project.activities), decoder_(project), choice_(project), crowding_weight_(crowding_weight) {
  const auto n = static_cast<std::size_t>(n_);
  for (auto* v : {&order_, &position_, &order_before_, &mode_before_, &mode_}) v->assign(n, 0);
  for (auto* v : {&start_, &key_, &earliest_finish_}) v->assign(n, 0);
  mode_undo_.reserve(n);
  for (Time slack = 0; slack <= project.horizon; ++slack) closeness_.push_back(kClosenessWeight / ((1 + slack) * n_));
}

/// Latest-finish order (longest tail first), modes that fit the non-renewables, then whatever finishes first.
Evaluation ProjectState::start(measure::Random&) {
  for (int i = 0; i < n_; ++i) key_[i] = p_.lower_bound - (p_.tail[i] + p_.duration[p_.mode_begin[i]]);
  decoder_.sort_by_key(key_, order_);
  for (int k = 0; k < n_; ++k) position_[order_[k]] = k;
  choice_.assign(p_.fitting);
  decoder_.forget();
  kind_ = kImprove;
  outcome_ = decoder_.decode({order_, choice_, start_, mode_, 0, n_, kNoLimit, true});
  shortest_ = decoder_.makespan();
  candidate_guide_ = guide();
  accept();
  return {static_cast<double>(makespan_), 1, guide_};
}

Evaluation ProjectState::restart(const Snapshot& best, measure::Random& rng) {
  load(best);
  const Time target = best.makespan - 1;
  if (crowding_weight_ == 0 || choice_.crowding(target) < kCrowded) return {static_cast<double>(makespan_), 0, guide_};
  choose_modes(rng, target);
  modes_stand_ = true;
  decoder_.forget();
  kind_ = kImprove;
  outcome_ = decoder_.decode({order_, choice_, start_, mode_, 0, n_, kNoLimit, false});
  candidate_guide_ = guide();
  accept();
  return {static_cast<double>(makespan_), kChoices + 1, guide_};
}

/// Simulated annealing over the modes alone.
void ProjectState::choose_modes(measure::Random& rng, Time target) {
  double unit = 0;
  for (const Time d : p_.duration) unit += d;
  unit /= static_cast<double>(p_.duration.size());
  double cost = averaged_cost(target);
  for (int k = 0; k < kChoices; ++k) {
    const double temperature = unit * kChoiceStart * std::pow(kChoiceEnd / kChoiceStart, k / double{kChoices});
    mode_undo_.clear();
    if (!propose_mode(rng)) continue;
    const double changed = averaged_cost(target);
    if (changed <= cost - temperature * std::log(1.0 - rng.uniform()))
      cost = changed;
    else
      undo_modes();
  }
}

/// What the present modes promise for a makespan of `target` if nothing had to wait for a resource: by how much the
/// longest path exceeds it, how many activities are near it, and how much the work crowds it.
double ProjectState::averaged_cost(Time target) {
  Time longest = target;
  for (int i = 0; i < n_; ++i) {
    Time earliest = 0;
    for (int e = p_.pred_begin[i]; e < p_.pred_begin[i + 1]; ++e)
      earliest = std::max(earliest, earliest_finish_[p_.pred[e]]);
    earliest_finish_[i] = earliest + p_.duration[choice_[i]];
    longest = std::max(longest, earliest_finish_[i] + p_.tail[i]);
  }
  double sum = 0;
  for (int i = 0; i < n_; ++i) sum += closeness_[longest - earliest_finish_[i] - p_.tail[i]];
  return longest - target + sum + kChoiceCrowding * target * choice_.crowding(target);
}

int ProjectState::propose(measure::Random& rng, double progress) {
  const double fade = std::max(0.0, 1 - progress / kFadedOut);
  mode_undo_.clear();
  moved_ = {};
  improving_ = false;
  const double improve = modes_stand_ ? 0 : kImproveShare * fade, justify = improve + kJustifyShare;
  const double u = rng.uniform();
  if (u < improve) {
    propose_whole(kImprove);
    improving_ = true;
  } else if (u < justify && !justified_) {
    propose_whole(kJustify);
    improving_ = !modes_stand_ && rng.uniform() < kImprovingJustify * fade;
  } else if (!propose_one(rng, u < justify + kModeShare)) {
    propose_whole(kJustify);
  }
  return kind_;
}

void ProjectState::propose_whole(Move kind) {
  kind_ = kind;
  std::copy(order_.begin(), order_.end(), order_before_.begin());
  std::copy(choice_.modes().begin(), choice_.modes().end(), mode_before_.begin());
  first_ = 0;
  last_ = n_;
}

bool ProjectState::shares_time(int activity, Time from, Time to) const {
  return start_[activity] < to && start_[activity] + p_.duration[mode_[activity]] > from;
}

/// Another mode (unless they stand) or another place in the list, the one to be tried first or else the other; false
/// if neither is possible.
bool ProjectState::propose_one(measure::Random& rng, bool mode_first) {
  for (const bool mode : {mode_first, !mode_first}) {
    if (mode && modes_stand_) continue;
    if (!(mode ? propose_mode(rng) : propose_shift(rng))) continue;
    kind_ = mode ? kMode : kShift;
    return true;
  }
  return false;
}

/// Moves an activity that waits for a resource ahead of one that shares its time, or that one behind it. Any other
/// move within the list leaves the schedule as it is: an activity that starts as soon as its predecessors allow cannot
/// gain by going ahead, nor can one that passes only activities outside its time.
bool ProjectState::propose_shift(measure::Random& rng) {
  for (int attempt = 0; attempt < kAttempts; ++attempt) {
    const int i = static_cast<int>(rng.below(static_cast<unsigned>(n_))), at = position_[i];
    int low = 0;
    Time earliest = 0;
    for (int e = p_.pred_begin[i]; e < p_.pred_begin[i + 1]; ++e) {
      const int before = p_.pred[e];
      low = std::max(low, position_[before] + 1);
      earliest = std::max(earliest, start_[before] + p_.duration[mode_[before]]);
    }
    if (start_[i] == earliest) continue;
    const Time finish = start_[i] + p_.duration[mode_[i]];
    int near = at - 1;
    while (near >= low && !shares_time(order_[near], earliest, finish)) --near;
    if (near < low) continue;
    ListMove move{at, low + static_cast<int>(rng.below(static_cast<unsigned>(near - low + 1)))};
    if (const int other = order_[move.to]; rng.uniform() < kSendBack && shares_time(other, earliest, finish)) {
      int high = n_ - 1;
      for (int e = p_.succ_begin[other]; e < p_.succ_begin[other + 1]; ++e)
        high = std::min(high, position_[p_.succ[e]] - 1);
      if (high >= at) move = {move.to, at + static_cast<int>(rng.below(static_cast<unsigned>(high - at + 1)))};
    }
    move_in_list(move);
    moved_ = move;
    first_ = std::min(move.from, move.to);
    last_ = std::max(move.from, move.to);
    return true;
  }
  return false;
}

bool ProjectState::propose_mode(measure::Random& rng) {
  for (int attempt = 0; attempt < kAttempts; ++attempt) {
    const int i = static_cast<int>(rng.below(static_cast<unsigned>(n_)));
    const int begin = p_.mode_begin[i], count = p_.mode_begin[i + 1] - begin;
    if (count < 2) continue;
    int m = begin + static_cast<int>(rng.below(static_cast<unsigned>(count - 1)));
    if (m >= choice_[i]) ++m;
    first_ = last_ = position_[i];
    change_mode(i, m);
    if (repair_draw(rng)) return true;
    undo_modes();
  }
  return false;
}

void ProjectState::change_mode(int activity, int mode) {
  mode_undo_.emplace_back(activity, choice_[activity]);
  choice_.set(activity, mode);
  first_ = std::min(first_, position_[activity]);
  last_ = std::max(last_, position_[activity]);
}

void ProjectState::undo_modes() {
  for (; !mode_undo_.empty(); mode_undo_.pop_back()) choice_.set(mode_undo_.back().first, mode_undo_.back().second);
}

/// After a mode change: up to three other activities give back what is now overdrawn.
bool ProjectState::repair_draw(measure::Random& rng) {
  const int keep = mode_undo_.front().first;
  for (int round = 0; round < 3 && !choice_.fits(); ++round)
    if (!repair_once(rng, keep)) return false;
  return choice_.fits();
}

/// Of some activities from a random one on: the first change that mends everything, else the last one that helps.
bool ProjectState::repair_once(measure::Random& rng, int keep) {
  int best = -1, best_mode = -1;
  int i = static_cast<int>(rng.below(static_cast<unsigned>(n_)));
  for (int step = std::min(n_, kRepairLook); step > 0; --step, i = i + 1 < n_ ? i + 1 : 0) {
    if (i == keep) continue;
    const int begin = p_.mode_begin[i], end = p_.mode_begin[i + 1], present = choice_[i];
    for (int m = begin; m < end; ++m) {
      if (m == present) continue;
      const auto effect = choice_.effect(present, m);
      if (effect == ModeChoice::Effect::worse) continue;
      best = i;
      best_mode = m;
      if (effect == ModeChoice::Effect::helps) continue;
      change_mode(i, m);
      return true;
    }
  }
  if (best < 0) return false;
  change_mode(best, best_mode);
  return true;
}

void ProjectState::move_in_list(ListMove move) {
  const int activity = order_[move.from], step = move.from < move.to ? 1 : -1;
  for (int k = move.from; k != move.to; k += step) {
    order_[k] = order_[k + step];
    position_[order_[k]] = k;
  }
  order_[move.to] = activity;
  position_[activity] = move.to;
}

double ProjectState::guide() {
  const Time length = decoder_.makespan();
  shortest_ = std::min(shortest_, length);
  double sum = 0;
  for (int i = 0; i < n_; ++i) sum += closeness_[length - decoder_.finish(i) - p_.tail[i]];
  return sum + crowding();
}

double ProjectState::crowding() const {
  return crowding_weight_ > 0 ? crowding_weight_ * shortest_ * choice_.crowding(shortest_) : 0;
}

/// True if the precedences alone make the candidate longer than `longest`: from the first change on, through whatever
/// can finish no more as early as in the incumbent.
bool ProjectState::surely_longer(Time longest) {
  for (int k = first_, reach = last_; k <= reach; ++k) {
    const int i = order_[k];
    Time earliest = 0;
    for (int e = p_.pred_begin[i]; e < p_.pred_begin[i + 1]; ++e) {
      const int before = p_.pred[e];
      const bool stands = position_[before] < first_;
      earliest = std::max(earliest, stands ? start_[before] + p_.duration[mode_[before]] : earliest_finish_[before]);
    }
    const Time finish = earliest_finish_[i] = earliest + p_.duration[choice_[i]];
    if (finish + p_.tail[i] > longest) return true;
    if (finish <= start_[i] + p_.duration[mode_[i]]) continue;
    for (int e = p_.succ_begin[i]; e < p_.succ_begin[i + 1]; ++e) reach = std::max(reach, position_[p_.succ[e]]);
  }
  return false;
}

Evaluation ProjectState::evaluate(double limit) {
  // What a change of modes adds by crowding is known beforehand, and leaves the less for the makespan.
  const double room = limit - (kind_ == kMode ? crowding() : 0);
  const Time longest = room < kNoLimit ? static_cast<Time>(std::floor(room)) : kNoLimit;
  if (kind_ == kMode && surely_longer(longest)) return {limit + 1, ++refused_ % kRefusals == 0 ? 1 : 0, 0};
  refused_ = 0;
  if (kind_ == kJustify) decoder_.justify_right(order_, choice_, start_, improving_);
  outcome_ = decoder_.decode({order_, choice_, start_, mode_, first_, last_, longest, improving_});
  const int schedules = kind_ == kJustify ? 2 : 1;
  if (outcome_ == ListDecoder::Outcome::too_long) return {limit + 1, schedules, 0};
  if (outcome_ == ListDecoder::Outcome::same) return {static_cast<double>(makespan_), schedules, guide_};
  candidate_guide_ = guide();
  return {static_cast<double>(decoder_.makespan()), schedules, candidate_guide_};
}

void ProjectState::accept() {
  const bool same = outcome_ == ListDecoder::Outcome::same;
  if (!same) {
    makespan_ = decoder_.makespan();
    guide_ = candidate_guide_;
  }
  if (kind_ == kJustify)
    for (int k = 0; k < n_; ++k) position_[order_[k]] = k;
  decoder_.adopt(start_, mode_);
  justified_ = kind_ == kJustify || (same && justified_);
}

void ProjectState::reject() {
  if (kind_ == kJustify || kind_ == kImprove) {
    std::copy(order_before_.begin(), order_before_.end(), order_.begin());
    choice_.assign(mode_before_);
    return;
  }
  if (kind_ == kShift) move_in_list({moved_.to, moved_.from});
  undo_modes();
}

void ProjectState::save(Snapshot& out) const {
  out.order = order_;
  out.mode = mode_;
  out.start = start_;
  out.makespan = makespan_;
}

void ProjectState::load(const Snapshot& in) {
  order_ = in.order;
  mode_ = in.mode;
  start_ = in.start;
  makespan_ = in.makespan;
  for (int k = 0; k < n_; ++k) position_[order_[k]] = k;
  choice_.assign(mode_);
  decoder_.forget();
  justified_ = false;
  // Placed anew, so that guide() sees this schedule.
  decoder_.decode({order_, choice_, start_, mode_, n_, n_, kNoLimit, false});
  guide_ = guide();
}

}  // namespace stillroom::scheduling
