#include "ledger/ledger.h"

#include <fmt/format.h>
#include <sqlite3.h>

#include <algorithm>

#include "ledger/detail/store.h"
#include "ledger/detail/undo.h"

namespace stillroom::ledger {

using detail::fold_entry;
using detail::fold_undone;
using detail::Mode;
using detail::RowKeys;
using detail::Rows;
using detail::Store;
using detail::StoredEntry;
using detail::UndoBook;
using measure::Refusal;
using measure::Result;

namespace {

/// A checkpoint is a copy of the whole state, kept in memory: rarely enough to cost nothing, often enough that taking
/// an entry back folds little. (On disk they would be most of the file, and reading one costs as much as folding.)
constexpr std::uint64_t kCheckpointEvery = 500;
constexpr std::size_t kCheckpointsKept = 4;

std::vector<Arrived> arrived_of(std::vector<StoredEntry> stored) {
  std::vector<Arrived> out;
  out.reserve(stored.size());
  for (StoredEntry& s : stored) out.push_back(std::move(s.arrived));
  return out;
}

/// The same thing said twice: a phone that got no answer sends an entry again, perhaps from its outbox this time.
bool same_words(const Entry& a, const Entry& b) {
  const auto bare = [](Entry e) {
    e.live = true;
    if (auto* undone = std::get_if<Undone>(&e.what)) undone->also.clear();
    return e;
  };
  return bare(a) == bare(b);
}

RowKeys differing(const Rows& a, const Rows& b) {
  RowKeys keys;
  for (const auto& [row, body] : a) {
    const auto other = b.find(row);
    if (other == b.end() || other->second != body) keys.insert(row);
  }
  for (const auto& [row, body] : b) {
    if (!a.contains(row)) keys.insert(row);
  }
  return keys;
}

/// `found` is what the file or the program has; `right` follows from the entries.
std::vector<std::string> differences(const Rows& found, const Rows& right) {
  std::vector<std::string> words;
  for (const detail::RowKey& row : differing(found, right)) {
    const auto had = found.find(row), wanted = right.find(row);
    words.push_back(fmt::format("{} {}: {}", detail::name_of(row.table), row.key,
                                had == found.end()      ? "missing"
                                : wanted == right.end() ? "no entry made it"
                                                        : detail::difference_of(had->second, wanted->second)));
  }
  return words;
}

}  // namespace

struct Ledger::Impl {
  std::string path;
  std::unique_ptr<Store> store;
  State state;
  UndoBook book;
  std::vector<State> checkpoints;  ///< in order of sequence
  bool stale = false;              ///< memory may differ from the file: read it again before anything else

  void read_again() {
    auto loaded = store->load();
    if (!loaded || loaded->sequence != store->last_sequence()) {
      throw SQLite::Exception("the stored tables do not belong to the entries", SQLITE_CORRUPT);
    }
    UndoBook undos = read_undos();
    state = std::move(*loaded);
    book = std::move(undos);
    checkpoints.clear();
    stale = false;
  }

  UndoBook read_undos() {
    UndoBook undos;
    for (const StoredEntry& s : store->of_kind("undone")) {
      const auto& undone = std::get<Undone>(s.arrived.entry.what);
      const auto named = store->find(undone.entry);
      undos.add(s.arrived.entry.id, undone, named && named->sequence < s.sequence);
    }
    return undos;
  }

  bool is_behind() { return stale || store->last_sequence() != state.sequence; }

  void rebuild() {
    SQLite::Transaction transaction(store->database(), SQLite::TransactionBehavior::IMMEDIATE);
    State folded = fold_all(arrived_of(store->entries(0)));
    store->replace_state(folded);
    transaction.commit();
    state = std::move(folded);
    book = read_undos();
    checkpoints.clear();
    stale = false;
  }

  Result<std::uint64_t> append_one(const Entry& said, Instant now) {
    Entry bare = said;
    if (auto* undone = std::get_if<Undone>(&bare.what)) undone->also.clear();
    const std::string body = to_json(bare);
    // What is folded is what is stored: masses to the milligram, and nothing that could not be read back.
    const auto entry = entry_from_json(body);
    if (!entry) return tl::unexpected(entry.error());
    if (const auto stored = store->find(entry->id)) {
      if (same_words(stored->arrived.entry, *entry)) return stored->sequence;
      return measure::refuse("id_reused",
                             fmt::format("Entry {} is in the book already and says something else.", entry->id.hex()),
                             {"Write it down as a new entry with an id of its own."});
    }
    if (std::holds_alternative<Undone>(entry->what)) return append_undo(*entry, now, body);
    const auto folded = fold_entry(state, *entry, now, {.refuses = entry->live});
    if (!folded) return tl::unexpected(folded.error());
    return write_down(*entry, now, body, folded->changed);
  }

