#include <gtest/gtest.h>

#include <algorithm>
#include <functional>

#include "planning/seasons.h"

// The checker must see what is broken: each case breaks one thing of a plan that holds.
namespace stillroom::planning {
namespace {

struct Broken {
  const char* name;
  std::function<void(Household&, Plan&)> harm;
};

PlannedBatch& attended(Plan& plan) {
  for (PlannedBatch& b : plan.batches) {
    for (const PlacedStage& s : b.stages) {
      if (s.attention == almanac::Attention::hands_on) return b;
    }
  }
  throw std::runtime_error("no attended batch");
}

PlacedStage& attended_stage(Plan& plan) {
  for (PlacedStage& s : attended(plan).stages) {
    if (s.attention == almanac::Attention::hands_on) return s;
  }
  throw std::runtime_error("no attended stage");
}

class Checker : public ::testing::TestWithParam<Broken> {};

TEST_P(Checker, SeesIt) {
  Household h = test::season(18, 4);
  Plan plan = test::plan_of(h, 80);
  ASSERT_EQ(check_plan(h, plan), std::vector<std::string>{});
  GetParam().harm(h, plan);
  EXPECT_FALSE(check_plan(h, plan).empty());
}

INSTANTIATE_TEST_SUITE_P(
    Each, Checker,
    ::testing::Values(Broken{"UnknownRoute", [](Household&, Plan& p) { p.batches.front().route = "no/route"; }},
                      Broken{"MoreThanTheLot",
                             [](Household& h, Plan&) {
                               for (Lot& l : h.lots) l.kg *= 0.3;
                             }},
                      Broken{"StageInThePast",
                             [](Household& h, Plan& p) {
                               attended_stage(p).span = {h.now - 60, h.now - 30};
                             }},
                      Broken{"StageTooShort",
                             [](Household&, Plan& p) { attended_stage(p).span.to = attended_stage(p).span.from + 5; }},
                      Broken{"OffTheGrain",
                             [](Household&, Plan& p) {
                               attended_stage(p).span.from += 1;
                               attended_stage(p).span.to += 1;
                             }},
                      Broken{"NobodyThere",
                             [](Household& h, Plan&) {
                               for (Hand& x : h.hands) x.free.clear();
                             }},
                      Broken{"TooYoung",
                             [](Household& h, Plan&) {
                               for (Hand& x : h.hands) x.age = 3;
                               for (auto& r : h.routes)
                                 for (auto& s : r.stages) s.least_age = std::max(s.least_age, 4);
                             }},
                      Broken{"NoEquipment",
                             [](Household& h, Plan&) {
                               h.equipment.clear();
                               for (auto& r : h.routes)
                                 for (auto& s : r.stages) s.equipment.push_back({"burner", {1, 0, 0}});
                             }},
                      Broken{"NoJars",
                             [](Household& h, Plan&) {
                               for (auto& s : h.stock) {
                                 s.amount = 0;
                                 s.arriving.clear();
                               }
                               for (auto& r : h.routes)
                                 for (auto& s : r.stages) s.stock.push_back({h.stock.front().item, {1, 0, 0}});
                             }},
                      Broken{"TwoPlacesAtOnce", [](Household&, Plan& p) { p.batches.push_back(attended(p)); }},
                      Broken{"BarredByMould",
                             [](Household& h, Plan&) {
                               for (Lot& l : h.lots) l.facts = {"mould"};
                             }},
                      Broken{"HardClockPassed",
                             [](Household& h, Plan&) {
                               for (Lot& l : h.lots) l.hazard_by = h.now - 1;
                             }},
                      Broken{"WorthOverstated", [](Household&, Plan& p) { p.terms.put_by += 5; }},
                      Broken{"EffortForgotten", [](Household&, Plan& p) { p.terms.effort = 0; }},
                      Broken{"MissingStage",
                             [](Household&, Plan& p) {
                               for (PlannedBatch& b : p.batches) {
                                 if (b.stages.size() > 2 && b.stages.back().span.to < 10000) {
                                   b.stages.pop_back();
                                   return;
                                 }
                               }
                             }},
                      Broken{"WrongCrop",
                             [](Household& h, Plan&) {
                               for (Lot& l : h.lots) l.crop = "walnut";
                             }}),
    [](const auto& info) { return info.param.name; });

}  // namespace
}  // namespace stillroom::planning
