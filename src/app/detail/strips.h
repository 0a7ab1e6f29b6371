#pragma once

#include <vector>

#include "app/app.h"

/// Fading strips: each lot's usable share from now on, following the plan's holds, with the plan's stages as marks.
namespace stillroom::app::detail {

[[nodiscard]] StripView strip_of(const House& h, const planning::Household& snapshot, const planning::Plan& plan,
                                 const planning::LotOutlook& outlook);
/// All lots, largest cost of waiting first (the plan's order).
[[nodiscard]] std::vector<StripView> strips_of(const House& h, const planning::Household& snapshot,
                                               const planning::Plan& plan);
[[nodiscard]] const planning::Lot* lot_of(const planning::Household& snapshot, std::string_view id);

}  // namespace stillroom::app::detail
