#include "almanac/crops.h"
#include "almanac/csv.h"
#include "almanac/process_table.h"
#include "almanac/routes.h"
namespace stillroom::almanac {
int placeholder() { return 0; }
}  // namespace stillroom::almanac
