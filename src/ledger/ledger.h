#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "ledger/entry.h"
#include "ledger/state.h"

namespace stillroom::ledger {

/// For small disks and for tests.
struct OpenLimits {
  std::uint32_t most_pages = 0;  ///< largest size of the file in pages of 4 KiB; 0 = as much as the disk holds
};

/// One household file: entries, and the state they fold to. Not thread-safe: the door that owns it holds a mutex.
class Ledger {
 public:
  /// Opens or creates. Refuses "not_a_household" (foreign SQLite file, folder or other content), "newer_file" (made by
  /// a newer version), "corrupt_file", "read_only", "cannot_open", "file_busy"; a refused file is never written to.
  /// ":memory:" for tests.
  [[nodiscard]] static measure::Result<Ledger> open(const std::string& path, const OpenLimits& limits = {});
  Ledger(Ledger&&) noexcept;
  Ledger& operator=(Ledger&&) noexcept;
  ~Ledger();

  /// Appends and folds in one transaction; when this returns, the entry is on disk. The same id again is a no-op that
  /// succeeds (idempotent), unless what it says differs ("id_reused"). Refuses with the codes of fold(), for an undo
  /// "unknown_entry", "already_undone", "later_undo_stands", and when the file fails "disk_full", "disk_trouble",
  /// "file_busy", "read_only"; nothing has changed then. Returns the sequence number.
  [[nodiscard]] measure::Result<std::uint64_t> append(const Entry& e, Instant now);
  /// All or none. Returns the last sequence number.
  [[nodiscard]] measure::Result<std::uint64_t> append_all(const std::vector<Entry>& entries, Instant now);
  [[nodiscard]] const State& state() const;
  /// Reads what another program has appended to the same file since; true when there was something. append() does so by
  /// itself first.
  [[nodiscard]] measure::Result<bool> catch_up();
  /// Entries that undoing `entry` would take back too, in order.
  [[nodiscard]] std::vector<Entry> dependants_of(const Id& entry) const;
  [[nodiscard]] std::vector<Entry> entries(std::uint64_t after_sequence = 0) const;
  /// Entries of one kind (kind_of) that are not taken back, in order.
  [[nodiscard]] std::vector<Entry> standing_of_kind(const std::string& kind) const;
  /// Written down, whether it was taken back since or not.
  [[nodiscard]] bool holds(const Id& entry) const;
  /// Taken back and not restored since.
  [[nodiscard]] bool is_undone(const Id& entry) const;
  [[nodiscard]] std::optional<Entry> last_entry()
      const;  ///< newest a person could take back: no undo, no plan, not undone
  /// Folds everything again from the first entry and compares with the stored tables; returns differences in words
  /// (empty = equal), SQLite's own integrity check and the mass balance included.
  [[nodiscard]] std::vector<std::string> check() const;
  /// Makes the stored tables anew from the entries, which are the truth.
  [[nodiscard]] measure::Result<void> rebuild();

 private:
  struct Impl;
  explicit Ledger(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace stillroom::ledger
