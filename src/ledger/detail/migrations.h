#pragma once

#include <string_view>
#include <vector>

namespace stillroom::ledger::detail {

/// One step from one file version to the next. A released step is never edited: tests/ledger/migrations_test.cpp holds
/// a hash of each.
struct Migration {
  std::string_view name;  ///< "0001_entries_and_state"
  std::string_view sql;
};
/// In order; running the first n brings a file to version n (SQLite's user_version).
[[nodiscard]] const std::vector<Migration>& migrations();

}  // namespace stillroom::ledger::detail
