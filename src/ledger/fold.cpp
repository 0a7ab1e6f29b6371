#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ledger/detail/folding.h"
#include "ledger/detail/milligrams.h"
#include "measure/text.h"

namespace stillroom::ledger {

std::string_view to_word(ParcelState s) {
  switch (s) {
    case ParcelState::waiting:
      return "waiting";
    case ParcelState::underway:
      return "underway";
    case ParcelState::resting:
      return "resting";
    case ParcelState::put_by:
      return "put by";
    case ParcelState::let_go:
      return "let go";
    case ParcelState::eaten:
      return "eaten";
  }
  return "waiting";
}

bool is_here(const Parcel& p) { return p.mass > Mass{} || p.packs > 0; }

bool equal(const State& a, const State& b) { return a == b; }

measure::Result<void> fold(State& state, const Entry& e, Instant now) {
  auto folded = detail::fold_entry(state, e, now, {.refuses = e.live});
  if (!folded) return tl::unexpected(std::move(folded.error()));
  return {};
}

namespace detail {
namespace {

constexpr std::chrono::minutes kClockSlack{5};
constexpr std::size_t kLongestKey = 120;

template <class Map>
std::vector<std::string> keys_of(const Map& map) {
  std::vector<std::string> keys;
  for (const auto& [key, value] : map) keys.push_back(key);
  return keys;
}

/// "Did you mean ..." for a key that is not in the book, or what there is.
std::vector<std::string> near_keys(const std::string& typed, const std::vector<std::string>& known,
                                   const std::string& otherwise) {
  std::vector<std::string> instead;
  for (const std::string& key : measure::suggest(typed, known)) instead.push_back("Did you mean " + key + "?");
  instead.push_back(otherwise);
  return instead;
}

Result<void> check_envelope(Folding& f, Instant now) {
  if (f.entry.happened > now + kClockSlack) {
    STILLROOM_TRY(f.broken(
        "future",
        fmt::format("{} is still to come: it is {} now.", measure::to_iso(f.entry.happened), measure::to_iso(now)),
        {"Check the clock of the phone or computer.", "Write it down when it has happened."}));
  }
  // Taking back one's own first entry must work too: an undo changes nothing in anybody's name.
  if (std::holds_alternative<Undone>(f.entry.what)) return {};
  // The first person of a household may write down themselves.
  const auto* person = std::get_if<PersonSet>(&f.entry.what);
  if (person != nullptr && person->person.key == f.entry.who) return {};
  return f.check_person(f.entry.who);
}

}  // namespace

Folding::Folding(State& s, const Entry& e, Instant now, const Mode& mode)
    : state(s), entry(e), at(e.happened > now + kClockSlack ? now : e.happened), mode_(mode), now_(now) {}

Result<void> Folding::broken(Refusal refusal, const Id& thing) {
  const bool forgiven = std::find(mode_.forgiven.begin(), mode_.forgiven.end(), refusal.code) != mode_.forgiven.end();
  if (mode_.refuses && !forgiven) return tl::unexpected(std::move(refusal));
  folded_.troubles.push_back(refusal.code);
  note(std::move(refusal.code), std::move(refusal.message), thing);
  return {};
}

void Folding::note(std::string code, std::string what, const Id& thing) {
  notes_.push_back({std::move(code), std::move(what), thing});
}

Parcel* Folding::parcel(const Id& id) {
  const auto it = state.parcels.find(id);
  if (it == state.parcels.end()) return nullptr;
  changes(Table::parcels, id);
  return &it->second;
}

BatchState* Folding::batch(const Id& id) {
  const auto it = state.batches.find(id);
  if (it == state.batches.end()) return nullptr;
  changes(Table::batches, id);
  return &it->second;
}

Result<void> Folding::no_such_parcel(const Id& id) {
  return broken("unknown_parcel", "There is no lot or pack " + id.hex().substr(0, 8) + " in this household.",
                {"Look it up again: it may have been undone or sorted into others."}, id);
}

Result<void> Folding::no_such_batch(const Id& id) {
  return broken("unknown_batch", "There is no batch " + id.hex().substr(0, 8) + " in this household.",
                {"Look it up again: its start may have been undone."}, id);
}

Result<void> Folding::check_place(const std::string& key) {
  if (key.empty() || state.places.contains(key)) return {};
  return broken("unknown_place", fmt::format("There is no place called '{}'.", key),
                near_keys(key, keys_of(state.places), "Add the place first."));
}

Result<void> Folding::check_person(const std::string& key) {
  if (key.empty() || state.people.contains(key)) return {};
  return broken("unknown_person", fmt::format("Nobody here is called '{}'.", key),
                near_keys(key, keys_of(state.people), "Add the person first, or leave the name out."));
}

Result<void> Folding::check_key(const std::string& key, std::string_view what) {
  if (!key.empty() && key.size() <= kLongestKey) return {};
  return broken("bad_name", fmt::format("A {} needs a name of 1 to {} letters.", what, kLongestKey));
}

Result<bool> Folding::fresh_id(const Id& id, Table table) {
  const bool taken = table == Table::parcels   ? state.parcels.contains(id)
                     : table == Table::batches ? state.batches.contains(id)
                                               : state.timers.contains(id);
  if (!taken && !id.is_nil()) return true;
  const std::string_view what = table == Table::parcels ? "parcel" : table == Table::batches ? "batch" : "timer";
  STILLROOM_TRY(broken(std::string(what) + "_exists",
                       id.is_nil() ? fmt::format("The {} has no id.", what)
                                   : fmt::format("The {} {} is in the book already.", what, id.hex().substr(0, 8)),
                       {"Give it an id of its own."}, id));
  return false;
}

Result<double> Folding::amount(double said, std::string_view what, bool zero_too, double most) {
  if (!std::isfinite(said) || said < 0 || said > most) {
    STILLROOM_TRY(broken("negative", fmt::format("{} cannot be {}.", what, measure::say_number(said)),
                         {fmt::format("Give a number from 0 to {}.", measure::say_number(most))}));
    return 0.0;
  }
  if (zero_too && said == 0) {
    STILLROOM_TRY(broken("zero", fmt::format("{} is nothing at all.", what), {"Say how much it was."}));
  }
  return said;
}

Result<Mass> Folding::mass(Mass said, std::string_view what, bool zero_too) {
  const auto kg = amount(measure::in_kilograms(said), what, false, kMostAtOnceKg);
  if (!kg) return tl::unexpected(kg.error());
  const Mass exact = rounded(measure::kilograms(*kg));
  const bool sensible = *kg == measure::in_kilograms(said);
  if (zero_too && sensible && milligrams(exact) == 0) {
    STILLROOM_TRY(broken("zero", fmt::format("{} is nothing at all.", what), {"Say how much it was."}));
  }
  return exact;
}

std::string Folding::say(Mass m) const {
  const auto it = state.settings.find("units");
  const bool metric = it != state.settings.end() && it->second == "metric";
  return measure::say(m, metric ? measure::Units::metric : measure::Units::us);
}

std::string Folding::name_of(const Parcel& p) const {
  if (p.packs > 0)
    return fmt::format("{} of {}", measure::say_count(p.packs, p.pack.empty() ? "pack" : p.pack), p.food);
  return fmt::format("{} of {}", say(p.mass), p.food);
}

Folded Folding::finish() {
  for (Note& n : notes_) {
    changes(Table::discrepancies, discrepancy_key(state.discrepancies.size()));
    state.discrepancies.push_back({entry.id, std::move(n.what), false, std::move(n.code), n.thing, {}});
  }
  pass_over(state, entry);
  changes(Table::sections, "head");
  return std::move(folded_);
}

void pass_over(State& state, const Entry& e) {
  ++state.sequence;
  state.last_entry = e.id;
}

Result<Folded> fold_entry(State& state, const Entry& e, Instant now, const Mode& mode) {
  Folding f(state, e, now, mode);
  STILLROOM_TRY(check_envelope(f, now));
  STILLROOM_TRY(std::visit([&f](const auto& p) { return apply(f, p); }, e.what));
  return f.finish();
}

Result<Folded> fold_undone(State& state, const Entry& e, Instant now, const Mode& mode,
                           const std::optional<Refusal>& trouble) {
  Folding f(state, e, now, mode);
  STILLROOM_TRY(check_envelope(f, now));
  if (trouble) STILLROOM_TRY(f.broken(*trouble, std::get<Undone>(e.what).entry));
  return f.finish();
}

}  // namespace detail
}  // namespace stillroom::ledger
