#include "app/household.h"

#include <gtest/gtest.h>

namespace stillroom::app::test {

const almanac::Almanac& published() {
  static const almanac::Almanac loaded = [] {
    auto result = almanac::load_almanac();
    if (!result) throw std::runtime_error(result.error().message);
    return std::move(*result);
  }();
  return loaded;
}

Instant morning() { return *measure::parse_instant("2026-09-14T15:00:00Z"); }

House empty_house() {
  auto ledger = ledger::Ledger::open(":memory:");
  if (!ledger) throw std::runtime_error(ledger.error().message);
  House house{published(), std::move(*ledger), measure::Random(7), ""};
  EXPECT_TRUE(set(house, morning(), "zone", "America/Denver"));
  return house;
}

House kitchen() {
  House h = empty_house();
  const Instant now = morning();
  EXPECT_TRUE(answer_start(h, now, "altitude", "1,200 ft"));
  EXPECT_TRUE(answer_start(h, now, "hands", "Alma 40 pressure, Bert 42 pressure, Cleo 12"));
  EXPECT_TRUE(answer_start(h, now, "canners", "boiling water 1, weighted 1, burners 4, slow cooker 1, dryer 6 trays"));
  EXPECT_TRUE(answer_start(h, now, "jars", "40 quart, 40 pint, 100 lids"));
  EXPECT_TRUE(answer_start(h, now, "freezer", "200 L"));
  return h;
}

std::string bring(House& h, Instant now, const std::string& line) {
  const auto draft = read_bring_in(h, now, line);
  EXPECT_TRUE(draft) << line << ": " << (draft ? "" : draft.error().message);
  if (!draft) return "";
  const auto id = bring_in(h, now, *draft);
  EXPECT_TRUE(id) << line << ": " << (id ? "" : id.error().message);
  return id.value_or("");
}

Planned planned(const House& h, Instant now) {
  auto snapshot = snapshot_for_planning(h, now);
  if (!snapshot) throw std::runtime_error(snapshot.error().message);
  planning::PlanOptions options;
  options.max_schedules = 400;
  auto plan = planning::make_plan(*snapshot, options);
  if (!plan) throw std::runtime_error(plan.error().message);
  return {std::move(*snapshot), std::move(*plan)};
}

}  // namespace stillroom::app::test
