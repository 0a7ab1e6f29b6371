#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <vector>

#include "measure/id.h"
#include "scheduling/profile.h"
#include "scheduling/stock_profile.h"

/// The profiles against plain arrays with one entry per minute, on random calendars and random reservations.
namespace {
using stillroom::measure::Random;
using stillroom::scheduling::Calendar;
using stillroom::scheduling::kNever;
using stillroom::scheduling::Placement;
using stillroom::scheduling::Profile;
using stillroom::scheduling::StockProfile;
using stillroom::scheduling::UndoLog;

constexpr int kMinutes = 120;

int pick(Random& rng, int low, int high) {
  return low + static_cast<int>(rng.below(static_cast<unsigned>(high - low + 1)));
}

struct Minutes {
  std::array<int, kMinutes> capacity{}, free{};
};

Calendar random_calendar(Random& rng, Minutes& minutes) {
  std::vector<Calendar::Step> steps;
  for (int t = pick(rng, 0, 5); t < kMinutes; t += pick(rng, 1, 25)) {
    const int capacity = std::max(0, pick(rng, -2, 4));
    steps.push_back({t, capacity});
    for (int u = t; u < kMinutes; ++u) minutes.capacity[u] = capacity;
  }
  steps.push_back({kMinutes, 0});
  minutes.free = minutes.capacity;
  return Calendar::from_steps(steps).value();
}

int slow_fit(const Minutes& m, int from, int duration, int amount) {
  for (int t = from; t + duration <= kMinutes; ++t) {
    bool fits = true;
    for (int u = t; u < t + duration; ++u) fits = fits && m.free[u] >= amount;
    if (fits) return t;
  }
  return kNever;
}

Placement slow_pausable_fit(const Minutes& m, int from, int work, int amount) {
  for (int t = from; t < kMinutes; ++t) {
    if (m.capacity[t] < amount) continue;
    int done = 0, u = t;
    for (; u < kMinutes && done < work; ++u) {
      if (m.capacity[u] < amount) continue;
      if (m.free[u] < amount) break;
      ++done;
    }
    if (done == work) return {t, u};
  }
  return {};
}

void expect_same(const Profile& p, const Minutes& m) {
  for (int t = 0; t < kMinutes; ++t) ASSERT_EQ(p.free_at(t), m.free[t]) << "minute " << t;
}

TEST(ProfileProperty, AgreesWithOneEntryPerMinuteAndRollsBackExactly) {
  Random rng(7);
  for (int round = 0; round < 400; ++round) {
    Minutes minutes;
    const Calendar c = random_calendar(rng, minutes);
    Profile p(c);
    UndoLog log;
    std::vector<std::pair<UndoLog::Mark, Minutes>> history;
    for (int step = 0; step < 30; ++step) {
      const int from = pick(rng, 0, kMinutes - 1), length = pick(rng, 1, 30), amount = pick(rng, 1, 3);
      const int start = p.earliest_fit(from, length, amount);
      ASSERT_EQ(start, slow_fit(minutes, from, length, amount));
      const Placement paused = p.earliest_pausable_fit(from, length, amount);
      ASSERT_EQ(paused, slow_pausable_fit(minutes, from, length, amount));
      history.emplace_back(log.mark(), minutes);
      if (step % 2 == 0 && start != kNever) {
        p.reserve(start, length, amount, log);
        for (int t = start; t < start + length; ++t) minutes.free[t] -= amount;
      } else if (paused.fits()) {
        p.reserve_pausable(paused, amount, log);
        for (int t = paused.start; t < paused.finish; ++t)
          if (minutes.capacity[t] >= amount) minutes.free[t] -= amount;
      }
      expect_same(p, minutes);
      if (pick(rng, 0, 5) == 0) {  // back to a random prefix
        const auto& [mark, then] = history[rng.below(static_cast<unsigned>(history.size()))];
        log.rollback(mark);
        minutes = then;
        history.erase(std::find_if(history.begin(), history.end(), [&](const auto& h) { return h.first > mark; }),
                      history.end());
        expect_same(p, minutes);
      }
    }
  }
}

TEST(StockProperty, NeverRunsDryWhateverTheOrderOfWithdrawals) {
  Random rng(11);
  for (int round = 0; round < 300; ++round) {
    std::vector<StockProfile::Arrival> arrivals;
    for (int k = pick(rng, 0, 4); k > 0; --k) arrivals.push_back({pick(rng, 1, kMinutes - 1), pick(rng, 0, 9)});
    const int opening = pick(rng, 0, 10);
    StockProfile stock(opening, arrivals);
    UndoLog log;
    std::array<int, kMinutes> level{};
    for (int t = 0; t < kMinutes; ++t) {
      level[t] = opening;
      for (const auto& a : arrivals) level[t] += a.at <= t ? a.amount : 0;
    }
    for (int step = 0; step < 12; ++step) {
      const int from = pick(rng, 0, kMinutes - 1), amount = pick(rng, 1, 6);
      int expected = kNever;
      for (int t = kMinutes - 1; t >= from && level[t] >= amount; --t) expected = t;
      const int got = stock.earliest_take(from, amount);
      ASSERT_EQ(got, expected);
      if (got == kNever) continue;
      stock.take(got, amount, log);
      for (int t = got; t < kMinutes; ++t) ASSERT_GE(level[t] -= amount, 0);
    }
  }
}

}  // namespace
