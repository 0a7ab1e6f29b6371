#include "keeping/keeping.h"
namespace stillroom::keeping {
int placeholder() { return 0; }
}  // namespace stillroom::keeping
