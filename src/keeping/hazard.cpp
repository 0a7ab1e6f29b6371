#include <algorithm>
#include <chrono>
#include <cmath>

#include "almanac/csv.h"
#include "keeping/keeping.h"

namespace stillroom::keeping {

namespace {

struct HazardBook {
  std::vector<HazardClock> clocks;
  std::vector<std::vector<std::string>> crops;  ///< same order: crops whose raw food starts on the clock
};

/// The compiled-in table; load_almanac() has found it sound before anything asks for a clock, and a test holds it.
HazardBook read_hazard_book() {
  HazardBook book;
  const auto crops = almanac::load_crops().value();
  const auto rows = almanac::read_hazard_limits(almanac::embedded_file("keeping/hazard_clocks.csv"), crops).value();
  for (const auto& r : rows) {
    book.clocks.push_back({.key = r.key,
                           .name = r.name,
                           .room_hours = r.room_hours,
                           .fridge_days = r.fridge_days.high,
                           .source = r.from.source,
                           .checked = std::string(almanac::to_code(r.from.checked))});
    book.crops.push_back(r.crops);
  }
  return book;
}

const HazardBook& hazard_book() {
  static const HazardBook book = read_hazard_book();
  return book;
}

/// Share of the clock used per second at a temperature.
double hazard_per_second(const HazardClock& clock, measure::Temperature temp) {
  if (temp <= kFrozen) return 0;
  if (temp <= kFridgeHighest) return 1 / (clock.fridge_days * 86400);
  const double hot = temp > kHotDay ? 2 : 1;
  return hot / (clock.room_hours * 3600);
}

}  // namespace

const std::vector<HazardClock>& hazard_clocks() { return hazard_book().clocks; }

const HazardClock* hazard_clock(std::string_view key) {
  const auto& clocks = hazard_clocks();
  const auto it = std::ranges::find(clocks, key, &HazardClock::key);
  return it == clocks.end() ? nullptr : &*it;
}

const HazardClock* hazard_clock_for_crop(const almanac::Crops& crops, std::string_view crop) {
  const auto& book = hazard_book();
  const auto* c = crops.find(crop);
  // The nearest ancestor named in the table: ground meat before meat.
  for (std::size_t hops = 0; c != nullptr && hops < crops.all().size(); ++hops) {
    for (std::size_t i = 0; i < book.clocks.size(); ++i) {
      if (std::ranges::count(book.crops[i], c->key) > 0) return &book.clocks[i];
    }
    c = c->parent.empty() ? nullptr : crops.find(c->parent);
  }
  return nullptr;
}

measure::Instant no_deadline() {
  using namespace std::chrono_literals;
  return std::chrono::sys_days{9999y / std::chrono::December / 31d};
}

double hazard_used(const HazardClock& clock, const std::vector<Stay>& stays, measure::Instant now) {
  double used = 0;
  for (std::size_t i = 0; i < stays.size(); ++i) {
    const auto to = i + 1 < stays.size() ? std::min(now, stays[i + 1].from) : now;
    if (to > stays[i].from) {
      used += static_cast<double>((to - stays[i].from).count()) * hazard_per_second(clock, stays[i].temp);
    }
  }
  return used;
}

measure::Instant hazard_deadline(const HazardClock& clock, const std::vector<Stay>& stays, measure::Instant now,
                                 double used) {
  if (stays.empty()) return now;
  double left = 1 - std::max(0.0, used);
  if (left <= 0) return stays.front().from;
  for (std::size_t i = 0; i < stays.size(); ++i) {
    const double rate = hazard_per_second(clock, stays[i].temp);
    const bool last = i + 1 == stays.size();
    const double seconds =
        last ? HUGE_VAL : std::max(0.0, static_cast<double>((stays[i + 1].from - stays[i].from).count()));
    // Rounded down: never a second later than the published limit.
    if (rate > 0 && left <= seconds * rate) {
      return stays[i].from + std::chrono::seconds(static_cast<std::int64_t>(std::floor(left / rate + 1e-6)));
    }
    if (!last) left -= seconds * rate;
  }
  return no_deadline();
}

}  // namespace stillroom::keeping
