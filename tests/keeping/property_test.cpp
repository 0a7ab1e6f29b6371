#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "measure/id.h"
#include "models.h"

// Properties that hold for every crop, condition and history; histories are drawn from a fixed seed.
namespace stillroom::keeping {
namespace {

using almanac::Condition;

constexpr int kHistories = 40;

struct Leg {
  double days = 0, temp_c = 0;
};

std::vector<Leg> history(measure::Random& random) {
  std::vector<Leg> legs(1 + random.below(6));
  for (auto& leg : legs) leg = {random.uniform() * 20, -2 + random.uniform() * 34};
  return legs;
}

Belief live(const KeepingModel& m, Belief b, const std::vector<Leg>& legs) {
  for (const auto& leg : legs) b = advance(m, b, measure::days(leg.days), celsius(leg.temp_c));
  return b;
}

TEST(Property, UsableShareFallsWithAge) {
  for (const auto& m : all_models()) {
    double last = 1;
    for (double age = -3; age < 8; age += 0.05) {
      const double s = usable_share(m, age);
      EXPECT_LE(s, last) << m.crop;
      EXPECT_GE(s, 0) << m.crop;
      last = s;
    }
  }
}

// Dormancy and sprouting make garlic an exception by design (data/keeping/exceptions.csv).
TEST(Property, RateRisesAboveTheBestTemperature) {
  for (const auto& m : all_models()) {
    if (book().crops.is_a(m.crop, "garlic")) continue;
    double last = 0;
    for (double t = m.best_temp_c; t <= 40; t += 0.25) {
      const double rate = ageing_per_day(m, celsius(t));
      EXPECT_GE(rate * (1 + 1e-9), last) << m.crop << " at " << t;
      last = rate;
    }
    EXPECT_GT(ageing_per_day(m, celsius(35)), ageing_per_day(m, celsius(m.best_temp_c))) << m.crop;
  }
}

TEST(Property, ColderThanItsLimitAChillSensitiveCropFadesFaster) {
  int sensitive = 0;
  for (const auto& m : all_models()) {
    if (!m.chilling_below_c) continue;
    ++sensitive;
    for (double t = *m.chilling_below_c; t > -0.75; t -= 0.5) {
      EXPECT_GT(ageing_per_day(m, celsius(t - 0.5)), ageing_per_day(m, celsius(t))) << m.crop << " at " << t;
    }
  }
  EXPECT_GT(sensitive, 20);
}

TEST(Property, NoTemperatureBeatsTheBestOne) {
  for (const auto& m : all_models()) {
    for (double t = -20; t <= 45; t += 0.5) {
      EXPECT_GE(ageing_per_day(m, celsius(t)) * m.life_days_best(), 1 - 1e-9) << m.crop << " at " << t;
    }
  }
}

TEST(Property, RipenessNeverFallsAndAgeNeverShrinksExceptByALook) {
  measure::Random random(11);
  for (const auto& m : all_models()) {
    for (int i = 0; i < kHistories; ++i) {
      auto b = at_bring_in(m, static_cast<Condition>(random.below(almanac::kConditions)));
      for (const auto& leg : history(random)) {
        const auto next = advance(m, b, measure::days(leg.days), celsius(leg.temp_c));
        EXPECT_GE(next.ripeness, b.ripeness) << m.crop;
        EXPECT_LE(next.ripeness, 4) << m.crop;
        EXPECT_GE(next.age, b.age) << m.crop;
        EXPECT_LE(next.age_low, next.age + 1e-12) << m.crop;
        EXPECT_GE(next.age_high, next.age - 1e-12) << m.crop;
        b = next;
      }
    }
  }
}

TEST(Property, TheOrderOfStaysDoesNotMatter) {
  measure::Random random(12);
  for (const auto& m : all_models()) {
    for (int i = 0; i < kHistories; ++i) {
      auto legs = history(random);
      const auto start = at_bring_in(m, Condition::underripe);
      const auto forward = live(m, start, legs);
      std::ranges::reverse(legs);
      const auto backward = live(m, start, legs);
      EXPECT_NEAR(forward.age, backward.age, 1e-9 * (1 + std::abs(forward.age))) << m.crop;
      if (forward.age < 1.2) {
        EXPECT_NEAR(forward.ripeness, backward.ripeness, 1e-9) << m.crop;
      }
    }
  }
}

TEST(Property, SplittingAStayChangesNothing) {
  measure::Random random(13);
  for (const auto& m : all_models()) {
    const double days = random.uniform() * 30;
    const double temp = random.uniform() * 25;
    const auto start = at_bring_in(m, Condition::underripe);
    auto parts = start;
    for (int i = 0; i < 10; ++i) parts = advance(m, parts, measure::days(days / 10), celsius(temp));
    const auto whole = advance(m, start, measure::days(days), celsius(temp));
    EXPECT_NEAR(whole.age, parts.age, 1e-9 * (1 + std::abs(whole.age))) << m.crop;
    if (whole.age < 1.2) {
      EXPECT_NEAR(whole.ripeness, parts.ripeness, 1e-6) << m.crop;
    }
  }
}

TEST(Property, ALookGivesAnOrderedBandInTheConditionSeenAndFirmerIsNeverOlder) {
  measure::Random random(14);
  for (const auto& m : all_models()) {
    for (int i = 0; i < 5; ++i) {
      const auto b = live(m, at_bring_in(m, Condition::firm), history(random));
      double last = -100;
      for (int c = 1; c < almanac::kConditions; ++c) {
        const auto seen = observe(m, b, static_cast<Condition>(c));
        EXPECT_LE(seen.age_low, seen.age) << m.crop;
        EXPECT_LE(seen.age, seen.age_high) << m.crop;
        EXPECT_EQ(condition_of(seen), static_cast<Condition>(c)) << m.crop;
        EXPECT_GE(seen.age + 0.02, last) << m.crop << " " << c << " of age " << b.age;
        last = seen.age;
      }
    }
  }
}

TEST(Property, DaysLeftAreTheInverseOfAdvance) {
  for (const auto& m : all_models()) {
    for (const double temp : {1.0, 8.0, 18.0}) {
      const auto b = at_bring_in(m, Condition::firm);
      const auto left = days_left(m, b, celsius(temp), 0.6);
      EXPECT_LE(left.low, left.likely) << m.crop;
      EXPECT_LE(left.likely, left.high) << m.crop;
      if (left.likely >= kMostDays) continue;
      EXPECT_NEAR(usable_share(m, advance(m, b, measure::days(left.likely), celsius(temp)).age), 0.6, 1e-6) << m.crop;
    }
  }
}

TEST(Property, ALongerStayOrAWarmerOneNeverPutsOffAHazardDeadline) {
  measure::Random random(15);
  const auto start = measure::Instant{} + std::chrono::hours(24 * 20000);
  for (const auto& clock : hazard_clocks()) {
    for (int i = 0; i < 200; ++i) {
      std::vector<Stay> stays;
      auto at = start;
      for (std::uint32_t n = 0; n <= random.below(4); ++n) {
        stays.push_back({at, celsius(-20 + random.uniform() * 60)});
        at += std::chrono::minutes(1 + random.below(3000));
      }
      const auto deadline = hazard_deadline(clock, stays, at);
      auto warmer = stays;
      auto& one = warmer[random.below(static_cast<std::uint32_t>(warmer.size()))];
      one.temp = one.temp + measure::kelvin_difference(random.uniform() * 20);
      EXPECT_LE(hazard_deadline(clock, warmer, at), deadline) << clock.key;
      // What has been used stays used: time only adds.
      EXPECT_GE(hazard_used(clock, stays, at + std::chrono::hours(1)), hazard_used(clock, stays, at)) << clock.key;
      // Looking later gives the same moment: the deadline is a fact of the stays, not of the look.
      EXPECT_EQ(hazard_deadline(clock, stays, at + std::chrono::hours(5)), deadline) << clock.key;
    }
  }
}

}  // namespace
}  // namespace stillroom::keeping
