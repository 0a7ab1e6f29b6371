#pragma once

#include <map>
#include <optional>
#include <vector>

#include "ledger/detail/folding.h"

/// Which entries stand and which have been taken back, and what taking one back draws with it. docs/ledger.md, "Undo".
namespace stillroom::ledger::detail {

class UndoBook {
 public:
  /// Why this undo takes nothing back: "unknown_entry", "already_undone", "later_undo_stands".
  [[nodiscard]] std::optional<Refusal> problem(const Undone& u, bool known) const;
  /// Every Undone entry in order of arrival. `known`: the entry it names came before it.
  void add(const Id& id, const Undone& u, bool known);
  [[nodiscard]] bool is_out(const Id& entry) const { return out_.contains(entry); }
  [[nodiscard]] std::optional<Refusal> trouble_of(const Id& undo) const;
  /// Entries whose standing `u` changes: the one it names, and those which taking back an undo restores.
  [[nodiscard]] std::vector<Id> reach(const Undone& u) const;

 private:
  struct Effect {
    Id id;
    Undone what;
  };
  [[nodiscard]] const Effect* effect_of(const Id& id) const;
  void set(const Effect& effect, bool on);

  std::vector<Effect> effects_;  ///< undos that took something back, in order
  std::map<Id, Id> out_;         ///< entry: the undo that took it back
  std::map<Id, Refusal> idle_;   ///< undos that took nothing back, and why
};

/// Folds a stored entry: passed over when taken back, never refused unless `mode` says so.
[[nodiscard]] Result<Folded> fold_stored(State& state, const Arrived& a, const UndoBook& book,
                                         const Mode& mode = {.refuses = false});

struct TakenBack {
  std::vector<Id> also;  ///< dependants, in order
  State after;           ///< all entries folded without them; the Undone entry itself is not folded yet
};
/// What taking back comes to. `before`: the state before entries.front(), which must not come after anything in
/// book.reach(u). A dependant is an entry that could not stand any more: it names something that is gone, or takes what
/// is no longer there. Entries that only name a vanished place or person stay.
[[nodiscard]] TakenBack take_back(State before, const std::vector<Arrived>& entries, const UndoBook& book, const Id& by,
                                  const Undone& u);

}  // namespace stillroom::ledger::detail
