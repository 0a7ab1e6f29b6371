#include "measure/id.h"
#include "measure/quantity.h"
#include "measure/result.h"
#include "measure/time.h"
namespace stillroom::measure {
int placeholder() { return 0; }
}  // namespace stillroom::measure
