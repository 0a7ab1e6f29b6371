#include "ledger/entry.h"
#include "ledger/ledger.h"
#include "ledger/state.h"
namespace stillroom::ledger {
int placeholder() { return 0; }
}  // namespace stillroom::ledger
