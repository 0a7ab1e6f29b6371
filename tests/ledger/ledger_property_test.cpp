#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "ledger/ledger.h"
#include "ledger/random_entries.h"
#include "ledger/support.h"

// Random households: whatever is told, in whatever order, the book stays a book.
namespace stillroom::ledger::tests {
namespace {

Instant arrival(std::size_t n) { return kNoon + std::chrono::seconds(n); }

/// Where in the book it stands aside.
State household_of(const Ledger& book) {
  State s = book.state();
  s.sequence = 0;
  s.last_entry = {};
  return s;
}

void assert_empty(const std::vector<std::string>& wrong) { RC_ASSERT(wrong == std::vector<std::string>{}); }

/// Tells it all to the book; the entries that were stored.
std::vector<Arrived> tell(Ledger& book, const std::vector<Step>& all) {
  std::vector<Arrived> stored;
  for (std::size_t n = 0; n < all.size(); ++n) {
    const Entry e = entry_of(all[n], n);
    const auto done = book.append(e, arrival(n));
    if (done) stored.push_back({e, arrival(n)});
    RC_ASSERT(done || e.live);
  }
  return stored;
}

RC_GTEST_PROP(Fold, RefusesWithoutATraceAndNeverRefusesAFact, ()) {
  const auto all = *steps();
  State state = furnished();
  for (std::size_t n = 0; n < all.size(); ++n) {
    const Entry e = entry_of(all[n], n);
    const State before = state;
    const auto folded = fold(state, e, arrival(n));
    if (!folded) {
      RC_ASSERT(e.live);
      RC_ASSERT(state == before);
      RC_ASSERT(!folded.error().message.empty());
    } else {
      RC_ASSERT(state.sequence == before.sequence + 1);
      RC_ASSERT(state.last_entry == e.id);
      if (e.live) RC_ASSERT(state.discrepancies.size() <= before.discrepancies.size() + 1);
    }
  }
}

RC_GTEST_PROP(Fold, KeepsTheMassBalanceToTheMilligram, ()) {
  const auto all = *steps();
  State state = furnished();
  for (std::size_t n = 0; n < all.size(); ++n) {
    const auto folded = fold(state, entry_of(all[n], n), arrival(n));
    if (folded) assert_empty(mass_balance(state));
  }
}

RC_GTEST_PROP(Fold, CountsWhatCameInLikeAnAdderThatKnowsNothingElse, ()) {
  const auto all = *steps();
  State state = furnished();
  std::int64_t brought = 0;
  for (std::size_t n = 0; n < all.size(); ++n) {
    Entry e = entry_of(all[n], n);
    e.live = true;  // what is folded is folded as said
    if (!fold(state, e, arrival(n))) continue;
    Mass in;
    if (const auto* p = std::get_if<BroughtIn>(&e.what)) in = p->mass;
    if (const auto* p = std::get_if<StandingPicked>(&e.what)) in = p->mass;
    if (const auto* p = std::get_if<PutByBefore>(&e.what)) in = p->mass;
    brought += std::llround(measure::in_grams(in) * 1000);
  }
  RC_ASSERT(std::llround(measure::in_grams(mass_account(state).brought) * 1000) == brought);
}

RC_GTEST_PROP(EntryJsonProperty, RoundTrips, ()) {
  const auto all = *steps();
  for (std::size_t n = 0; n < all.size(); ++n) {
    const std::string json = to_json(entry_of(all[n], n));
    const auto entry = entry_from_json(json);
    RC_ASSERT(entry.has_value());
    RC_ASSERT(to_json(*entry) == json);
  }
}

RC_GTEST_PROP(EntryJsonProperty, DamagedTextIsReadOrRefusedButNeverMore, ()) {
  const auto all = *rc::gen::nonEmpty(steps());
  std::string json = to_json(entry_of(all.front(), 0));
  const auto hits = *rc::gen::container<std::vector<std::pair<std::size_t, char>>>(
      rc::gen::pair(rc::gen::inRange<std::size_t>(0, json.size()), rc::gen::arbitrary<char>()));
  for (const auto& [where, what] : hits) json[where] = what;
  const auto entry = entry_from_json(json);
  if (!entry) {
    RC_ASSERT(entry.error().code == "bad_entry" || entry.error().code == "newer_entry");
  } else {
    RC_ASSERT(entry_from_json(to_json(*entry)).has_value());
  }
}

RC_GTEST_PROP(Book, FollowsFromItsEntries, ()) {
  const auto all = *steps();
  Ledger book = Ledger::open(":memory:").value();
  const auto stored = tell(book, all);
  assert_empty(book.check());
  RC_ASSERT(book.state().sequence == stored.size());
  std::vector<Arrived> as_kept;
  const auto kept = book.entries();
  for (std::size_t n = 0; n < kept.size(); ++n) as_kept.push_back({kept[n], stored[n].arrived});
  RC_ASSERT(fold_all(as_kept) == book.state());
}

RC_GTEST_PROP(Book, HearsEverythingTwiceAndKeepsItOnce, ()) {
  const auto all = *steps();
  Ledger book = Ledger::open(":memory:").value();
  const auto stored = tell(book, all);
  const State before = book.state();
  for (std::size_t n = stored.size(); n-- > 0;) {
    RC_ASSERT(book.append(stored[n].entry, arrival(9999)).value() == n + 1);
  }
  RC_ASSERT(book.state() == before);
}

RC_GTEST_PROP(Book, TakesBackItsLastEntryWithoutATrace, ()) {
  auto all = *rc::gen::nonEmpty(steps());
  Ledger book = Ledger::open(":memory:").value();
  const Step last = all.back();
  all.pop_back();
  tell(book, all);
  const State before = household_of(book);
  const Entry e = entry_of(last, all.size());
  if (std::holds_alternative<Undone>(e.what) || !book.append(e, arrival(all.size()))) return;
  const State after = household_of(book);
  RC_ASSERT(book.append(live("undo", Undone{e.id}), arrival(all.size())).has_value());
  RC_ASSERT(household_of(book) == before);
  RC_ASSERT(book.append(live("redo", Undone{id_of("undo")}), arrival(all.size())).has_value());
  RC_ASSERT(household_of(book) == after);
  assert_empty(book.check());
}

RC_GTEST_PROP(Book, TakesBackAnyEntryAndRestoresIt, ()) {
  const auto all = *rc::gen::nonEmpty(steps());
  Ledger book = Ledger::open(":memory:").value();
  const auto stored = tell(book, all);
  if (stored.empty()) return;
  const auto which = *rc::gen::inRange<std::size_t>(0, stored.size());
  const State before = household_of(book);
  const auto with = book.dependants_of(stored[which].entry.id);
  if (!book.append(live("undo", Undone{stored[which].entry.id}), arrival(all.size()))) return;
  for (const Entry& e : with) RC_ASSERT(book.is_undone(e.id));
  assert_empty(book.check());
  RC_ASSERT(book.append(live("redo", Undone{id_of("undo")}), arrival(all.size())).has_value());
  RC_ASSERT(household_of(book) == before);
  assert_empty(book.check());
}

RC_GTEST_PROP(Book, WritesManyOrNone, ()) {
  const auto all = *steps();
  Ledger book = Ledger::open(":memory:").value();
  std::vector<Entry> entries;
  for (std::size_t n = 0; n < all.size(); ++n) entries.push_back(entry_of(all[n], n));
  Ledger one_by_one = Ledger::open(":memory:").value();
  bool refused = false;
  for (const Entry& e : entries) refused = refused || !one_by_one.append(e, kNoon);
  const auto done = book.append_all(entries, kNoon);
  RC_ASSERT(done.has_value() == !refused);
  RC_ASSERT(book.state() == (refused ? State{} : one_by_one.state()));
  assert_empty(book.check());
}

}  // namespace
}  // namespace stillroom::ledger::tests
