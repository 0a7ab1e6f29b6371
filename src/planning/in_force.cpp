#include "planning/plan.h"

namespace stillroom::planning {

std::vector<PlacedBefore> in_force(const Plan& plan, Minute shift) {
  std::vector<PlacedBefore> out;
  for (const PlannedBatch& batch : plan.batches) {
    for (const PlacedStage& stage : batch.stages) {
      for (const auto& part : batch.parts) {
        out.push_back({.lot = part.lot,
                       .route = batch.route,
                       .stage = stage.stage,
                       .start = stage.span.from + shift,
                       .hands = stage.hands,
                       .kg = part.kg,
                       .batch = batch.key});
      }
    }
  }
  return out;
}

}  // namespace stillroom::planning
