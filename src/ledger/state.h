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
/// 0.
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
  std::vector<Stay> stays;
  struct Sight {
    Instant at;
    std::string condition;
    bool operator==(const Sight&) const = default;
  };
  std::vector<Sight> sights;  ///< bring-in and every later look
  std::optional<measure::Date> eat_by;
  std::string process_json;  ///< heat process as frozen into its batch; empty when none
  bool seals_unchecked = false;
  Mass eaten, given, thrown, fed;  ///< what has left it, for the mass balance
  bool operator==(const Parcel&) const = default;
};

struct BatchState {
  Id id;
  std::string route, name, steps_json;
  std::vector<BatchStarted::Input> inputs;
  Instant started;
  std::map<std::string, Instant> stage_started, stage_finished;
  std::string current_stage;  ///< underway or put down; empty when none
  bool put_down = false, finished = false, abandoned = false;
  std::vector<Id> packed;
};

struct Timer {
  Id id, batch;
  std::string name;
  Instant set, due;
  bool stopped = false;
  bool operator==(const Timer&) const = default;
};
struct Standing {
  StandingSet set;
  bool picked = false;
};
struct OtherWork {
  OtherWorkSet set;
  bool done = false;
};
struct Discrepancy {
  Id about;
  std::string what;
  bool settled = false;
  bool operator==(const Discrepancy&) const = default;
};
struct TemperaturePoint {
  Instant at;
  double temp_c = 0;
  bool operator==(const TemperaturePoint&) const = default;
};

/// The household as it stands after folding entries in sequence order. Pure value.
struct State {
  std::map<std::string, std::string> settings;
  std::map<std::string, Person> people;
  std::map<std::string, Place> places;
  std::map<std::string, std::vector<TemperaturePoint>> readings;  ///< by place
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
  std::uint64_t sequence = 0;  ///< of the last entry folded
  Id last_entry;
};

/// Folds one entry. `live` entries that are impossible are refused and leave the state untouched (codes
/// "unknown_parcel","more_than_there","more_packs_than_made","negative","future","unknown_batch",...); outbox facts are
/// always folded as far as they make sense and raise a Discrepancy. `now` bounds "future" (5 minutes of clock slack).
[[nodiscard]] measure::Result<void> fold(State& state, const Entry& e, Instant now);

}  // namespace stillroom::ledger
