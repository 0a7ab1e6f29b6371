#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "almanac/answer.h"
#include "almanac/household_tables.h"
#include "almanac/keeping_tables.h"
#include "almanac/yield_tables.h"
#include "measure/quantity.h"

/// The published tables and the questions they answer. Each look-up falls back to the crop that stands in (answer.h)
/// and says so in `from`; where nothing is published it refuses with code "no_published_value" and never guesses.
namespace stillroom::almanac {

/// One publication: data/sources.csv.
struct Publication {
  std::string key;
  std::vector<std::string> named_as;  ///< words by which the `source` cells name it
  std::string citation, edition, how_read;
};

/// What a container of a crop weighs.
struct ContainerMass {
  measure::Mass likely, low, high;
  std::string from;  ///< "for apple, bushel" or "bucket of 18.9 l by bulk density, common practice"
  std::string source;
  Sureness checked = Sureness::common_practice;
};

struct Tables {
  KeepingTables keeping;
  YieldTables yields;
  HouseholdTables household;
  std::vector<Publication> publications;

  // Keeping. Rows in the table's order.
  [[nodiscard]] measure::Result<Found<FreshStorage>> fresh_storage(const Crops& crops, std::string_view crop) const;
  /// The row of the longest life: where the crop keeps best.
  [[nodiscard]] measure::Result<const FreshStorage*> best_storage(const Crops& crops, std::string_view crop) const;
  [[nodiscard]] measure::Result<Found<RoomLife>> room_life(const Crops& crops, std::string_view crop) const;
  [[nodiscard]] measure::Result<Found<Respiration>> respiration(const Crops& crops, std::string_view crop) const;
  [[nodiscard]] measure::Result<Found<Q10>> q10(const Crops& crops, std::string_view crop) const;
  [[nodiscard]] measure::Result<Found<Curing>> curing(const Crops& crops, std::string_view crop) const;
  /// Own rows, else the general row of its kind ("fruit_any", "vegetable_any").
  [[nodiscard]] measure::Result<Found<FrozenLife>> frozen(const Crops& crops, std::string_view crop) const;
  /// Rows of one method ("dried", "canned", ...): own, else the general row of its kind.
  [[nodiscard]] measure::Result<Found<ShelfLife>> shelf_life(const Crops& crops, std::string_view crop,
                                                             std::string_view method) const;
  /// Rows of a product that is no crop ("jam_jelly", "sauerkraut", "salsa").
  [[nodiscard]] measure::Result<std::vector<const ShelfLife*>> product_shelf_life(std::string_view product) const;
  [[nodiscard]] measure::Result<Found<Drying>> drying(const Crops& crops, std::string_view crop) const;
  [[nodiscard]] measure::Result<Found<Ripening>> ripening(const Crops& crops, std::string_view crop) const;
  /// By the name of its figure ("freezing_load", "closed_freezer_full", "out_of_cold", ...).
  [[nodiscard]] measure::Result<const ColdFact*> cold_figure(std::string_view quantity) const;
  [[nodiscard]] std::vector<const ColdFact*> cold_facts(std::string_view topic) const;

  // Yields.
  /// Pounds in a container: the published weight, else the container's volume times the crop's bulk density (marked
  /// common practice). Refuses (code "unknown_container") a container that is not known, with some that are.
  [[nodiscard]] measure::Result<ContainerMass> pounds_in(const Crops& crops, std::string_view container,
                                                         std::string_view crop) const;
  /// A container by key, name or alias.
  [[nodiscard]] measure::Result<const Container*> container_named(std::string_view typed) const;
  [[nodiscard]] measure::Result<Found<ContainerWeight>> container_weights(const Crops& crops,
                                                                          std::string_view crop) const;
  [[nodiscard]] measure::Result<Found<PutUpYield>> put_up_yields(const Crops& crops, std::string_view crop) const;
  [[nodiscard]] measure::Result<Found<PoultryYield>> poultry_yield(const Crops& crops, std::string_view crop) const;
  [[nodiscard]] measure::Result<Found<Labour>> labour(const Crops& crops, std::string_view crop) const;
  [[nodiscard]] measure::Result<Found<GardenRow>> garden(const Crops& crops, std::string_view crop) const;
  [[nodiscard]] measure::Result<Found<OrchardYield>> orchard(const Crops& crops, std::string_view crop) const;
  [[nodiscard]] measure::Result<Found<LivestockFigure>> livestock(const Crops& crops, std::string_view crop) const;

  // Household.
  [[nodiscard]] measure::Result<Found<Need>> need(const Crops& crops, std::string_view crop) const;
  [[nodiscard]] measure::Result<Found<Nutrients>> nutrients(const Crops& crops, std::string_view crop) const;
  [[nodiscard]] measure::Result<Found<Price>> prices(const Crops& crops, std::string_view crop) const;
  [[nodiscard]] measure::Result<std::vector<const Supply*>> supplies(std::string_view item) const;
  [[nodiscard]] measure::Result<const OutdoorWork*> outdoor_work(std::string_view task) const;
};

/// Reads the bibliography; code "bad_table".
[[nodiscard]] measure::Result<std::vector<Publication>> read_publications(std::string_view text);
/// All of data/keeping, data/yields and data/household. The first fault refuses (code "bad_table", file, row, column).
[[nodiscard]] measure::Result<Tables> load_tables(const Crops& crops);

}  // namespace stillroom::almanac
