#include "planning/detail/explain.h"
namespace stillroom::planning::detail {
void explain(PlanSearch&, Plan&) {}
}  // namespace stillroom::planning::detail
