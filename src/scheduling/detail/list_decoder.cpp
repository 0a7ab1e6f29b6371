#include "scheduling/detail/list_decoder.h"

#include <algorithm>

namespace stillroom::scheduling {

ListDecoder::ListDecoder(const CompiledProject& project) : p_(project), n_(project.activities) {
  const auto n = static_cast<std::size_t>(n_);
  // Behind the horizon every period is free, so that a fit always ends.
  const std::size_t periods = 2 * static_cast<std::size_t>(project.horizon) + 2;
  free_.assign(periods, p_.full);
  mirror_.assign(periods, p_.full);
  bucket_.assign(periods + 1, 0);
  for (auto* v : {&finish_, &mirror_finish_, &key_, &stack_start_}) v->assign(n, 0);
  for (auto* v : {&stack_activity_, &stack_mode_}) v->assign(n, 0);
  latest_.assign(n + 1, 0);
}

Time ListDecoder::fit(const Word* free, Time from, int mode) const {
  return earliest_fit(free, p_.guard, from, p_.duration[mode], p_.demand[mode]);
}

/// The mode that finishes first, the present one on a tie.
ListDecoder::Found ListDecoder::best_fit(const Word* free, Time from, int activity, const ModeChoice& choice) const {
  const int present = choice[activity];
  Found best{fit(free, from, present), present};
  Time finish = best.start + p_.duration[present];
  for (int m = p_.mode_begin[activity]; m < p_.mode_begin[activity + 1]; ++m) {
    if (m == present || from + p_.duration[m] >= finish || !choice.fits_with(present, m)) continue;
    const Time start = fit(free, from, m);
    if (start + p_.duration[m] >= finish) continue;
    best = {start, m};
    finish = start + p_.duration[m];
  }
  return best;
}

void ListDecoder::place(int activity, int mode, Time at) {
  const Time finish = at + p_.duration[mode];
  const Word demand = p_.demand[mode];
  Word* free = free_.data();
  for (Time u = at; u < finish; ++u) free[u] -= demand;
  stack_activity_[depth_] = activity;
  stack_mode_[depth_] = mode;
  stack_start_[depth_] = at;
  finish_[activity] = finish;
  latest_[depth_ + 1] = std::max(latest_[depth_], finish);
  ++depth_;
}

void ListDecoder::unplace_to(int depth) {
  Word* free = free_.data();
  while (depth_ > depth) {
    --depth_;
    const int mode = stack_mode_[depth_];
    const Time at = stack_start_[depth_], finish = at + p_.duration[mode];
    for (Time u = at; u < finish; ++u) free[u] += p_.demand[mode];
  }
}

ListDecoder::Outcome ListDecoder::decode(const Task& task) {
  unplace_to(std::min(task.from, unchanged_));
  while (depth_ < task.from) {  // as in the incumbent, at known starts
    const int i = task.order[depth_];
    place(i, task.mode[i], task.start[i]);
  }
  unchanged_ = task.from;
  bool same = true;
  for (int k = task.from; k < n_; ++k) {
    if (same && k > task.to) return Outcome::same;
    const int i = task.order[k];
    Time earliest = 0;
    for (int e = p_.pred_begin[i]; e < p_.pred_begin[i + 1]; ++e) earliest = std::max(earliest, finish_[p_.pred[e]]);
    Found found{0, task.choice[i]};
    if (task.improving) {
      found = best_fit(free_.data(), earliest, i, task.choice);
      if (found.mode != task.choice[i]) task.choice.set(i, found.mode);
    } else {
      found.start = fit(free_.data(), earliest, found.mode);
    }
    if (found.start + p_.duration[found.mode] + p_.tail[i] > task.limit) return Outcome::too_long;
    same = same && found.start == task.start[i] && found.mode == task.mode[i];
    place(i, found.mode, found.start);
  }
  return Outcome::finished;
}

void ListDecoder::adopt(std::vector<Time>& start, std::vector<int>& mode) {
  for (int k = unchanged_; k < depth_; ++k) {
    start[stack_activity_[k]] = stack_start_[k];
    mode[stack_activity_[k]] = stack_mode_[k];
  }
  unchanged_ = depth_;
}

void ListDecoder::justify_right(std::vector<int>& order, ModeChoice& choice, const std::vector<Time>& start,
                                bool improving) {
  Time last = 0;
  for (int i = 0; i < n_; ++i) last = std::max(last, start[i] + p_.duration[choice[i]]);
  // Largest number first on a tie, so that timeless activities stay behind what waits for them: sort the mirror image.
  for (int i = 0; i < n_; ++i) key_[i] = start[i] + p_.duration[choice[i]];
  sort_by_key(key_, order);
  Time length = 0;
  for (int k = n_ - 1; k >= 0; --k) {
    const int i = order[k];
    Time earliest = 0;
    for (int e = p_.succ_begin[i]; e < p_.succ_begin[i + 1]; ++e)
      earliest = std::max(earliest, mirror_finish_[p_.succ[e]]);
    Found found{0, choice[i]};
    if (improving) {
      found = best_fit(mirror_.data(), earliest, i, choice);
      if (found.mode != choice[i]) choice.set(i, found.mode);
    } else {
      found.start = fit(mirror_.data(), earliest, found.mode);
    }
    const Time finish = found.start + p_.duration[found.mode];
    for (Time u = found.start; u < finish; ++u) mirror_[u] -= p_.demand[found.mode];
    mirror_finish_[i] = finish;
    length = std::max(length, finish);
  }
  std::fill(mirror_.begin(), mirror_.begin() + length, p_.full);
  for (int i = 0; i < n_; ++i) key_[i] = length - mirror_finish_[i];
  sort_by_key(key_, order);
}

void ListDecoder::sort_by_key(const std::vector<Time>& key, std::vector<int>& order) {
  const Time most = n_ == 0 ? 0 : *std::max_element(key.begin(), key.end());
  std::fill(bucket_.begin(), bucket_.begin() + most + 2, 0);
  for (int i = 0; i < n_; ++i) ++bucket_[key[i] + 1];
  for (Time t = 0; t <= most; ++t) bucket_[t + 1] += bucket_[t];
  for (int i = 0; i < n_; ++i) order[bucket_[key[i]]++] = i;
}

}  // namespace stillroom::scheduling
