#pragma once

#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "measure/id.h"
#include "measure/quantity.h"
#include "measure/time.h"

/// Everything that happens to a household is one immutable entry. docs/ledger.md lists every kind and its JSON.
namespace stillroom::ledger {

using measure::Id;
using measure::Instant;
using measure::Mass;

/// A period of wall-clock time, repeated weekly or once. Minutes since local midnight; 0..1440.
struct FreeTime {
  int weekday = 0;  ///< 0 Monday .. 6 Sunday; -1 = only on `date`
  std::optional<measure::Date> date;
  int from_min = 0, to_min = 0;
  bool operator==(const FreeTime&) const = default;
};

struct Person {
  std::string key, name;
  int age = 30;
  std::vector<std::string> skills;      ///< "pressure_canning", "butchering"
  std::vector<FreeTime> free;           ///< weekly pattern; a date row replaces that whole day (from = to: not there)
  double usable_minutes_per_hour = 45;  ///< what interruptions leave
  int most_minutes_per_day = 600;
  bool needs_minding = false;  ///< small child: takes an adult's time
  bool operator==(const Person&) const = default;
};

struct Place {
  std::string key, name;
  std::string kind;    ///< "counter","fridge","freezer","cellar","cool_room","shelf","porch"
  double temp_c = 20;  ///< usual
  double humidity_pct = 60;
  double capacity = 0;  ///< litres for freezer and fridge, kg for cellar and room, packs for shelf; 0 = not limited
  bool operator==(const Place&) const = default;
};

struct Weather {
  measure::Date day;
  double low_c = 0, high_c = 0, rain_mm = 0, wind_kmh = 0;
  bool operator==(const Weather&) const = default;
};

// ---- what can happen -------------------------------------------------------------------------------------------
// Kinds and field names are stored on disk: add, never rename. `std::string key`s are household-unique.

struct SettingsChanged {
  std::map<std::string, std::string> values;
  bool operator==(const SettingsChanged&) const = default;
};  ///< "name","altitude_ft","zone","units","one_job_today","meals",...
struct PersonSet {
  Person person;
  bool operator==(const PersonSet&) const = default;
};
struct PersonRemoved {
  std::string key;
  bool operator==(const PersonRemoved&) const = default;
};
struct PlaceSet {
  Place place;
  bool operator==(const PlaceSet&) const = default;
};
struct EquipmentSet {
  std::string key;
  double count = 0;
  bool operator==(const EquipmentSet&) const = default;
};
struct StockSet {
  std::string item;
  double amount = 0;
  bool operator==(const StockSet&) const = default;
};  ///< counted
struct StockArriving {
  std::string item;
  double amount = 0;
  measure::Date day;
  bool operator==(const StockArriving&) const = default;
};
struct MoneySet {
  double weekly_limit = 0;
  bool operator==(const MoneySet&) const = default;
};
struct ForecastSet {
  std::vector<Weather> days;
  bool operator==(const ForecastSet&) const = default;
};
struct TemperatureRead {
  std::string place;
  double temp_c = 0;
  std::optional<double> humidity_pct;
  bool operator==(const TemperatureRead&) const = default;
};

struct BroughtIn {  ///< a new lot
  Id parcel;
  std::string crop;
  Mass mass;
  std::string condition;  ///< Condition word
  std::string place, form = "fresh", note;
  std::string as_said;             ///< "2 bu"
  std::vector<std::string> facts;  ///< "frost_killed_vine", "frozen_raw", "mould", ...
  bool operator==(const BroughtIn&) const = default;
};
struct StandingSet {
  std::string key, crop;
  Mass expected;
  measure::Date ready_from, ready_to;
  double pick_min_per_kg = 2;
  std::string note;
  bool operator==(const StandingSet&) const = default;
};
struct StandingPicked {
  std::string key;
  Id parcel;
  Mass mass;
  std::string condition, place;
  bool more_to_come = false;  ///< true: the row stays open with what is left of `expected`
  std::string form = "fresh", note;
  std::vector<std::string> facts;
  bool operator==(const StandingPicked&) const = default;
};
struct Sorted {
  Id parcel;
  struct Part {
    Id parcel;
    Mass mass;
    std::string condition;
    std::string place;
    bool operator==(const Part&) const = default;
  };
  std::vector<Part> parts;
  Mass discarded;
  bool operator==(const Sorted&) const = default;
};
struct Moved {
  Id parcel;
  std::string place;
  bool operator==(const Moved&) const = default;
};
struct Observed {
  Id parcel;
  std::string condition;
  std::vector<std::string> facts;
  bool operator==(const Observed&) const = default;
};
struct Weighed {
  Id parcel;
  Mass mass;
  bool operator==(const Weighed&) const = default;
};
struct EatenFresh {
  Id parcel;
  Mass mass;
  bool operator==(const EatenFresh&) const = default;
};
struct GivenAway {
  Id parcel;
  Mass mass;
  double packs = 0;
  std::string to;
  bool operator==(const GivenAway&) const = default;
};
struct ThrownAway {
  Id parcel;
  Mass mass;
  double packs = 0;
  std::string why;
  bool operator==(const ThrownAway&) const = default;
};
struct FedToStock {
  Id parcel;
  Mass mass;
  bool operator==(const FedToStock&) const = default;
};

struct BatchStarted {
  Id batch;
  std::string route, name;
  struct Input {
    Id parcel;
    Mass mass;
    bool operator==(const Input&) const = default;
  };
  std::vector<Input> inputs;
  std::string steps_json;  ///< scaled steps and the heat process, frozen: docs/ledger.md
  bool operator==(const BatchStarted&) const = default;
};
struct StageStarted {
  Id batch;
  std::string stage;
  std::string who;
  bool operator==(const StageStarted&) const = default;
};
struct StagePutDown {
  Id batch;
  std::string stage;
  bool operator==(const StagePutDown&) const = default;
};
struct StageFinished {
  Id batch;
  std::string stage;
  bool operator==(const StageFinished&) const = default;
};
struct ClockCorrected {  ///< when the clock of a heat process truly began, said by whoever was there
  Id batch;
  std::string stage;
  Instant began;
  bool operator==(const ClockCorrected&) const = default;
};
struct TroubleMet {         ///< something went wrong, and what was done about it
  std::string fault;        ///< key of data/kitchen/trouble.csv
  std::string outcome;      ///< "process_again","chill","discard","keep_watch" or "go_on"
  Id batch;                 ///< nil when it befell a place or packs
  std::string stage;        ///< of the batch, when only one load is concerned
  std::string place;        ///< a freezer that lost its cold; empty otherwise
  std::vector<Id> parcels;  ///< packs concerned; with a batch and none named, all it made
  double packs = 0;         ///< with one parcel: so many of its packs, which become one of their own; 0 = all
  std::optional<double> elapsed_min{};
  std::string note{};
  bool operator==(const TroubleMet&) const = default;
};
struct BatchAbandoned {
  Id batch;
  std::string why;
  bool give_back = false;  ///< the food goes back to its lots; always so while no stage has begun
  bool operator==(const BatchAbandoned&) const = default;
};
struct TimerSet {
  Id timer;
  Id batch;
  std::string name;
  Instant due;
  std::optional<std::string> note =
      {};  ///< whose time it is, where it is the person's own ("the pectin maker's leaflet")
  bool operator==(const TimerSet&) const = default;
};
struct TimerStopped {
  Id timer;
  bool operator==(const TimerStopped&) const = default;
};
struct Packed {  ///< a batch yields packs
  Id batch;
  Id parcel;
  std::string food, form, pack;
  double packs = 0;
  Mass mass;  ///< 0 = all that the batch still holds
  std::string place;
  std::string code;
  measure::Date eat_by;  ///< 1970-01-01 = not said
  double keeps_months = 12;
  bool operator==(const Packed&) const = default;
};
struct PutByBefore {  ///< packs that were on the shelf before this book began, or were bought
  Id parcel;
  std::string food, form, pack;
  double packs = 0;
  Mass mass;
  std::string place;
  std::string code, note;
  measure::Date eat_by;
  double keeps_months = 12;
  bool operator==(const PutByBefore&) const = default;
};
struct SealChecked {
  Id parcel;
  double sealed = 0, failed = 0;  ///< the failed ones become a parcel of their own, whose id is this entry's id
  bool operator==(const SealChecked&) const = default;
};
struct Taken {
  Id parcel;
  double packs = 0;
  std::string why;
  bool operator==(const Taken&) const = default;
};
struct Counted {
  Id parcel;
  double packs = 0;
  bool operator==(const Counted&) const = default;
};
struct OtherWorkSet {
  std::string key, name;
  double minutes = 60;
  int hands = 1, least_age = 0;
  std::optional<measure::Date> not_before, deadline;
  double importance = 1;
  bool can_split = true;
  bool daylight = true, dry = false;
  std::optional<double> min_temp_c, max_wind_kmh;
  bool operator==(const OtherWorkSet&) const = default;
};
struct OtherWorkDone {
  std::string key;
  bool operator==(const OtherWorkDone&) const = default;
};
struct NeedSet {
  std::string food, form;
  double per_year_kg = 0, weight = 1;
  bool operator==(const NeedSet&) const = default;
};
struct PlanAccepted {
  std::string plan_json;
  Id last_entry;
  bool operator==(const PlanAccepted&) const = default;
};  ///< the plan in force
struct Undone {
  Id entry;
  /// The dependants it took back too, in order. Filled in by the ledger on arrival; what a client sends is not used.
  std::vector<Id> also{};
  bool operator==(const Undone&) const = default;
};  ///< takes back `entry` and what depends on it
struct DiscrepancySettled {
  Id about;
  std::string how;
  bool operator==(const DiscrepancySettled&) const = default;
};

using Payload = std::variant<SettingsChanged, PersonSet, PersonRemoved, PlaceSet, EquipmentSet, StockSet, StockArriving,
                             MoneySet, ForecastSet, TemperatureRead, BroughtIn, StandingSet, StandingPicked, Sorted,
                             Moved, Observed, Weighed, EatenFresh, GivenAway, ThrownAway, FedToStock, BatchStarted,
                             StageStarted, StagePutDown, StageFinished, BatchAbandoned, TimerSet, TimerStopped, Packed,
                             SealChecked, Taken, Counted, OtherWorkSet, OtherWorkDone, NeedSet, PlanAccepted, Undone,
                             DiscrepancySettled, PutByBefore, ClockCorrected, TroubleMet>;

struct Entry {
  Id id;             ///< made by the client; the same id twice is the same entry
  Instant happened;  ///< when it happened
  std::string who;   ///< person key or empty
  bool live = true;  ///< false: a fact from a phone's outbox, always stored
  Payload what;
  bool operator==(const Entry&) const = default;
};

/// Stable name of the payload kind on disk and in JSON: "brought_in", "seal_checked", ...
[[nodiscard]] std::string kind_of(const Payload& p);
/// One entry as JSON text and back. Refuses (code "bad_entry") with the field at fault; an unknown kind or a later `v`
/// gets "newer_entry". Masses are kept to the milligram: to_json rounds, so a mass that is a whole number of
/// milligrams comes back equal. A number that is not finite is written as null and then refused on reading.
[[nodiscard]] std::string to_json(const Entry& e);
[[nodiscard]] measure::Result<Entry> entry_from_json(std::string_view json);

}  // namespace stillroom::ledger
