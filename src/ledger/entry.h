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
};  ///< "name","altitude_ft","zone","units","one_job_today","meals",...
struct PersonSet {
  Person person;
};
struct PersonRemoved {
  std::string key;
};
struct PlaceSet {
  Place place;
};
struct EquipmentSet {
  std::string key;
  double count = 0;
};
struct StockSet {
  std::string item;
  double amount = 0;
};  ///< counted
struct StockArriving {
  std::string item;
  double amount = 0;
  measure::Date day;
};
struct MoneySet {
  double weekly_limit = 0;
};
struct ForecastSet {
  std::vector<Weather> days;
};
struct TemperatureRead {
  std::string place;
  double temp_c = 0;
  std::optional<double> humidity_pct;
};

struct BroughtIn {  ///< a new lot
  Id parcel;
  std::string crop;
  Mass mass;
  std::string condition;  ///< Condition word
  std::string place, form = "fresh", note;
  std::string as_said;             ///< "2 bu"
  std::vector<std::string> facts;  ///< "frost_killed_vine", "frozen_raw", "mould", ...
};
struct StandingSet {
  std::string key, crop;
  Mass expected;
  measure::Date ready_from, ready_to;
  double pick_min_per_kg = 2;
  std::string note;
};
struct StandingPicked {
  std::string key;
  Id parcel;
  Mass mass;
  std::string condition, place;
};
struct Sorted {
  Id parcel;
  struct Part {
    Id parcel;
    Mass mass;
    std::string condition;
    std::string place;
  };
  std::vector<Part> parts;
  Mass discarded;
};
struct Moved {
  Id parcel;
  std::string place;
};
struct Observed {
  Id parcel;
  std::string condition;
  std::vector<std::string> facts;
};
struct Weighed {
  Id parcel;
  Mass mass;
};
struct EatenFresh {
  Id parcel;
  Mass mass;
};
struct GivenAway {
  Id parcel;
  Mass mass;
  double packs = 0;
  std::string to;
};
struct ThrownAway {
  Id parcel;
  Mass mass;
  double packs = 0;
  std::string why;
};
struct FedToStock {
  Id parcel;
  Mass mass;
};

struct BatchStarted {
  Id batch;
  std::string route, name;
  struct Input {
    Id parcel;
    Mass mass;
  };
  std::vector<Input> inputs;
  std::string steps_json;  ///< scaled steps and the heat process, frozen: docs/ledger.md
};
struct StageStarted {
  Id batch;
  std::string stage;
  std::string who;
};
struct StagePutDown {
  Id batch;
  std::string stage;
};
struct StageFinished {
  Id batch;
  std::string stage;
};
struct BatchAbandoned {
  Id batch;
  std::string why;
};
struct TimerSet {
  Id timer;
  Id batch;
  std::string name;
  Instant due;
};
struct TimerStopped {
  Id timer;
};
struct Packed {  ///< a batch yields packs
  Id batch;
  Id parcel;
  std::string food, form, pack;
  double packs = 0;
  Mass mass;
  std::string place;
  std::string code;
  measure::Date eat_by;
  double keeps_months = 12;
};
struct SealChecked {
  Id parcel;
  double sealed = 0, failed = 0;
};
struct Taken {
  Id parcel;
  double packs = 0;
  std::string why;
};
struct Counted {
  Id parcel;
  double packs = 0;
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
};
struct OtherWorkDone {
  std::string key;
};
struct NeedSet {
  std::string food, form;
  double per_year_kg = 0, weight = 1;
};
struct PlanAccepted {
  std::string plan_json;
  Id last_entry;
};  ///< the plan in force
struct Undone {
  Id entry;
};  ///< takes back `entry` and what depends on it
struct DiscrepancySettled {
  Id about;
  std::string how;
};

using Payload =
    std::variant<SettingsChanged, PersonSet, PersonRemoved, PlaceSet, EquipmentSet, StockSet, StockArriving, MoneySet,
                 ForecastSet, TemperatureRead, BroughtIn, StandingSet, StandingPicked, Sorted, Moved, Observed, Weighed,
                 EatenFresh, GivenAway, ThrownAway, FedToStock, BatchStarted, StageStarted, StagePutDown, StageFinished,
                 BatchAbandoned, TimerSet, TimerStopped, Packed, SealChecked, Taken, Counted, OtherWorkSet,
                 OtherWorkDone, NeedSet, PlanAccepted, Undone, DiscrepancySettled>;

struct Entry {
  Id id;             ///< made by the client; the same id twice is the same entry
  Instant happened;  ///< when it happened
  std::string who;   ///< person key or empty
  bool live = true;  ///< false: a fact from a phone's outbox, always stored
  Payload what;
};

/// Stable name of the payload kind on disk and in JSON: "brought_in", "seal_checked", ...
[[nodiscard]] std::string kind_of(const Payload& p);
/// One entry as JSON text and back. Refuses (code "bad_entry") with the field at fault; unknown kinds get
/// "newer_entry".
[[nodiscard]] std::string to_json(const Entry& e);
[[nodiscard]] measure::Result<Entry> entry_from_json(std::string_view json);

}  // namespace stillroom::ledger
