#pragma once

#include <rapidcheck.h>

#include <vector>

#include "ledger/entry.h"

namespace stillroom::ledger::tests {

/// One random thing that happens, as small numbers, so that RapidCheck can shrink it. `a` and `b` pick from a handful
/// of parcels, batches and earlier entries: most entries are possible, many are not.
struct Step {
  int kind = 0, a = 0, b = 0, amount = 0, minutes = 0;
  bool live = true;
};
void showValue(const Step& step, std::ostream& os);
[[nodiscard]] rc::Gen<std::vector<Step>> steps();

/// The entry of the n-th step. Ids depend on n, and on `a` and `b` for what it names.
[[nodiscard]] Entry entry_of(const Step& step, std::size_t n);
/// What tells the n-th entry from others.
[[nodiscard]] Id entry_id(std::size_t n);

}  // namespace stillroom::ledger::tests
