#include "planning/bound.h"

#include <gtest/gtest.h>

#include "planning/seasons.h"
#include "planning/small.h"

namespace stillroom::planning {
namespace {

using detail::Evaluator;
using detail::JobKind;
using detail::JobRequest;

Bound bound_of(const Household& h) {
  auto b = bound(h);
  if (!b) throw std::runtime_error(b.error().message);
  return std::move(*b);
}

/// Every flag of the generator in turn, 5 to 40 lots, 5 to 21 days.
bench::Season varied(int i) {
  bench::Season s;
  s.seed = static_cast<std::uint64_t>(1000 + i);
  s.lots = i % 20 == 19 ? 40 : 5 + i * 7 % 16;
  s.days = i % 3 == 0 ? 21 : i % 3 == 1 ? 12 : 5;
  s.glut = i % 5 == 0 ? 0.7 : 0.3;
  s.frost = i % 7 != 3;
  s.missing_jars = i % 2 == 1;
  s.sick_days = i % 3 == 2;
  s.shopping = i % 4 == 2;
  s.animals = i % 6 != 5;
  s.family = 1 + i % 5;
  s.start_hour = i % 8 == 7 ? 14 : 7;
  return s;
}

/// Every lot by every route in turn, in the order given: what a person without a plan might write down.
std::vector<JobRequest> everything(const Household& h, std::size_t turn) {
  std::vector<JobRequest> list;
  for (const OtherJob& job : h.other) list.push_back({.kind = JobKind::other, .what = job.key, .parts = {}});
  for (std::size_t r = 0; r < h.routes.size(); ++r) {
    const almanac::Route& route = h.routes[(r * (2 * turn + 1) + turn) % h.routes.size()];
    for (const Lot& lot : h.lots)
      list.push_back({.kind = JobKind::batch, .what = route.key, .parts = {{lot.id, route.batch_max_kg}}});
  }
  return list;
}

class GeneratedBound : public ::testing::TestWithParam<int> {};

TEST_P(GeneratedBound, IsNeverBelowAPlan) {
  for (int i = GetParam(); i < 200; i += 8) {
    const bench::Season season = varied(i);
    const Household h = bench::generate(test::published(), season);
    const Bound most = bound_of(h);
    EXPECT_TRUE(most.solved);
    const Plan plan = test::plan_of(h, 40, 1, season.seed);
    EXPECT_GE(most.value, plan.terms.total()) << "household " << i;
    Evaluator evaluator(h);
    EXPECT_GE(most.value, evaluator.worth({})) << "household " << i;
    EXPECT_GE(most.value, evaluator.worth(everything(h, static_cast<std::size_t>(i)))) << "household " << i;
  }
}
INSTANTIATE_TEST_SUITE_P(Eighths, GeneratedBound, ::testing::Range(0, 8));

TEST(Bound, RefusesASnapshotAtFault) {
  Household h = test::household();
  h.days = 0;
  const auto b = bound(h);
  ASSERT_FALSE(b);
  EXPECT_EQ(b.error().code, "bad_snapshot");
}

TEST(Bound, HoldsWhenTheSolverIsStoppedEarly) {
  const Household h = test::season(15, 4);
  const Bound whole = bound_of(h);
  const auto stopped = bound(h, {.max_iterations = 50});
  ASSERT_TRUE(stopped);
  EXPECT_FALSE(stopped->solved);
  EXPECT_GE(stopped->value, whole.value - 0.01);
}

}  // namespace
}  // namespace stillroom::planning
