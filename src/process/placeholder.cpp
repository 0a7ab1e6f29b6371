#include "process/process.h"
namespace stillroom::process {
int placeholder() { return 0; }
}  // namespace stillroom::process
