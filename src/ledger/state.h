#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "ledger/entry.h"

namespace stillroom::ledger {

enum class ParcelState { waiting, underway, resting, put_by, let_go, eaten };
[[nodiscard]] std::string_view to_word(ParcelState s);

/// Everything physical is a parcel. Lots are parcels with form "fresh" (or held forms), packs are parcels with packs >
/// 0. A parcel with nothing left stays for the record and is never `waiting` or `resting`: it is `underway` while its
/// batch runs, then `put_by` (its food went into a finished batch), `eaten` or `let_go`, whichever took the most of it.
struct Parcel {
  Id id;
  std::string food;  ///< crop key
  std::string form;  ///< "fresh", "frozen_whole", "canned halves", ...
  Mass mass;
  double packs = 0;  ///< 0 for loose lots
  std::string pack;  ///< "quart jar"
  std::string place;
  std::string condition;  ///< last seen
  ParcelState state = ParcelState::waiting;
  std::string as_said, note, code;
  std::vector<std::string> facts;
  std::vector<Id> parents;
  Id batch;       ///< batch that made it or that it is in; nil otherwise
  Instant since;  ///< brought in or packed
  struct Stay {
    Instant from;
    std::string place;
    bool operator==(const Stay&) const = default;
  };
  std::vector<Stay> stays;  ///< in order of time
  struct Sight {
    Instant at;
    std::string condition;
    bool operator==(const Sight&) const = default;
  };
  std::vector<Sight> sights;  ///< bring-in and every later look, in order of time
  /// One line of its account: what left it, or what scales and counting found. In order of time, so that a jar taken
  /// before the shelf was counted is not taken twice because the phone that took it was heard of later.
  struct Line {
    Instant at;
    std::string way;   ///< "eaten", "given", "thrown", "fed", "used", "split", "counted", "weighed"
    Mass mass;         ///< as said; exact where another parcel or batch has it ("used", "split")
    double packs = 0;  ///< the same; packs win where both are said
    bool operator==(const Line&) const = default;
  };
  std::vector<Line> lines;
  std::optional<measure::Date> eat_by;
  std::string process_json;  ///< heat process as frozen into its batch; empty when none
  bool seals_unchecked = false;
  Mass eaten, given, thrown, fed;  ///< what has left it, for the mass balance

  // The rest of its account: came = mass + eaten + given + thrown + fed + used + split + adjusted, to the milligram.
  Mass came;              ///< what it began with
  Mass used;              ///< gone into batches, less what an abandoned batch gave back
  Mass split;             ///< gone into other parcels by sorting or by a failed seal
  Mass adjusted;          ///< weighed or counted as less than the book said; below zero when it was more
  double packs_made = 0;  ///< packs it began with
  Id made_by;             ///< batch it came out of; nil for lots
  Id split_from;          ///< parcel it was sorted or split out of; nil otherwise
  bool operator==(const Parcel&) const = default;
};
/// Facts that bar packs from the table; docs/ledger.md, "Packs that are not food".
inline constexpr std::string_view kDoNotEat = "do_not_eat";  ///< a trouble whose outcome is to discard
inline constexpr std::string_view kNotKnownProcessed = "not_known_processed";  ///< its heat process is not on record
inline constexpr std::string_view kProcessAgain = "process_again";  ///< waits for its whole process, with new lids
inline constexpr std::string_view kInDoubt = "in_doubt";            ///< found unsealed after a day
inline constexpr std::string_view kKeptCold = "kept_cold";          ///< food all the same, from the fridge, within days
/// Why it must not be eaten, as one of the facts above; empty when nothing speaks against it.
[[nodiscard]] std::string_view barred_as_food(const Parcel& p);

/// Something of it is left. Lists of lots and of the larder want this beside `state`.
[[nodiscard]] bool is_here(const Parcel& p);

struct BatchState {
  Id id;
  std::string route, name, steps_json;
  std::vector<BatchStarted::Input> inputs;  ///< as taken from the lots
  Instant started;
  std::map<std::string, Instant> stage_started, stage_finished;
  std::string current_stage;                                   ///< underway or put down; empty when none
  bool put_down = false, finished = false, abandoned = false;  ///< `finished` from the first Packed on
  std::vector<Id> packed;

  // Its account: in + added = packed_mass + what it still holds + lost, to the milligram.
  Mass in;           ///< inputs less what was given back
  Mass packed_mass;  ///< came out as parcels
  Mass added;        ///< water, syrup, sugar: packed beyond what went in
  Mass lost;         ///< peel, stones, steam; or all of it when abandoned
  double packs_made = 0;
  std::map<std::string, double> stock_taken;
  std::map<std::string, std::string> stage_who;

