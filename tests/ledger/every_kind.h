#pragma once

#include <vector>

#include "ledger/entry.h"

namespace stillroom::ledger::tests {

/// One entry of every kind, with every field away from its default. Not a household that makes sense: for the JSON.
[[nodiscard]] std::vector<Entry> every_kind();

}  // namespace stillroom::ledger::tests