  Result<std::uint64_t> append_undo(Entry entry, Instant now, const std::string& body) {
    auto& undone = std::get<Undone>(entry.what);
    const bool known = store->find(undone.entry).has_value();
    const Mode mode{.refuses = entry.live};
    if (const auto problem = book.problem(undone, known)) {
      const auto folded = fold_undone(state, entry, now, mode, problem);
      if (!folded) return tl::unexpected(folded.error());
      book.add(entry.id, undone, known);
      return write_down(entry, now, body, folded->changed);
    }
    const std::uint64_t from = first_reached(undone);
    detail::TakenBack taken = take_back_from(from, entry.id, undone);
    const auto folded = fold_undone(taken.after, entry, now, mode, std::nullopt);
    if (!folded) return tl::unexpected(folded.error());
    undone.also = std::move(taken.also);
    book.add(entry.id, undone, true);
    const RowKeys changed = detail::differing_rows(state, taken.after);
    state = std::move(taken.after);
    std::erase_if(checkpoints, [&](const State& s) { return s.sequence >= from; });
    return write_down(entry, now, body, changed);
  }

  std::uint64_t write_down(const Entry& e, Instant now, const std::string& body, const RowKeys& changed) {
    store->insert(state.sequence, e, now, body);
    store->write(state, changed);
    if (state.sequence % kCheckpointEvery == 0) keep_checkpoint(state);
    return state.sequence;
  }

  std::uint64_t first_reached(const Undone& undone) {
    std::uint64_t first = state.sequence + 1;
    for (const Id& id : book.reach(undone)) {
      if (const auto stored = store->find(id)) first = std::min(first, stored->sequence);
    }
    return first;
  }

  void keep_checkpoint(const State& s) {
    const auto at = std::lower_bound(checkpoints.begin(), checkpoints.end(), s.sequence,
                                     [](const State& c, std::uint64_t sequence) { return c.sequence < sequence; });
    if (at != checkpoints.end() && at->sequence == s.sequence) return;
    checkpoints.insert(at, s);
    if (checkpoints.size() > kCheckpointsKept) checkpoints.erase(checkpoints.begin());
  }

  /// The state before entry `from`, which must be one that stands as it did; `entries` come after it.
  State state_before(std::uint64_t from, std::vector<Arrived>& entries) {
    const auto newer =
        std::find_if(checkpoints.begin(), checkpoints.end(), [&](const State& c) { return c.sequence >= from; });
    State before = newer == checkpoints.begin() ? State{} : *(newer - 1);
    const std::uint64_t start = before.sequence;
    std::vector<Arrived> all = arrived_of(store->entries(start));
    const auto here = all.begin() + static_cast<std::ptrdiff_t>(from - 1 - start);
    for (auto it = all.begin(); it != here; ++it) {
      static_cast<void>(detail::fold_stored(before, *it, book));
      // It is a long way: the undo itself, or the next one, need not go it again.
      if (before.sequence % kCheckpointEvery == 0 && from - before.sequence <= kCheckpointEvery * kCheckpointsKept) {
        keep_checkpoint(before);
      }
    }
    entries.assign(std::make_move_iterator(here), std::make_move_iterator(all.end()));
    return before;
  }

  detail::TakenBack take_back_from(std::uint64_t from, const Id& by, const Undone& undone) {
    std::vector<Arrived> entries;
    State before = state_before(from, entries);
    return detail::take_back(std::move(before), entries, book, by, undone);
  }

