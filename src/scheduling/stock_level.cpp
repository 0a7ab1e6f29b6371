#include <algorithm>
#include <vector>

#include "scheduling/level_profile.h"
#include "scheduling/stock_profile.h"

namespace stillroom::scheduling {

LevelProfile::LevelProfile(const Calendar& capacity) : free_(0) {
  const auto& steps = capacity.steps();
  for (std::size_t i = 1; i < steps.size(); ++i) free_.append(steps[i].from, steps[i].capacity);
}

StockProfile::StockProfile(Amount opening, std::span<const Arrival> arrivals) : level_(opening) {
  std::vector<Arrival> sorted(arrivals.begin(), arrivals.end());
  std::sort(sorted.begin(), sorted.end(), [](const Arrival& a, const Arrival& b) { return a.at < b.at; });
  Amount level = opening;
  for (std::size_t i = 0; i < sorted.size(); ++i) {
    level += sorted[i].amount;
    if (i + 1 == sorted.size() || sorted[i + 1].at > sorted[i].at) level_.append(sorted[i].at, level);
  }
}

}  // namespace stillroom::scheduling
