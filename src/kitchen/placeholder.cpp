#include "kitchen/batch.h"
namespace stillroom::kitchen {
int placeholder() { return 0; }
}  // namespace stillroom::kitchen
