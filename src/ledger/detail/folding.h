#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "ledger/detail/rows.h"
#include "ledger/state.h"
#include "measure/amount.h"

/// One entry on its way into the state. Each kind has one `apply` in the file of its subject. The shape of every one:
/// look everything up and check it first (a refusal must leave the state untouched), change the state last.
namespace stillroom::ledger::detail {

using measure::Refusal;
using measure::Result;

/// How strict to be. `forgiven`: troubles that do not refuse even so, because the entry had them when it was stored.
struct Mode {
  bool refuses = true;
  std::vector<std::string> forgiven{};
};

struct Folded {
  std::vector<std::string> troubles;  ///< codes of what could not be so and was folded as far as it made sense
  RowKeys changed;                    ///< rows to write again
};

/// Folds one entry. Refuses only when `mode.refuses`, and then the state is as it was.
[[nodiscard]] Result<Folded> fold_entry(State& state, const Entry& e, Instant now, const Mode& mode);
/// An Undone entry: moves the sequence on; `trouble` says why it takes nothing back, when it does not.
[[nodiscard]] Result<Folded> fold_undone(State& state, const Entry& e, Instant now, const Mode& mode,
                                         const std::optional<Refusal>& trouble);
/// An entry that has been taken back: only moves the sequence on.
void pass_over(State& state, const Entry& e);

class Folding {
 public:
  Folding(State& state, const Entry& entry, Instant now, const Mode& mode);

  State& state;
  const Entry& entry;
  const Instant at;  ///< when it happened; the moment of arrival when it claims to lie in the future
  /// When it happened, without the slack that a clock running ahead is given: no process ends before it is over.
  [[nodiscard]] Instant at_most_now() const { return std::min(at, now_); }

  /// A rule is broken. Refusing: the refusal, to be returned at once. Otherwise noted, and the caller goes on with
  /// what makes sense or returns this as it is.
  [[nodiscard]] Result<void> broken(Refusal refusal, const Id& thing = {});
  [[nodiscard]] Result<void> broken(std::string code, std::string message, std::vector<std::string> instead = {},
                                    const Id& thing = {}) {
    return broken(Refusal{std::move(code), std::move(message), std::move(instead)}, thing);
  }
  /// Accepted, yet book and kitchen differ.
  void note(std::string code, std::string what, const Id& thing = {});

  void changes(Table table, std::string key) { folded_.changed.insert({table, std::move(key)}); }
  void changes(Table table, const Id& id) { folded_.changed.insert({table, id.hex()}); }

  /// Null when unknown. What is found counts as changed.
  [[nodiscard]] Parcel* parcel(const Id& id);
  [[nodiscard]] BatchState* batch(const Id& id);
  [[nodiscard]] Result<void> no_such_parcel(const Id& id);
  [[nodiscard]] Result<void> no_such_batch(const Id& id);

  [[nodiscard]] Result<void> check_place(const std::string& key);   ///< empty is "not said" and fine
  [[nodiscard]] Result<void> check_person(const std::string& key);  ///< the same
  [[nodiscard]] Result<void> check_key(const std::string& key, std::string_view what);
  /// A new parcel, batch or timer id: not nil, not taken. False with a note when it cannot be used.
  [[nodiscard]] Result<bool> fresh_id(const Id& id, Table table);
  /// A number that may not be below zero (nor zero, if `zero_too`); otherwise the value to go on with is 0.
  [[nodiscard]] Result<double> amount(double said, std::string_view what, bool zero_too, double most = 1e6);
  [[nodiscard]] Result<Mass> mass(Mass said, std::string_view what, bool zero_too);

  /// For messages: the household's own units.
  [[nodiscard]] std::string say(Mass m) const;
  [[nodiscard]] std::string name_of(const Parcel& p) const;  ///< "plum, 4 lb"

  [[nodiscard]] Folded finish();  ///< writes the notes and moves the sequence on

