#include "calibration.h"

#include <algorithm>
#include <chrono>
#include <cstdint>
#include <limits>
#include <vector>

namespace stillroom::bench {
namespace {

constexpr int kLookUps = 200'000, kTable = 512, kRuns = 5;

/// Its answer depends on every look-up, so that none can be left out.
std::uint64_t work(const std::vector<std::uint32_t>& table) {
  std::uint64_t state = 88'172'645'463'325'252ULL, sum = 0;
  for (int i = 0; i < kLookUps; ++i) {
    state ^= state << 13U;
    state ^= state >> 7U;
    state ^= state << 17U;
    const auto found = std::upper_bound(table.begin(), table.end(), static_cast<std::uint32_t>(state));
    sum += found == table.end() ? 1 : *found;
  }
  return sum;
}

double measure() {
  std::vector<std::uint32_t> table;
  for (std::uint32_t i = 0; i < kTable; ++i) table.push_back(i * (std::numeric_limits<std::uint32_t>::max() / kTable));
  double best = std::numeric_limits<double>::max();
  volatile std::uint64_t kept = 0;
  for (int run = 0; run < kRuns; ++run) {
    const auto start = std::chrono::steady_clock::now();
    kept = work(table);
    best = std::min(best, std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count());
  }
  static_cast<void>(kept);
  return best;
}

}  // namespace

double calibration_ms() {
  static const double once = measure();
  return once;
}

}  // namespace stillroom::bench
