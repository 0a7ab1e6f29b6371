#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>

#include "kitchen/learned.h"

namespace stillroom::kitchen {
namespace {

/// From a thousandth to a thousandfold, and now and then nonsense.
double any_ratio() {
  if (*rc::gen::inRange(0, 20) == 0) return *rc::gen::element(0.0, -1.0, std::nan(""), HUGE_VAL);
  return std::exp(*rc::gen::inRange(-6900, 6900) / 1000.0);
}
std::vector<double> any_ratios() {
  std::vector<double> out(*rc::gen::inRange<std::size_t>(0, 12));
  for (double& r : out) r = any_ratio();
  return out;
}
double any_spread() { return *rc::gen::inRange(0, 1000) / 1000.0; }

RC_GTEST_PROP(Learning, OrderOfBatchesDoesNotMatter, ()) {
  auto own = any_ratios(), lent = any_ratios();
  const double spread = any_spread();
  const Refined before = refine(spread, own, lent, kMostOffMinutes);
  std::reverse(own.begin(), own.end());
  std::rotate(lent.begin(), lent.begin() + static_cast<std::ptrdiff_t>(lent.size() / 2), lent.end());
  RC_ASSERT(refine(spread, own, lent, kMostOffMinutes) == before);
}

RC_GTEST_PROP(Learning, AnotherBelievedBatchNarrowsTheBand, ()) {
  auto own = any_ratios();
  const auto lent = any_ratios();
  const double spread = any_spread();
  const Refined before = refine(spread, own, lent, kMostOffMinutes);
  own.push_back(std::exp(*rc::gen::inRange(-1380, 1380) / 1000.0));  // within a factor of 4
  const Refined after = refine(spread, own, lent, kMostOffMinutes);
  RC_ASSERT(after.batches == before.batches + 1);
  RC_ASSERT(after.high / after.low < before.high / before.low);
}

RC_GTEST_PROP(Learning, NothingItIsToldTakesItBeyondWhatIsBelievable, ()) {
  const Refined r = refine(any_spread(), any_ratios(), any_ratios(), kMostOffMinutes);
  RC_ASSERT(r.factor > 1 / kMostOffMinutes && r.factor < kMostOffMinutes);
  RC_ASSERT(r.low < r.factor && r.factor < r.high);
}

RC_GTEST_PROP(Learning, NoBatchNoChange, ()) {
  const Refined r = refine(any_spread(), {}, {}, kMostOffYield);
  RC_ASSERT(r.factor == 1 && r.weight == 0);
}

RC_GTEST_PROP(Learning, TheMiddleLiesBetweenThePublishedFigureAndTheBatches, ()) {
  std::vector<double> own(*rc::gen::inRange<std::size_t>(1, 12));
  for (double& r : own) r = std::exp(*rc::gen::inRange(0, 1380) / 1000.0);
  const Refined r = refine(any_spread(), own, {}, kMostOffMinutes);
  RC_ASSERT(r.factor >= 1 && r.factor <= *std::max_element(own.begin(), own.end()) + 1e-12);
}

}  // namespace
}  // namespace stillroom::kitchen
