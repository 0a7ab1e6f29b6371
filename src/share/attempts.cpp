#include "share/attempts.h"

#include <algorithm>

namespace stillroom::share {

std::chrono::seconds Attempts::left(const Patience& patience, const Tally& tally, measure::Instant now) {
  const int beyond = tally.failures - patience.free;
  if (beyond <= 0 || now - tally.last >= patience.forgotten) return {};
  constexpr int kMostDoublings = 20;
  const auto doubled = patience.first * (1L << std::min(beyond - 1, kMostDoublings));
  const auto whole = std::min<std::chrono::seconds>(doubled, patience.longest);
  // A clock set back must not lock the household out for longer than the wait itself.
  const auto past = std::max<std::chrono::seconds>(now - tally.last, std::chrono::seconds{0});
  return std::max<std::chrono::seconds>(whole - past, std::chrono::seconds{0});
}

void Attempts::count(const Patience& patience, Tally& tally, measure::Instant now) {
  if (now - tally.last >= patience.forgotten) tally.failures = 0;
  ++tally.failures;
  tally.last = now;
}

std::chrono::seconds Attempts::wait(const std::string& address, measure::Instant now) const {
  const auto it = each_.find(address);
  return std::max(left(kAll, all_, now), it == each_.end() ? std::chrono::seconds{} : left(kEach, it->second, now));
}

void Attempts::failed(const std::string& address, measure::Instant now) {
  count(kAll, all_, now);
  count(kEach, each_[address], now);
  if (each_.size() > kMostAddresses) {
    each_.erase(std::min_element(each_.begin(), each_.end(),
                                 [](const auto& a, const auto& b) { return a.second.last < b.second.last; }));
  }
}

void Attempts::succeeded(const std::string& address) { each_.erase(address); }

}  // namespace stillroom::share