 private:
  struct Note {
    std::string code, what;
    Id thing;
  };
  const Mode& mode_;
  const Instant now_;  ///< when it arrived
  Folded folded_;
  std::vector<Note> notes_;
};

// ---- what the subjects share (parcels.cpp) -----------------------------------------------------------------------
/// A part of a parcel: all of its mass goes with all of its packs.
struct Share {
  Mass mass;
  double packs = 0;
};
/// The part meant by a mass or a number of packs (packs win where both are said). Slightly more than is there means
/// all.
[[nodiscard]] Result<Share> share_of(Folding& f, const Parcel& p, Mass mass, double packs);
/// The parcel as its account stood when the entry happened: what a late fact is held against. A live entry is held
/// against what is there now.
[[nodiscard]] Parcel as_it_was(const Folding& f, const Parcel& p);
/// Writes a line into the account of a parcel, in its place in time, tells the lines after it again and settles its
/// state. `way` and amounts as Parcel::Line.
void enter(Folding& f, Parcel& p, std::string_view way, Mass mass, double packs);
/// A share that another parcel or batch has from now on.
void take_out(Folding& f, Parcel& p, const Share& share, std::string_view way);
/// `state` from what is left and where the rest went.
void settle(const State& state, Parcel& p);
/// Ends a batch that comes to no packs: what is still in it is lost, its timers stop, its lots are settled.
void give_up(Folding& f, BatchState& b);
/// Puts a stay or a sight in its place in time; the newest by time decides `place` and `condition`.
void add_stay(Parcel& p, Instant at, const std::string& place);
void add_sight(Parcel& p, Instant at, const std::string& condition);
void add_facts(Parcel& p, const std::vector<std::string>& facts);
/// Refuses (code "do_not_eat") to let packs that are barred as food be eaten, given away or used.
[[nodiscard]] Result<void> check_is_food(Folding& f, const Parcel& p);
/// Packs that part from others, with their history, as a parcel whose id is the entry's. Nothing is taken out yet.
[[nodiscard]] Parcel part_of(const Folding& f, const Parcel& from, const Share& share);
/// Moves it to the first fridge there is.
void move_to_fridge(const Folding& f, Parcel& p);
/// Food without its process keeps days, cold: a cautious reading of "use within several days", USDA AIB-539 Guide 1.
inline constexpr std::chrono::days kFridgeDays{3};
/// What so many of its packs weigh.
[[nodiscard]] Mass mass_of_packs(const Parcel& p, double packs);
/// Packs to the nearest thousandth, so that thirds of a bag add up again.
[[nodiscard]] double rounded_packs(double packs);

/// Returns the refusal, if any, from a function that returns a Result. A macro because nothing else can return.
#define STILLROOM_TRY(expression)                                                              \
  do {                                                                                         \
    if (auto tried_ = (expression); !tried_) return tl::unexpected(std::move(tried_.error())); \
  } while (false)

// ---- one per kind -------------------------------------------------------------------------------------------------
// fold_settings.cpp
[[nodiscard]] Result<void> apply(Folding& f, const SettingsChanged& p);
[[nodiscard]] Result<void> apply(Folding& f, const PersonSet& p);
[[nodiscard]] Result<void> apply(Folding& f, const PersonRemoved& p);
[[nodiscard]] Result<void> apply(Folding& f, const PlaceSet& p);
[[nodiscard]] Result<void> apply(Folding& f, const EquipmentSet& p);
[[nodiscard]] Result<void> apply(Folding& f, const StockSet& p);
[[nodiscard]] Result<void> apply(Folding& f, const StockArriving& p);
[[nodiscard]] Result<void> apply(Folding& f, const MoneySet& p);
[[nodiscard]] Result<void> apply(Folding& f, const ForecastSet& p);
[[nodiscard]] Result<void> apply(Folding& f, const TemperatureRead& p);
[[nodiscard]] Result<void> apply(Folding& f, const OtherWorkSet& p);
[[nodiscard]] Result<void> apply(Folding& f, const OtherWorkDone& p);
[[nodiscard]] Result<void> apply(Folding& f, const NeedSet& p);
[[nodiscard]] Result<void> apply(Folding& f, const PlanAccepted& p);
[[nodiscard]] Result<void> apply(Folding& f, const DiscrepancySettled& p);
// fold_lots.cpp
[[nodiscard]] Result<void> apply(Folding& f, const BroughtIn& p);
[[nodiscard]] Result<void> apply(Folding& f, const StandingSet& p);
[[nodiscard]] Result<void> apply(Folding& f, const StandingPicked& p);
[[nodiscard]] Result<void> apply(Folding& f, const Sorted& p);
[[nodiscard]] Result<void> apply(Folding& f, const Moved& p);
[[nodiscard]] Result<void> apply(Folding& f, const Observed& p);
[[nodiscard]] Result<void> apply(Folding& f, const Weighed& p);
// fold_batches.cpp
[[nodiscard]] Result<void> apply(Folding& f, const BatchStarted& p);
[[nodiscard]] Result<void> apply(Folding& f, const StageStarted& p);
[[nodiscard]] Result<void> apply(Folding& f, const StagePutDown& p);
[[nodiscard]] Result<void> apply(Folding& f, const StageFinished& p);
[[nodiscard]] Result<void> apply(Folding& f, const BatchAbandoned& p);
[[nodiscard]] Result<void> apply(Folding& f, const ClockCorrected& p);
[[nodiscard]] Result<void> apply(Folding& f, const TimerSet& p);
[[nodiscard]] Result<void> apply(Folding& f, const TimerStopped& p);
// fold_larder.cpp
[[nodiscard]] Result<void> apply(Folding& f, const Packed& p);
[[nodiscard]] Result<void> apply(Folding& f, const PutByBefore& p);
[[nodiscard]] Result<void> apply(Folding& f, const SealChecked& p);
[[nodiscard]] Result<void> apply(Folding& f, const Taken& p);
[[nodiscard]] Result<void> apply(Folding& f, const Counted& p);
[[nodiscard]] Result<void> apply(Folding& f, const EatenFresh& p);
[[nodiscard]] Result<void> apply(Folding& f, const GivenAway& p);
[[nodiscard]] Result<void> apply(Folding& f, const ThrownAway& p);
[[nodiscard]] Result<void> apply(Folding& f, const FedToStock& p);
// fold_trouble.cpp
[[nodiscard]] Result<void> apply(Folding& f, const TroubleMet& p);
// undo.cpp
[[nodiscard]] Result<void> apply(Folding& f, const Undone& p);

}  // namespace stillroom::ledger::detail
