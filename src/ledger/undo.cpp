#include "ledger/detail/undo.h"

#include <algorithm>

namespace stillroom::ledger {
namespace detail {

Result<void> apply(Folding& f, const Undone& p) {
  if (!p.entry.is_nil()) return {};
  return f.broken("unknown_entry", "The undo names no entry.", {"Choose an entry from the history."});
}

std::optional<Refusal> UndoBook::problem(const Undone& u, bool known) const {
  if (!known) {
    return Refusal{"unknown_entry",
                   "There is no entry " + u.entry.hex().substr(0, 8) + " to take back.",
                   {"Look at the history again."}};
  }
  if (is_out(u.entry)) return Refusal{"already_undone", "That entry has been taken back already.", {}};
  // Undos are undone last first; then what they restore fits exactly as it did.
  const auto named = std::find_if(effects_.begin(), effects_.end(), [&](const Effect& e) { return e.id == u.entry; });
  if (named == effects_.end()) return std::nullopt;
  const bool later = std::any_of(named + 1, effects_.end(), [&](const Effect& e) { return !is_out(e.id); });
  if (!later) return std::nullopt;
  return Refusal{"later_undo_stands", "Something else has been taken back since.", {"Take that undo back first."}};
}

void UndoBook::add(const Id& id, const Undone& u, bool known) {
  if (auto refusal = problem(u, known)) {
    idle_.emplace(id, std::move(*refusal));
    return;
  }
  effects_.push_back({id, u});
  set(Effect(effects_.back()), true);
}

std::optional<Refusal> UndoBook::trouble_of(const Id& undo) const {
  const auto it = idle_.find(undo);
  return it == idle_.end() ? std::nullopt : std::optional<Refusal>(it->second);
}

std::vector<Id> UndoBook::reach(const Undone& u) const {
  std::vector<Id> reached = {u.entry};
  if (const Effect* effect = effect_of(u.entry); effect != nullptr) {
    for (const Id& id : reach(effect->what)) reached.push_back(id);
    reached.insert(reached.end(), effect->what.also.begin(), effect->what.also.end());
  }
  return reached;
}

const UndoBook::Effect* UndoBook::effect_of(const Id& id) const {
  const auto it = std::find_if(effects_.begin(), effects_.end(), [&](const Effect& e) { return e.id == id; });
  return it == effects_.end() ? nullptr : &*it;
}

void UndoBook::set(const Effect& effect, bool on) {
  const auto turn = [&](const Id& id) {
    if (on) {
      out_[id] = effect.id;
    } else {
      out_.erase(id);
    }
    if (const Effect* inner = effect_of(id); inner != nullptr) set(*inner, !on);
  };
  turn(effect.what.entry);
  for (const Id& id : effect.what.also) turn(id);
}

Result<Folded> fold_stored(State& state, const Arrived& a, const UndoBook& book, const Mode& mode) {
  if (book.is_out(a.entry.id)) {
    pass_over(state, a.entry);
    return Folded{};
  }
  if (std::holds_alternative<Undone>(a.entry.what))
    return fold_undone(state, a.entry, a.arrived, mode, book.trouble_of(a.entry.id));
  return fold_entry(state, a.entry, a.arrived, mode);
}

TakenBack take_back(State before, const std::vector<Arrived>& entries, const UndoBook& book, const Id& by,
                    const Undone& u) {
  UndoBook without = book;
  without.add(by, {u.entry, {}}, true);
  State with_it = before;
  TakenBack result{{}, std::move(before)};
  // What came before the entry named stands as it did when that entry was written, whatever it was.
  bool after_it = false;
  for (const Arrived& a : entries) {
    const auto stood = fold_stored(with_it, a, book);
    after_it = after_it || a.entry.id == u.entry;
    const bool may_fall = after_it && !book.is_out(a.entry.id) && !without.is_out(a.entry.id) &&
                          !std::holds_alternative<Undone>(a.entry.what);
    Mode mode{.refuses = may_fall};
    if (may_fall && stood) {
      mode.forgiven = stood->troubles;
      mode.forgiven.insert(mode.forgiven.end(), {"unknown_place", "unknown_person"});
    }
    if (!fold_stored(result.after, a, without, mode)) {
      result.also.push_back(a.entry.id);
      pass_over(result.after, a.entry);
    }
  }
  return result;
}

}  // namespace detail

State fold_all(const std::vector<Arrived>& entries) {
  detail::UndoBook book;
  std::map<Id, bool> seen;
  for (const Arrived& a : entries) {
    if (const auto* undone = std::get_if<Undone>(&a.entry.what)) {
      book.add(a.entry.id, *undone, seen.contains(undone->entry));
    }
    seen.emplace(a.entry.id, true);
  }
  State state;
  for (const Arrived& a : entries) {
    // Stored entries are never refused.
    static_cast<void>(detail::fold_stored(state, a, book));
  }
  return state;
}

}  // namespace stillroom::ledger
