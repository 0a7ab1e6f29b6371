#include "planning/household.h"
#include "planning/plan.h"
namespace stillroom::planning {
int placeholder() { return 0; }
}  // namespace stillroom::planning