  /// Runs `work` in one transaction on top of whatever other programs have written.
  template <class Work>
  Result<std::uint64_t> in_transaction(Work work) {
    try {
      SQLite::Transaction transaction(store->database(), SQLite::TransactionBehavior::IMMEDIATE);
      if (is_behind()) read_again();
      auto done = work();
      if (done) transaction.commit();
      return done;
    } catch (const SQLite::Exception& error) {
      Refusal refusal = detail::refusal_from(error, path);
      stale = true;
      try {
        read_again();
      } catch (const SQLite::Exception&) {  // still stale: the next append tries again first
      }
      return tl::unexpected(std::move(refusal));
    }
  }
};

Ledger::Ledger(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Ledger::Ledger(Ledger&&) noexcept = default;
Ledger& Ledger::operator=(Ledger&&) noexcept = default;
Ledger::~Ledger() = default;

Result<Ledger> Ledger::open(const std::string& path, const OpenLimits& limits) {
  auto store = Store::open(path, limits);
  if (!store) return tl::unexpected(std::move(store.error()));
  auto impl = std::make_unique<Impl>();
  impl->path = path;
  impl->store = std::move(*store);
  try {
    auto loaded = impl->store->load();
    if (loaded && loaded->sequence == impl->store->last_sequence()) {
      impl->state = std::move(*loaded);
      impl->book = impl->read_undos();
    } else {
      impl->rebuild();
    }
  } catch (const SQLite::Exception& error) {
    return tl::unexpected(detail::refusal_from(error, path));
  }
  return Ledger(std::move(impl));
}

Result<std::uint64_t> Ledger::append(const Entry& e, Instant now) {
  return impl_->in_transaction([&] { return impl_->append_one(e, now); });
}

Result<std::uint64_t> Ledger::append_all(const std::vector<Entry>& entries, Instant now) {
  return impl_->in_transaction([&]() -> Result<std::uint64_t> {
    const State state = impl_->state;
    const UndoBook book = impl_->book;
    std::uint64_t last = state.sequence;
    for (const Entry& e : entries) {
      auto done = impl_->append_one(e, now);
      if (!done) {
        impl_->state = state;
        impl_->book = book;
        impl_->checkpoints.clear();
        return done;
      }
      last = *done;
    }
    return last;
  });
}

const State& Ledger::state() const { return impl_->state; }

Result<bool> Ledger::catch_up() {
  try {
    SQLite::Transaction transaction(impl_->store->database());  // all tables as of one moment
    if (!impl_->is_behind()) return false;
    impl_->read_again();
    return true;
  } catch (const SQLite::Exception& error) {
    return tl::unexpected(detail::refusal_from(error, impl_->path));
  }
}

std::vector<Entry> Ledger::dependants_of(const Id& entry) const {
  const Undone undone{entry, {}};
  const auto stored = impl_->store->find(entry);
  if (!stored || impl_->book.problem(undone, true)) return {};
  std::vector<Entry> found;
  // The undo is not written, so any id will do for it.
  const auto taken = impl_->take_back_from(impl_->first_reached(undone), Id{}, undone);
  for (const Id& id : taken.also) {
    if (auto dependant = impl_->store->find(id)) found.push_back(std::move(dependant->arrived.entry));
  }
  return found;
}

std::vector<Entry> Ledger::entries(std::uint64_t after_sequence) const {
  std::vector<Entry> out;
  for (StoredEntry& s : impl_->store->entries(after_sequence)) out.push_back(std::move(s.arrived.entry));
  return out;
}

std::vector<Entry> Ledger::standing_of_kind(const std::string& kind) const {
  std::vector<Entry> out;
  for (StoredEntry& s : impl_->store->of_kind(kind)) {
    if (!is_undone(s.arrived.entry.id)) out.push_back(std::move(s.arrived.entry));
  }
  return out;
}

bool Ledger::holds(const Id& entry) const { return impl_->store->find(entry).has_value(); }

bool Ledger::is_undone(const Id& entry) const { return impl_->book.is_out(entry); }

std::optional<Entry> Ledger::last_entry() const {
  // Backwards in pages: the one wanted is nearly always among the newest few.
  std::uint64_t below = impl_->state.sequence;
  while (below > 0) {
    const std::uint64_t from = below > 50 ? below - 50 : 0;
    auto page = impl_->store->entries(from);
    for (auto it = page.rbegin(); it != page.rend(); ++it) {
      if (it->sequence > below) continue;
      Entry& e = it->arrived.entry;
      if (std::holds_alternative<Undone>(e.what) || std::holds_alternative<PlanAccepted>(e.what)) continue;
      if (!is_undone(e.id)) return std::move(e);
    }
    below = from;
  }
  return std::nullopt;
}

std::vector<std::string> Ledger::check() const {
  std::vector<std::string> wrong;
  try {
    Store& store = *impl_->store;
    SQLite::Transaction transaction(store.database());  // all tables as of one moment
    wrong = store.integrity();
    const auto stored = store.entries(0);
    const UndoBook book = impl_->read_undos();
    const bool current = !impl_->is_behind();
    State folded;
    for (const StoredEntry& s : stored) {
      if (s.sequence != folded.sequence + 1) {
        wrong.push_back(fmt::format("entry {} follows entry {}", s.sequence, folded.sequence));
      }
      static_cast<void>(detail::fold_stored(folded, s.arrived, book));
      for (const State& kept : impl_->checkpoints) {
        if (current && kept.sequence == folded.sequence && !equal(kept, folded)) {
          wrong.push_back(fmt::format("in memory: the checkpoint at entry {} differs from the entries", kept.sequence));
        }
      }
    }
    const Rows right = detail::all_rows(folded);
    const auto in_file = differences(store.rows(), right);
    wrong.insert(wrong.end(), in_file.begin(), in_file.end());
    if (in_file.empty() && current) {
      for (const std::string& line : differences(detail::all_rows(impl_->state), right)) {
        wrong.push_back("in memory: " + line);
      }
    }
    for (std::string& line : mass_balance(folded)) wrong.push_back(std::move(line));
  } catch (const SQLite::Exception& error) {
    wrong.push_back(detail::refusal_from(error, impl_->path).message);
  }
  return wrong;
}

Result<void> Ledger::rebuild() {
  try {
    impl_->rebuild();
    return {};
  } catch (const SQLite::Exception& error) {
    impl_->stale = true;
    return tl::unexpected(detail::refusal_from(error, impl_->path));
  }
}

}  // namespace stillroom::ledger
