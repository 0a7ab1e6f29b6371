#pragma once

#include <vector>

#include "scheduling/detail/compiled_project.h"

namespace stillroom::scheduling {

/// A mode for every activity, with what the choice draws of each non-renewable and asks of each renewable in all.
class ModeChoice {
 public:
  explicit ModeChoice(const CompiledProject& project) : p_(&project) { assign(project.fitting); }

  void assign(const std::vector<int>& modes) {
    mode_ = modes;
    drawn_.assign(p_->total.size(), 0);
    work_.assign(p_->capacity.size(), 0);
    for (const int m : mode_) add(m, 1);
  }
  void set(int activity, int mode) {
    add(mode_[activity], -1);
    add(mode, 1);
    mode_[activity] = mode;
  }
  [[nodiscard]] int operator[](int activity) const { return mode_[activity]; }
  [[nodiscard]] const std::vector<int>& modes() const { return mode_; }

  /// True if nothing is drawn beyond its total.
  [[nodiscard]] bool fits() const {
    for (std::size_t k = 0; k < drawn_.size(); ++k)
      if (drawn_[k] > p_->total[k]) return false;
    return true;
  }
  /// True if one more change keeps (or makes) everything fit.
  [[nodiscard]] bool fits_with(int old_mode, int new_mode) const {
    const std::size_t width = drawn_.size();
    for (std::size_t k = 0; k < width; ++k)
      if (drawn_[k] + change(old_mode, new_mode, k) > p_->total[k]) return false;
    return true;
  }
  /// What one change does where something is overdrawn: mends it all; draws less of all that is overdrawn and
  /// overdraws nothing else; or neither.
  enum class Effect { mends, helps, worse };
  [[nodiscard]] Effect effect(int old_mode, int new_mode) const {
    const std::size_t width = drawn_.size();
    const Amount *before = &p_->draw[old_mode * width], *after = &p_->draw[new_mode * width];
    Effect out = Effect::mends;
    for (std::size_t k = 0; k < width; ++k) {
      const Amount change = after[k] - before[k];
      if (drawn_[k] + change <= p_->total[k]) continue;
      if (change >= 0) return Effect::worse;
      out = Effect::helps;
    }
    return out;
  }
  /// Sum over renewables of (periods of full use / length) to the 8th power: near 0 while there is slack, steep when
  /// the work alone fills the length.
  [[nodiscard]] double crowding(Time length) const {
    double sum = 0;
    for (std::size_t r = 0; r < work_.size(); ++r) {
      double x = static_cast<double>(work_[r]) / (static_cast<double>(p_->capacity[r]) * length);
      x *= x;
      x *= x;
      sum += x * x;
    }
    return sum;
  }

 private:
  [[nodiscard]] Amount change(int old_mode, int new_mode, std::size_t k) const {
    const std::size_t width = drawn_.size();
    return p_->draw[new_mode * width + k] - p_->draw[old_mode * width + k];
  }
  void add(int mode, Amount sign) {
    for (std::size_t k = 0; k < drawn_.size(); ++k) drawn_[k] += sign * p_->draw[mode * drawn_.size() + k];
    for (std::size_t r = 0; r < work_.size(); ++r) work_[r] += std::int64_t{sign} * p_->work[mode * work_.size() + r];
  }

  const CompiledProject* p_;
  std::vector<int> mode_;
  std::vector<Amount> drawn_;
  std::vector<long> work_;
};

}  // namespace stillroom::scheduling
