#pragma once

#include <string>
#include <vector>

#include "measure/time.h"
#include "planning/plan.h"

/// The plan in force as kept in the ledger: the plan's JSON with the day its minutes count from.
namespace stillroom::app::detail {

[[nodiscard]] std::string stored_plan(const planning::Plan& plan, measure::Date first_day);
/// Its stages on the minutes of another first day; empty for no plan or one that cannot be read.
[[nodiscard]] std::vector<planning::PlacedBefore> placed_before(const std::string& stored, measure::Date first_day);

}  // namespace stillroom::app::detail
