#pragma once

#include <optional>
#include <string>
#include <vector>

#include "almanac/answer.h"

/// Rows of data/household.
namespace stillroom::almanac {

/// What a person eats: data/household/need.csv.
struct Need {
  std::string group, food;
  std::vector<std::string> crops;  ///< empty where the food is a group or a dish
  std::string measure;             ///< "lb_per_person_year", "lb_to_put_up_per_person_year", "servings_per_week", ...
  Span amount;
  std::string unit;
  std::string age_group;
  std::optional<double> age_factor;  ///< share of an adult's
  std::string notes;
  Provenance from;
};

/// Per 100 g edible portion; empty = not analysed, not zero: data/household/nutrients.csv.
struct Nutrients {
  std::string crop;  ///< empty for a product without one ("jelly")
  std::string food, form;
  double kcal = 0;
  std::optional<double> protein_g, fat_g, carbohydrate_g, fiber_g, vitamin_c_mg, vitamin_a_rae_ug, potassium_mg,
      water_g, sodium_mg, refuse_pct;
  std::string id, description;
  Provenance from;
};

/// Shop price, USD per unit: data/household/prices.csv.
struct Price {
  std::string crop;  ///< empty for a dish
  std::string food, form;
  std::string unit;  ///< as sold: "lb", "dozen", "gallon", "16 oz"
  Span usd;
  std::string year;
  std::optional<double> yield_fraction;  ///< edible share as bought
  std::string notes;
  Provenance from;
  /// Pounds in one unit where the unit is a weight.
  [[nodiscard]] std::optional<double> lb_per_unit() const;
};

/// A thing used up or used again: data/household/supplies.csv.
struct Supply {
  std::string item, variant;
  double capacity = 0;
  std::string capacity_unit;
  std::optional<double> volume_ml;
  std::optional<Span> empty_weight_g;
  std::string per_food, reuse;
  std::optional<Span> life;
  std::string life_unit;
  std::string notes;
  Provenance from;
};

/// Weather a job outdoors wants, degF and mph as printed: data/household/outdoor_work.csv.
struct OutdoorWork {
  std::string task;
  Span temp_f;
  double dry_hours_before = 0, dry_hours_after = 0;
  double max_wind_mph = 0;
  bool daylight = false;
  std::string soil;
  std::string notes;
  Provenance from;
};

struct HouseholdTables {
  std::vector<Need> need;
  std::vector<Nutrients> nutrients;
  std::vector<Price> prices;
  std::vector<Supply> supplies;
  std::vector<OutdoorWork> outdoor;
};

// One reader per file; code "bad_table".
[[nodiscard]] measure::Result<std::vector<Need>> read_need(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<Nutrients>> read_nutrients(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<Price>> read_prices(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<Supply>> read_supplies(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<OutdoorWork>> read_outdoor_work(std::string_view text, const Crops& crops);
/// All of data/household as compiled in.
[[nodiscard]] measure::Result<HouseholdTables> load_household_tables(const Crops& crops);

}  // namespace stillroom::almanac
