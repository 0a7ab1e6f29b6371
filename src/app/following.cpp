#include <algorithm>
#include <tuple>

#include "app/app.h"
#include "app/detail/plan_store.h"
#include "app/detail/record.h"

namespace stillroom::app {
namespace {

/// How far ahead a change of plan costs something (docs/science/planning_model.md, "change").
constexpr planning::Minute kNear = 2 * 1440;

using NearStage = std::tuple<std::string, std::string, std::string, planning::Minute, std::vector<std::string>>;

std::vector<NearStage> near_term(const std::vector<planning::PlacedBefore>& placed, planning::Minute now) {
  std::vector<NearStage> out;
  for (const planning::PlacedBefore& p : placed) {
    if (p.start >= now && p.start < now + kNear) out.emplace_back(p.lot, p.route, p.stage, p.start, p.hands);
  }
  std::sort(out.begin(), out.end());
  return out;
}

}  // namespace

Result<bool> follow(House& h, Instant now, const planning::Household& snapshot, const planning::Plan& plan) {
  const ledger::State& state = h.ledger.state();
  const auto ahead = near_term(planning::in_force(plan, 0), snapshot.now);
  if (ahead == near_term(detail::placed_before(state.plan_json, snapshot.first_day), snapshot.now)) return false;
  auto written = detail::record(
      h, now, ledger::PlanAccepted{detail::stored_plan(plan, snapshot.first_day), state.last_entry}, "plan");
  if (!written) return tl::unexpected(written.error());
  return true;
}

}  // namespace stillroom::app
