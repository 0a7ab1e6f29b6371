#include "share/attempts.h"

#include <gtest/gtest.h>

#include "share/support.h"

namespace stillroom::share {
namespace {

using std::chrono::seconds;

TEST(Attempts, CostNothingAtFirstThenDoubleUpToTheLongestWait) {
  Attempts attempts;
  auto now = moment("2026-09-14T08:00:00Z");
  for (int i = 0; i < Attempts::kEach.free; ++i) {
    EXPECT_EQ(attempts.wait("10.0.0.7", now), seconds{0}) << i;
    attempts.failed("10.0.0.7", now);
  }
  EXPECT_EQ(attempts.wait("10.0.0.7", now), seconds{0});
  for (const int expected : {10, 20, 40, 80, 160, 320, 640, 900, 900}) {
    attempts.failed("10.0.0.7", now);
    EXPECT_EQ(attempts.wait("10.0.0.7", now), seconds{expected});
    now += seconds{expected};
    EXPECT_EQ(attempts.wait("10.0.0.7", now), seconds{0});
  }
}

TEST(Attempts, OfOneAddressDoNotKeepAnotherOut) {
  Attempts attempts;
  const auto now = moment("2026-09-14T08:00:00Z");
  for (int i = 0; i < 10; ++i) attempts.failed("10.0.0.7", now);
  EXPECT_GT(attempts.wait("10.0.0.7", now), seconds{0});
  EXPECT_EQ(attempts.wait("10.0.0.8", now), seconds{0});
}

TEST(Attempts, FromManyAddressesAreSlowedTogether) {
  Attempts attempts;
  auto now = moment("2026-09-14T08:00:00Z");
  int let_through = 0;
  for (int second = 0; second < 3600; ++second) {
    const std::string fresh = "10.0." + std::to_string(second / 250) + "." + std::to_string(second % 250);
    if (attempts.wait(fresh, now) == seconds{0}) {
      ++let_through;
      attempts.failed(fresh, now);
    }
    now += seconds{1};
  }
  // Twenty for nothing, then one a minute at most once the wait has grown: never near a guess a second.
  EXPECT_LT(let_through, 20 + 5 + 60);
  EXPECT_GT(let_through, 20);
}

TEST(Attempts, AreForgottenAfterAQuietDay) {
  Attempts attempts;
  auto now = moment("2026-09-14T08:00:00Z");
  for (int i = 0; i < 12; ++i) attempts.failed("10.0.0.7", now);
  now += Attempts::kEach.forgotten;
  attempts.failed("10.0.0.7", now);
  EXPECT_EQ(attempts.wait("10.0.0.7", now), seconds{0});
}

TEST(Attempts, SucceedingClearsTheAddress) {
  Attempts attempts;
  const auto now = moment("2026-09-14T08:00:00Z");
  for (int i = 0; i < 6; ++i) attempts.failed("10.0.0.7", now);
  attempts.succeeded("10.0.0.7");
  EXPECT_EQ(attempts.wait("10.0.0.7", now), seconds{0});
}

TEST(Attempts, AClockSetBackLengthensNothing) {
  Attempts attempts;
  const auto now = moment("2026-09-14T08:00:00Z");
  for (int i = 0; i < 5; ++i) attempts.failed("10.0.0.7", now);
  EXPECT_EQ(attempts.wait("10.0.0.7", now - std::chrono::hours{5}), seconds{10});
}

}  // namespace
}  // namespace stillroom::share
