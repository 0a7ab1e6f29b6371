#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "ledger/entry.h"
#include "ledger/state.h"

namespace stillroom::ledger {

/// One household file: entries, and the state they fold to. Not thread-safe: the door that owns it holds a mutex.
class Ledger {
 public:
  /// Opens or creates. Refuses "not_a_household" (foreign SQLite file or other content), "newer_file" (made by a newer
  /// version), "corrupt_file"; a refused file is never written to. ":memory:" for tests.
  [[nodiscard]] static measure::Result<Ledger> open(const std::string& path);
  Ledger(Ledger&&) noexcept;
  Ledger& operator=(Ledger&&) noexcept;
  ~Ledger();

  /// Appends and folds in one transaction. The same id again is a no-op that succeeds (idempotent). Returns the
  /// sequence number.
  [[nodiscard]] measure::Result<std::uint64_t> append(const Entry& e, Instant now);
  /// All or none.
  [[nodiscard]] measure::Result<std::uint64_t> append_all(const std::vector<Entry>& entries, Instant now);
  [[nodiscard]] const State& state() const;
  /// Entries that undoing `entry` would take back too, in order.
  [[nodiscard]] std::vector<Entry> dependants_of(const Id& entry) const;
  [[nodiscard]] std::vector<Entry> entries(std::uint64_t after_sequence = 0) const;
  [[nodiscard]] std::optional<Entry> last_entry() const;  ///< newest that is neither an undo nor undone
  /// Folds everything again from the first entry and compares with the stored tables; returns differences in words
  /// (empty = equal), SQLite's own integrity check and the mass balance included.
  [[nodiscard]] std::vector<std::string> check() const;

 private:
  struct Impl;
  explicit Ledger(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace stillroom::ledger
