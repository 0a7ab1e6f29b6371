#pragma once

#include <optional>
#include <string>
#include <vector>

#include "almanac/answer.h"

/// Rows of data/yields. Pounds avoirdupois, US volumes and minutes, as printed.
namespace stillroom::almanac {

/// Pounds of a crop in a container: data/yields/container_weight.csv.
struct ContainerWeight {
  std::string crop, container;
  std::string as_weighed;  ///< "topped", "in pod", "in husk", "in shell" or empty
  double lb = 0;
  Span range_lb;
  std::string notes;
  Provenance from;
};

/// How much a container holds when filled: data/yields/containers.csv.
struct Container {
  std::string key, name;
  std::vector<std::string> aliases;
  double litres = 0;
  Span range_l;
  Provenance from;
};

/// Pounds of fresh crop per unit put up: data/yields/put_up_yield.csv.
struct PutUpYield {
  std::string crop, form;
  std::string method;  ///< "canned", "frozen", "dried", "juiced", "jelly", "fermented", "cured", "prep"
  double fresh_lb = 0;
  std::string unit;  ///< "quart", "pint", "half_pint", "gallon", "cup", "lb_dried", "lb_cured"
  Span range_lb;
  Span edible_fraction;
  std::string notes;
  Provenance from;
};

/// Carcass and part shares; read `parts_basis` before using a share: data/yields/poultry_yield.csv.
struct PoultryYield {
  std::string crop, class_note;
  std::optional<double> live_kg, carcass_fraction;
  std::string parts_basis;
  std::optional<double> breast, thigh, drumstick, wing, back_neck_carcass, giblets, skin_fat, hind_leg, loin, foreleg,
      neck_rib, edible_meat, bone;
  std::optional<Span> broth_quarts;
  std::string notes;
  Provenance from;
};

/// Minutes of work per unit: data/yields/labour.csv.
struct Labour {
  std::string task;
  std::vector<std::string> crops;  ///< empty = any
  std::string what, with;
  Span minutes;
  std::string per;  ///< "lb", "load", "batch", "check", "session"
  double setup_min = 0;
  int least_age = 0;      ///< 18 = adults only
  std::string attention;  ///< "hands_on", "nearby", "unattended"
  std::string notes;
  Provenance from;
};

/// A row of garden: data/yields/garden.csv. Culture figures are less surely known than the yields.
struct GardenRow {
  std::vector<std::string> crops;
  std::string as_grown;
  Span lb_per_100ft;
  std::optional<Span> ft_per_person_preserve, ft_per_person_fresh;
  std::string plants_or_seed_per_100ft;
  double spacing_in = 0;
  Span days_to_maturity;
  std::string frost_hardiness;  ///< "hardy", "semi_hardy", "tender", "very_tender"
  Sureness culture_checked = Sureness::from_memory;
  std::string notes;
  Provenance from;
};

/// Yield of one tree, bush or foot of row: data/yields/orchard.csv.
struct OrchardYield {
  std::string crop, size;
  Span amount;
  std::string unit;  ///< "bushel", "lb", "lb_per_ft"
  Span lb;
  Span years_to_bear;
  double spacing_ft = 0;
  std::string notes;
  Provenance from;
};

/// Ages, weights, feed and eggs: data/yields/livestock.csv.
struct LivestockFigure {
  std::string crop, stock, measure;
  Span value;
  std::string unit;
  std::string notes;
  Provenance from;
};

/// Amounts, times and composition of stock: data/yields/broth.csv. Nothing in it is a heat process.
struct BrothFact {
  std::string topic, fact;
  Span value;
  std::string unit;
  std::string notes;
  Provenance from;
};

struct YieldTables {
  std::vector<ContainerWeight> container_weights;
  std::vector<Container> containers;
  std::vector<PutUpYield> put_up;
  std::vector<PoultryYield> poultry;
  std::vector<Labour> labour;
  std::vector<GardenRow> garden;
  std::vector<OrchardYield> orchard;
  std::vector<LivestockFigure> livestock;
  std::vector<BrothFact> broth;
};

// One reader per file; code "bad_table".
[[nodiscard]] measure::Result<std::vector<ContainerWeight>> read_container_weights(std::string_view text,
                                                                                   const Crops& crops);
[[nodiscard]] measure::Result<std::vector<Container>> read_containers(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<PutUpYield>> read_put_up_yields(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<PoultryYield>> read_poultry_yields(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<Labour>> read_labour(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<GardenRow>> read_garden(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<OrchardYield>> read_orchard(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<LivestockFigure>> read_livestock(std::string_view text, const Crops& crops);
[[nodiscard]] measure::Result<std::vector<BrothFact>> read_broth(std::string_view text, const Crops& crops);
/// All of data/yields as compiled in.
[[nodiscard]] measure::Result<YieldTables> load_yield_tables(const Crops& crops);

}  // namespace stillroom::almanac
