#pragma once

#include <functional>
#include <mutex>
#include <utility>

#include "app/app.h"

namespace stillroom::service {

/// The open household behind one mutex, with its clock. Planning never holds it: it works on a snapshot.
class Household {
 public:
  using Clock = std::function<measure::Instant()>;
  Household(app::House& house, Clock clock) : house_(house), clock_(std::move(clock)) {}

  /// Calls `work(house, now)` alone with the household. Keep it short: every page waits for it.
  template <class Work>
  auto with(Work work) {
    const std::lock_guard lock(mutex_);
    return work(house_, clock_());
  }
  [[nodiscard]] measure::Instant now() const { return clock_(); }
  /// Immutable once loaded, so it needs no lock.
  [[nodiscard]] const almanac::Almanac& almanac() const { return house_.almanac; }

 private:
  app::House& house_;
  Clock clock_;
  std::mutex mutex_;
};

}  // namespace stillroom::service
