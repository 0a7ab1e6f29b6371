#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "almanac/answer.h"

/// Rows of data/keeping. Temperatures in degC, humidity in % relative, lives in the unit of the name, as printed.
namespace stillroom::almanac {

/// Published storage at the best temperature: data/keeping/fresh_storage.csv.
struct FreshStorage {
  std::string crop, group, part;
  Span temp_c, humidity_pct, life_days;
  bool chilling_sensitive = false;
  std::optional<double> chilling_below_c;
  std::string ethylene_producer, ethylene_sensitivity;  ///< "low", "med", "high"
  std::optional<double> highest_freezing_c;
  Provenance from;
};

/// Life in an ordinary place of the house: data/keeping/room_life.csv.
struct RoomLife {
  std::string crop, state;
  Condition seen = Condition::firm;  ///< condition the figure starts from
  std::string place;                 ///< "counter", "cool_room", "cellar", "fridge"
  double temp_c = 20;                ///< of that place, as the table takes it
  Span life_days;
  bool fixes_life = false;  ///< speaks of the whole life of sound goods, so life at this temperature is set by it
  std::string sign;         ///< what to watch for
  Provenance from;
};

/// Rate of respiration, mg CO2 per kg and hour: data/keeping/respiration.csv.
struct Respiration {
  std::string crop, part;
  double temp_c = 0;
  Span rate;
  Provenance from;
};

/// Temperature coefficient of respiration fitted from those rates: data/keeping/q10.csv.
struct Q10 {
  std::string crop, part;
  std::optional<double> from_0_to_10, from_10_to_20;
  double fitted = 2.5;  ///< 5 to 15 degC
  Provenance from;
};

/// Curing and what follows: data/keeping/curing.csv. No `temp_c`: not to be cured.
struct Curing {
  std::string crop, way;
  std::optional<Span> temp_c, humidity_pct;
  Span days;
  Span then_temp_c, then_humidity_pct, then_months;
  std::string notes;
  Provenance from;
};

/// Frozen at -18 degC: months of best quality, blanching: data/keeping/frozen_storage.csv.
struct FrozenLife {
  std::vector<std::string> crops;  ///< empty for a product ("jam", "fruit_any")
  std::string food, form;
  Span months;
  std::optional<double> blanch_min, steam_blanch_min;
  std::string headspace, pack;
  Provenance from;
};

/// Canned, dried, fermented, cured or in oil: data/keeping/canned_dried_storage.csv.
struct ShelfLife {
  std::vector<std::string> crops;  ///< empty for a product ("jam_jelly", "sauerkraut")
  std::string food, form, method;
  Span months;
  std::optional<double> temp_c;  ///< where the row is for one temperature
  std::string where;
  Provenance from;
};

/// Drying: data/keeping/drying.csv. `yield_ratio` is kg of trimmed food per kg dried.
struct Drying {
  std::vector<std::string> crops;
  std::string food, form, pretreatment;
  double temp_c = 60;
  Span hours;
  double final_moisture_pct = 0, fresh_moisture_pct = 0, yield_ratio = 0;
  std::string doneness;
  Provenance from;
};

/// One fact on cold, cellars, cooling and loss: data/keeping/cold_chain.csv. Some carry a named figure.
struct ColdFact {
  int number = 0;
  std::string topic, fact, quantity;
  std::optional<Span> value;
  std::string unit;
  Provenance from;
};

/// Published time limits of hazardous food: data/keeping/hazard_clocks.csv. Model: keeping/keeping.h.
struct HazardLimit {
  std::string key, name;
  std::vector<std::string> crops;  ///< raw food of these kinds starts on this clock
  double room_hours = 2;           ///< above 4.4 degC, in all
  Span fridge_days;                ///< at or below 4.4 degC; the clock runs to the high end
  std::string notes;
  Provenance from;
};

/// Where the respiration rate alone misleads: data/keeping/exceptions.csv.
struct KeepingException {
  std::vector<std::string> crops;  ///< empty = every crop marked chilling-sensitive
  std::string rule;                ///< "no_respiration", "mealy", "chilling", "freezing"
  std::optional<Span> temp_c;
  double factor = 1;
  std::string what;
  Provenance from;
};

/// Days in each condition at 20 degC off the plant: data/keeping/ripening.csv.
struct Ripening {
  std::string crop;
  Condition life_counts_from = Condition::underripe;  ///< condition at which the published life begins
  std::array<double, kConditions> days_at_20c{};      ///< 0 = stays in it
  double q10 = 2.5;
  std::optional<double> stops_below_c, no_faster_above_c;
  std::string notes;
  Provenance from;
};

/// Shape of the falling usable share: data/keeping/shape.csv, for one crop or a whole kind.
struct TailShape {
  std::string crop;
  std::optional<CropKind> kind;
  double beta = 2;
  std::string notes;
  Provenance from;
};

struct KeepingTables {
  std::vector<FreshStorage> fresh;
  std::vector<RoomLife> rooms;
  std::vector<Respiration> respiration;
  std::vector<Q10> q10;
  std::vector<Curing> curing;
  std::vector<FrozenLife> frozen;
  std::vector<ShelfLife> shelf;
  std::vector<Drying> drying;
  std::vector<ColdFact> cold;
  std::vector<HazardLimit> hazards;
  std::vector<KeepingException> exceptions;
  std::vector<Ripening> ripening;
  std::vector<TailShape> shapes;
};

// One reader per file; `text` is the file's content, so that a test can feed a broken one. Code "bad_table".
[[nodiscard]] measure::Result<std::vector<FreshStorage>> read_fresh_storage(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<RoomLife>> read_room_life(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<Respiration>> read_respiration(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<Q10>> read_q10(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<Curing>> read_curing(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<FrozenLife>> read_frozen_storage(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<ShelfLife>> read_shelf_life(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<Drying>> read_drying(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<ColdFact>> read_cold_chain(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<HazardLimit>> read_hazard_limits(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<KeepingException>> read_exceptions(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<Ripening>> read_ripening(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<TailShape>> read_shapes(std::string_view text, const Crops& crops);
/// All of data/keeping as compiled in.
[[nodiscard]] measure::Result<KeepingTables> load_keeping_tables(const Crops& crops);

}  // namespace stillroom::almanac
