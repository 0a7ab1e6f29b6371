#pragma once

#include <vector>

#include "app/app.h"
#include "kitchen/trouble.h"

/// What the views and the verbs of trouble share. Inside app/ only.
namespace stillroom::app::detail {

/// Every fault that can befall the batch, with its spans for the batch's acid class.
[[nodiscard]] std::vector<TroubleView> troubles_of_card(const kitchen::BatchCard& card);
/// Packs, of any batch, that the settings of now put in doubt.
[[nodiscard]] std::vector<DoubtView> packs_in_doubt(const House& h);

}  // namespace stillroom::app::detail
