#pragma once

#include <cstdint>
#include <optional>
#include <span>

#include "scheduling/steps.h"

namespace stillroom::scheduling {

/// Several renewable resources side by side in one 64-bit word, a lane each, every lane topped by a guard bit that is
/// set in free capacity: (free - demand) keeps all guard bits exactly if the demand fits.
class Lanes {
 public:
  using Word = std::uint64_t;

  /// Nothing if a capacity does not fit its lane (64 / number of resources bits, one of them for the guard).
  static std::optional<Lanes> for_capacities(std::span<const Amount> capacities) {
    Lanes out;
    if (capacities.empty()) return out;
    out.width_ = 64 / static_cast<unsigned>(capacities.size());
    if (out.width_ < 2) return std::nullopt;
    for (std::size_t k = 0; k < capacities.size(); ++k) {
      if (out.width_ < 33 && static_cast<Word>(capacities[k]) >> (out.width_ - 1) != 0) return std::nullopt;
      out.guard_ |= Word{1} << (out.width_ * k + out.width_ - 1);
    }
    out.full_ = out.guard_ | out.pack(capacities);
    return out;
  }
  /// Range: every amount at most the capacity of its lane.
  [[nodiscard]] Word pack(std::span<const Amount> amounts) const {
    Word word = 0;
    for (std::size_t k = 0; k < amounts.size(); ++k) word |= static_cast<Word>(amounts[k]) << (width_ * k);
    return word;
  }
  [[nodiscard]] Word guard() const { return guard_; }
  [[nodiscard]] Word full() const { return full_; }

 private:
  unsigned width_ = 0;
  Word guard_ = 0, full_ = 0;
};

/// Earliest start >= `from` with `demand` free over `duration` periods. Looks from the last period down; after a clash
/// at u the next start is u + 1, and what was seen free above u still holds. The caller sees to it that the periods
/// reach far enough.
inline Time earliest_fit(const Lanes::Word* free, Lanes::Word guard, Time from, Time duration, Lanes::Word demand) {
  Time start = from, seen_from = from;
  while (true) {
    Time u = start + duration - 1;
    while (u >= seen_from && ((free[u] - demand) & guard) == guard) --u;
    if (u < seen_from) return start;
    seen_from = start + duration;
    start = u + 1;
  }
}

}  // namespace stillroom::scheduling
