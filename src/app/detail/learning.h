#pragma once

#include "app/app.h"
#include "kitchen/learned.h"

/// What the book says of finished batches, as kitchen/ learns from it.
namespace stillroom::app::detail {

/// Every batch that was packed and not taken back. A batch whose card cannot be read is passed over.
[[nodiscard]] std::vector<kitchen::FinishedBatch> finished_batches(const House& h);
/// Learned anew from the book each time: what is undone is unlearned.
[[nodiscard]] kitchen::Learned learned_by(const House& h);

}  // namespace stillroom::app::detail