  // The clocks of its heat process, one a load, by the key of the step.
  std::map<std::string, Instant> clock_from;    ///< runs from here; gone when the step was put down or the load failed
  std::map<std::string, Instant> clock_failed;  ///< last time the whole time had to start again
  std::map<std::string, std::string> clock_said;  ///< start given by hand, and by whom (may be empty)
  bool not_processed = false;                     ///< a trouble ended its process: what comes out is no shelf food
  struct Trouble {
    Id entry;
    Instant at;
    std::string fault, outcome, stage;
    bool operator==(const Trouble&) const = default;
  };
  std::vector<Trouble> troubles;  ///< in the order in which they were written down
  bool operator==(const BatchState&) const = default;
};
/// One canner load of a batch, as its frozen card has it.
struct ProcessLoad {
  std::string stage;            ///< key of the step at which the clock runs
  double least_min = 0;         ///< published minutes
  std::optional<double> ran;    ///< minutes on the clock, once the step is finished
  std::optional<double> packs;  ///< it holds; nothing when the card has one load
  [[nodiscard]] bool done() const { return ran && *ran >= least_min; }
};
/// The loads of the batch's heat process, in order; empty when its card has none. A process without published minutes
/// is never done.
[[nodiscard]] std::vector<ProcessLoad> process_loads(const BatchState& b);
/// Packs that may be said to be processed as published: of all loads that are done, whole packs; infinite when every
/// load is; 0 when a trouble ended the process. Infinite too for a batch without a heat process.
[[nodiscard]] double packs_processed(const BatchState& b);

/// What is in a batch that is neither packed nor lost.
[[nodiscard]] Mass still_in(const BatchState& b);

struct Timer {
  Id id, batch;
  std::string name;
  Instant set, due;
  bool stopped = false;
  std::optional<std::string> note = {};
  bool operator==(const Timer&) const = default;
};
struct Standing {
  StandingSet set;  ///< `expected` is what is still to be picked
  bool picked = false;
  bool operator==(const Standing&) const = default;
};
struct OtherWork {
  OtherWorkSet set;
  bool done = false;
  bool operator==(const OtherWork&) const = default;
};
/// Book and kitchen differ: raised by a fact that could not be so, a count, or stock that ran below nothing.
struct Discrepancy {
  Id about;  ///< the entry that raised it
  std::string what;
  bool settled = false;
  std::string code;  ///< as the refusal a live entry would have got, or "count_differs", "stock_short"
  Id thing;          ///< parcel, batch or timer concerned; nil when none
  std::string how;   ///< as settled
  bool operator==(const Discrepancy&) const = default;
};
struct TemperaturePoint {
  Instant at;
  double temp_c = 0;
  std::optional<double> humidity_pct{};
  bool operator==(const TemperaturePoint&) const = default;
};

/// The household as it stands after folding entries in sequence order. Pure value.
struct State {
  std::map<std::string, std::string> settings;
  std::map<std::string, Person> people;
  std::map<std::string, Place> places;
  std::map<std::string, std::vector<TemperaturePoint>> readings;  ///< by place, in order of time
  std::map<std::string, double> equipment;
  std::map<std::string, double> stock;
  std::vector<StockArriving> arriving;
  std::optional<double> weekly_money;
  std::vector<Weather> forecast;
  std::map<Id, Parcel> parcels;
  std::map<Id, BatchState> batches;
  std::map<Id, Timer> timers;
  std::map<std::string, Standing> standing;
  std::map<std::string, OtherWork> other_work;
  std::vector<NeedSet> needs;
  std::vector<Discrepancy> discrepancies;
  std::string plan_json;
  Id plan_last_entry;          ///< newest entry the plan in force knew of
  std::uint64_t sequence = 0;  ///< of the last entry folded
  Id last_entry;               ///< newest entry of any kind, undoing ones included
  bool operator==(const State&) const = default;
};
[[nodiscard]] bool equal(const State& a, const State& b);

/// Folds one entry. `live` entries that are impossible are refused and leave the state untouched (codes
/// "unknown_parcel","more_than_there","more_packs_than_made","negative","future","unknown_batch",...); outbox facts are
/// always folded as far as they make sense and raise a Discrepancy. `now` bounds "future" (5 minutes of clock slack).
/// An Undone entry only moves `sequence` on: taking back needs the entries, so Ledger and fold_all do it.
[[nodiscard]] measure::Result<void> fold(State& state, const Entry& e, Instant now);

/// A stored entry and when it was stored.
struct Arrived {
  Entry entry;
  Instant arrived;
  bool operator==(const Arrived&) const = default;
};
/// Everything from the first entry on, without what was taken back. A stored entry is never refused here: one that
/// no longer makes sense is folded as far as it does and raises a Discrepancy.
[[nodiscard]] State fold_all(const std::vector<Arrived>& entries);

/// Where all the food went. brought + added = here + in_batches + eaten + given + thrown + fed + lost + adjusted.
struct MassAccount {
  Mass brought;     ///< brought in, picked, or put by before
  Mass added;       ///< water, syrup and the like put into packs
  Mass here;        ///< in lots and packs
  Mass in_batches;  ///< neither packed nor lost yet
  Mass eaten, given, thrown, fed;
  Mass lost;      ///< trimmings and steam of batches
  Mass adjusted;  ///< weighed or counted away
  bool operator==(const MassAccount&) const = default;
};
[[nodiscard]] MassAccount mass_account(const State& state);
/// What does not add up, in words; empty when every parcel, every batch and the whole balance to the milligram.
[[nodiscard]] std::vector<std::string> mass_balance(const State& state);

}  // namespace stillroom::ledger
