#include "ledger/detail/store.h"

#include <fmt/format.h>
#include <sqlite3.h>

namespace stillroom::ledger::detail {
namespace {

[[noreturn]] void throw_corrupt(const std::string& what) { throw SQLite::Exception(what, SQLITE_CORRUPT); }

/// A prepared statement, ready again when this goes out of scope: an unfinished one would hold the file.
class Use {
 public:
  explicit Use(SQLite::Statement& s) : s_(s) {}
  ~Use() { s_.tryReset(); }
  Use(const Use&) = delete;
  Use& operator=(const Use&) = delete;
  SQLite::Statement* operator->() { return &s_; }

 private:
  SQLite::Statement& s_;
};

StoredEntry entry_from_row(SQLite::Statement& row) {
  StoredEntry stored;
  stored.sequence = static_cast<std::uint64_t>(row.getColumn(0).getInt64());
  stored.body = row.getColumn(2).getString();
  auto entry = entry_from_json(stored.body);
  const auto arrived = measure::parse_instant(row.getColumn(1).getString());
  auto also = ids_from_text(row.getColumn(3).getString());
  if (!entry || !arrived || !also) {
    throw_corrupt(fmt::format("entry {} cannot be read: {}", stored.sequence,
                              entry ? "its columns are damaged" : entry.error().message));
  }
  if (auto* undone = std::get_if<Undone>(&entry->what)) undone->also = std::move(*also);
  stored.arrived = {std::move(*entry), *arrived};
  return stored;
}

constexpr const char* kEntryColumns = "SELECT sequence, arrived, body, also FROM entries ";

}  // namespace

SQLite::Statement& Store::prepared(const std::string& sql) {
  const auto it = prepared_.find(sql);
  if (it != prepared_.end()) return it->second;
  return prepared_.try_emplace(sql, db_, sql).first->second;
}

std::uint64_t Store::last_sequence() {
  Use s(prepared("SELECT coalesce(max(sequence), 0) FROM entries"));
  s->executeStep();
  return static_cast<std::uint64_t>(s->getColumn(0).getInt64());
}

std::optional<StoredEntry> Store::find(const Id& entry) {
  SQLite::Statement& statement = prepared(std::string(kEntryColumns) + "WHERE id = ?");
  Use s(statement);
  s->bind(1, entry.hex());
  if (!s->executeStep()) return std::nullopt;
  return entry_from_row(statement);
}

std::vector<StoredEntry> Store::entries(std::uint64_t after) {
  SQLite::Statement& statement = prepared(std::string(kEntryColumns) + "WHERE sequence > ? ORDER BY sequence");
  Use s(statement);
  s->bind(1, static_cast<std::int64_t>(after));
  std::vector<StoredEntry> found;
  while (s->executeStep()) found.push_back(entry_from_row(statement));
  return found;
}

std::vector<StoredEntry> Store::of_kind(const std::string& kind) {
  SQLite::Statement& statement = prepared(std::string(kEntryColumns) + "WHERE kind = ? ORDER BY sequence");
  Use s(statement);
  s->bind(1, kind);
  std::vector<StoredEntry> found;
  while (s->executeStep()) found.push_back(entry_from_row(statement));
  return found;
}

void Store::insert(std::uint64_t sequence, const Entry& e, Instant arrived, const std::string& body) {
  const auto* undone = std::get_if<Undone>(&e.what);
  Use s(prepared("INSERT INTO entries (sequence, id, kind, happened, arrived, body, also) VALUES (?,?,?,?,?,?,?)"));
  s->bind(1, static_cast<std::int64_t>(sequence));
  s->bind(2, e.id.hex());
  s->bind(3, kind_of(e.what));
  s->bind(4, measure::to_iso(e.happened));
  s->bind(5, measure::to_iso(arrived));
  s->bind(6, body);
  s->bind(7, ids_text(undone != nullptr ? undone->also : std::vector<Id>{}));
  s->exec();
}

void Store::write(const State& state, const RowKeys& rows) {
  for (const RowKey& row : rows) {
    const std::string table(name_of(row.table));
    const auto body = row_text(state, row);
    Use s(prepared(body ? "INSERT INTO " + table +
                              " (key, body) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET body = excluded.body"
                        : "DELETE FROM " + table + " WHERE key = ?"));
    s->bind(1, row.key);
    if (body) s->bind(2, *body);
    s->exec();
  }
}

Rows Store::rows() {
  Rows found;
  for (std::size_t i = 0; i < kTableNames.size(); ++i) {
    Use s(prepared(fmt::format("SELECT key, body FROM {} ORDER BY key", kTableNames.at(i))));
    while (s->executeStep()) {
      found.emplace(RowKey{static_cast<Table>(i), s->getColumn(0).getString()}, s->getColumn(1).getString());
    }
  }
  return found;
}

std::optional<State> Store::load() {
  {
    Use s(prepared("SELECT value FROM made_with WHERE key = 'state_shape'"));
    if (!s->executeStep() || s->getColumn(0).getInt64() != kStateShape) return std::nullopt;
  }
  State state;
  for (const auto& [row, body] : rows()) {
    if (!set_row(state, row, body).empty()) return std::nullopt;
  }
  return state;
}

void Store::replace_state(const State& state) {
  for (const std::string_view table : kTableNames) db_.exec(fmt::format("DELETE FROM {}", table));
  RowKeys keys;
  for (const auto& [row, body] : all_rows(state)) keys.insert(row);
  write(state, keys);
  db_.exec(
      fmt::format("INSERT INTO made_with (key, value) VALUES ('state_shape', {}) "
                  "ON CONFLICT (key) DO UPDATE SET value = excluded.value",
                  kStateShape));
}

std::vector<std::string> Store::integrity() {
  std::vector<std::string> wrong;
  Use s(prepared("PRAGMA integrity_check"));
  while (s->executeStep()) {
    const std::string line = s->getColumn(0).getString();
    if (line != "ok") wrong.push_back("the file: " + line);
  }
  Use guards(
      prepared("SELECT count(*) FROM sqlite_schema WHERE type = 'trigger' AND name IN "
               "('entries_are_not_changed', 'entries_are_not_removed')"));
  guards->executeStep();
  if (guards->getColumn(0).getInt() != 2) wrong.emplace_back("the entries are no longer guarded against changes");
  return wrong;
}

}  // namespace stillroom::ledger::detail
