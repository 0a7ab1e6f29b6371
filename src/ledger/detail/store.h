#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "ledger/detail/rows.h"
#include "ledger/ledger.h"

/// The household file. Plain reading and writing: no rule of the ledger lives here. Functions throw SQLite::Exception
/// when the file or the disk fails; Ledger turns that into a Refusal.
namespace stillroom::ledger::detail {

/// "Stil" in ASCII, at byte 68 of every household file.
inline constexpr std::int64_t kApplicationId = 0x5374696C;

/// What a thrown error means for a person.
[[nodiscard]] measure::Refusal refusal_from(const SQLite::Exception& error, const std::string& path);

struct StoredEntry {
  std::uint64_t sequence = 0;
  Arrived arrived;
  std::string body;
};

class Store {
 public:
  /// See Ledger::open. Verifies without writing; then brings an older file up to date.
  [[nodiscard]] static measure::Result<std::unique_ptr<Store>> open(const std::string& path, const OpenLimits& limits);

  [[nodiscard]] SQLite::Database& database() { return db_; }
  [[nodiscard]] std::uint64_t last_sequence();
  [[nodiscard]] std::optional<StoredEntry> find(const Id& entry);
  /// Entries with after < sequence, in order. A body that cannot be read throws SQLITE_CORRUPT.
  [[nodiscard]] std::vector<StoredEntry> entries(std::uint64_t after);
  /// All of one kind, in order.
  [[nodiscard]] std::vector<StoredEntry> of_kind(const std::string& kind);
  void insert(std::uint64_t sequence, const Entry& e, Instant arrived, const std::string& body);

  /// Writes rows again from the state; a row the state no longer has is removed.
  void write(const State& state, const RowKeys& rows);
  /// Every stored row.
  [[nodiscard]] Rows rows();
  /// Nothing when the rows cannot be read or were made with another shape.
  [[nodiscard]] std::optional<State> load();
  /// All state tables anew.
  void replace_state(const State& state);

  /// SQLite's own check, and that entries are still guarded; empty when all is well.
  [[nodiscard]] std::vector<std::string> integrity();

 private:
  Store(const std::string& path, int flags);
  [[nodiscard]] measure::Result<void> bring_up_to_date(const std::string& path);
  SQLite::Statement& prepared(const std::string& sql);

  SQLite::Database db_;
  std::map<std::string, SQLite::Statement> prepared_;
};

}  // namespace stillroom::ledger::detail
