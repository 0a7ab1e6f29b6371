#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "almanac/routes.h"
#include "keeping/keeping.h"
#include "measure/time.h"

/// A household as the planner sees it: an immutable snapshot, all times in minutes since local midnight of `first_day`.
/// Built by app/ from the ledger, by the season generator of bench/, and by tests. The exact meaning of every field in
/// a plan stands in docs/science/planning_model.md.
namespace stillroom::planning {

using Minute = int;

struct Span {
  Minute from = 0, to = 0;
  bool operator==(const Span&) const = default;
};

struct Hand {
  std::string key, name;
  int age = 30;
  std::vector<std::string> skills;
  std::vector<Span> free;      ///< expanded over the horizon, sorted, disjoint; meals and calendar already taken out
  double usable_share = 0.75;  ///< of free time, 0.1 to 1; durations of hands_on stages are divided by it (what goes by
                               ///< the clock, nearby or unattended, is not)
  int most_minutes_per_day = 600;
};

/// A key that is not listed is not owned.
struct EquipmentPiece {
  std::string key;
  double count = 0;
};
/// An item that is not listed is not counted: it never runs short.
struct StockLevel {
  std::string item;
  double amount = 0;
  struct Arrival {
    Minute at;
    double amount;
  };
  std::vector<Arrival> arriving;
  double price = 0;      ///< USD per unit, against the weekly cash limit
  bool can_buy = false;  ///< a shopping trip may lift it
  double buy_step = 1;   ///< sold in multiples of this (a box of 12 lids)
};
/// "freezer_l" (free now), "freezer_kg_per_day", "chill_l", "cellar_kg", ... A room that is not listed is not counted;
/// names ending in _per_day limit what goes in on one calendar day.
struct RoomLevel {
  std::string room;
  double capacity = 0;
};

/// Where a lot can wait.
struct HoldPlace {
  std::string key, name, kind;
  double temp_c = 20, humidity_pct = 60;
  std::string room;
};

struct Lot {
  std::string id;  ///< parcel id hex, or standing key
  std::string crop, name;
  std::string pick_word = "Pick", pick_what;  ///< standing crops: as it is said, "Butcher", "ducks"; empty: the name
  std::string form = "fresh";
  double kg = 0;
  Minute ready = 0;            ///< when it is (or is expected to be) in hand; <= now for lots that are here
  Minute pick_by = 0;          ///< standing crops: last minute to pick; 0 = already in hand
  double pick_min_per_kg = 0;  ///< standing crops: picking labour
  std::string place;           ///< HoldPlace key where it waits now
  keeping::Belief belief;      ///< at max(now, ready)
  std::optional<keeping::KeepingModel> model;  ///< none for hazard-clock food
  std::optional<Minute> hazard_by;             ///< hard: must be cooked, frozen or eaten by then
  std::vector<std::string> facts;              ///< bar routes ("mould", "frost_killed_vine", "frozen_raw")
  double eaten_kg_per_day = 0;                 ///< fresh eating
};

/// Worth of one product: full price up to the uncovered need, `second_share` to 1.5 times, `tail_share` beyond.
struct ProductWorth {
  std::string food, form;  ///< Route::product_food / product_form; form empty = every form of the food
                           ///< that has no row of its own, what is given away excepted
  double per_kg = 0;       ///< USD per kg of product at full quality
  double need_kg = 0, have_kg = 0;
  double second_share = 0.5, tail_share = 0.1;
};

struct OtherJob {
  std::string key, name;
  int minutes = 60, hands = 1, least_age = 0;
  Minute not_before = 0, deadline = 0;  ///< deadline 0 = none in the horizon
  double importance = 1;                ///< USD lost per day late
  bool can_split = true;
  std::vector<Span> weather_windows;  ///< when it may run (already from forecast and daylight)
};

/// Stages of batches already underway: fixed, never moved. `hand` keys hold those people.
struct Committed {
  std::string batch, stage, name;
  Span span;
  std::vector<std::string> hands;
  std::vector<almanac::EquipmentUse> equipment;  ///< amounts already fixed: use .amount.fixed
};

struct WeatherDay {
  double low_c = 0, high_c = 0, rain_mm = 0, wind_kmh = 0;
  Minute sunrise = 360, sunset = 1140;
};  ///< minutes of that day

/// One placed stage of the plan in force, for the cost of change and to start the search from; one entry per part.
struct PlacedBefore {
  std::string lot, route, stage;
  Minute start = 0;
  std::vector<std::string> hands;
  double kg = 0;      ///< of this lot in that batch; 0 = not known
  std::string batch;  ///< key of the batch in that plan; entries of one batch belong together; may be empty
};

/// What going shopping takes. Without it nothing can be bought.
struct Shopping {
  int minutes = 90;  ///< door to door, by the clock
  int least_age = 16;
  std::vector<Span> open;  ///< when shops are open; empty = any time
};

struct Household {
  measure::Date first_day;
  Minute now = 0;
  int days = 21;  ///< 1 to 90
  std::vector<Hand> hands;
  std::vector<EquipmentPiece> equipment;
  std::vector<StockLevel> stock;
  std::vector<RoomLevel> rooms;
  std::vector<HoldPlace> places;
  std::vector<Lot> lots;
  std::vector<almanac::Route>
      routes;  ///< every route any lot may take, processes already checked for this altitude by app/
  std::vector<ProductWorth> worth;
  std::vector<OtherJob> other;
  std::vector<Committed> committed;
  std::vector<WeatherDay> weather;  ///< one per day; shorter = normals unknown, windows count as open
  std::vector<PlacedBefore> in_force;
  std::optional<Minute> one_job_day;  ///< a day (its first minute) on which one job only is wanted
  double effort_per_hour = 2;         ///< USD; rises with the day's length
  double change_cost = 0.5;           ///< USD per near-term stage moved from the plan in force
  double money_per_week = 0;          ///< cash limit for shopping; 0 = none set
  std::optional<Shopping> shopping;
};

}  // namespace stillroom::planning
