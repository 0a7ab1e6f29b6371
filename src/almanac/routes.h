#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "almanac/crops.h"
#include "measure/result.h"

namespace stillroom::almanac {

/// How much of a person a stage needs.
enum class Attention {
  hands_on,    ///< a whole person
  nearby,      ///< `nearby_share` of a person, in the kitchen; combines with other nearby stages
  unattended,  ///< nobody; only on equipment made for it
};

/// Amounts per batch are fixed + per_kg * (kg going in) + per_load * (number of loads).
struct Scaled {
  double fixed = 0, per_kg = 0, per_load = 0;
  [[nodiscard]] double at(double kg, int loads) const { return fixed + per_kg * kg + per_load * loads; }
};

struct EquipmentUse {
  std::string key;  ///< "burner", "boiling_water_canner", "pressure_canner", "dryer_tray", "slow_cooker", "crock_l",
                    ///< "chill_l", "big_pot"
  Scaled amount;
};
struct StockUse {
  std::string item;  ///< "jar_quart", "jar_pint", "lid", "freezer_bag_quart", "sugar_kg", "pectin_packet", "vinegar_l",
                     ///< "salt_kg", "lemon_juice_l"
  Scaled amount;
};
struct RoomUse {
  std::string room;  ///< "freezer_l", "freezer_kg_per_day", "cellar_kg", "shelf_pack", "chill_l"
  Scaled amount;
};
/// An amount that is no stock but is said in the instruction: "water_l" for {water} and {water_l}. The name ends in its
/// unit: _l litres, _kg kilograms, _g grams, none = a count.
struct NamedAmount {
  std::string name;
  Scaled amount;
};

/// When outdoors: what the weather must allow. All off by default.
struct WeatherWindow {
  bool daylight = false, dry = false;
  std::optional<double> min_temp_c, max_temp_c, max_wind_kmh;
};

/// One step of a route at planning grain.
struct Stage {
  std::string key;          ///< "peel", "process", "cool"; unique in the route
  std::string name;         ///< "Peel, core and halve"
  std::string instruction;  ///< one or two sentences; {amount} "17½ lb", {kg} {lb} {packs} {pack} {loads} {load} (kg of
                            ///< one load as said) and the stage's stock and named amounts ({sugar} as said, {sugar_kg}
                            ///< the bare number) are filled in when scaled
  std::string caution;  ///< said before the step where work can hurt (hot, pressure, blade, lye)
  Scaled duration_min;  ///< expected working minutes with `hands` people
  double spread = 0.2;  ///< coefficient of variation of the duration
  Attention attention = Attention::hands_on;
  double nearby_share = 0.35;
  int hands = 1;
  int least_age = 0;        ///< an age floor no household may lower
  std::string skill;        ///< "pressure_canning", "butchering" or empty
  bool can_pause = false;   ///< harmless to put down and pick up
  bool hold_point = false;  ///< nothing after it may begin before it is finished: what it asks decides the process
  std::vector<EquipmentUse> equipment;
  std::vector<StockUse> stock;        ///< taken at start
  std::vector<RoomUse> room;          ///< taken at end, kept with the packs
  double lag_min_min = 0;             ///< least wait after the previous stage's end, minutes
  std::optional<double> lag_max_min;  ///< most wait after the previous stage's end, minutes
  std::string
      hazard;  ///< hazard clock that runs until the next stage begins ("cooked_food", "raw_poultry", "thawed_raw")
  WeatherWindow weather;
  std::vector<std::string> dangers;  ///< "heat","pressure","blade","lye": each sets a floor under `least_age`
  std::vector<NamedAmount> amounts;  ///< said in the instruction beside the stock
  std::vector<NamedAmount> timers;   ///< minutes to be timed inside the stage, by name ("blanch")
};

/// Youngest age for a danger, below which no table, route or household may go: heat 14, pressure 18, blade 10, lye 18;
/// 0 for a word that names no danger. Common practice, stricter than most kitchen-helper guides.
[[nodiscard]] int age_floor(std::string_view danger);

/// What a route asks of the heat-process tables; the process itself is chosen only by process/, never here.
struct ProcessQuery {
  std::string food, form, style_of_pack;
  std::string jar;     ///< "half_pint", "pint", "quart", "half_gallon"
  std::string method;  ///< "boiling_water", or "pressure" for dial or weighted gauge
  std::string id;      ///< process id of the table: the row's id is this, or this + "_opt_..."
};

/// What else comes out of a route and goes on as a lot of its own: a carcass parted out leaves bones for broth.
struct ByProduct {
  std::string food;      ///< crop key
  std::string form;      ///< "bones", "giblets", "fat"
  double kg_per_kg = 0;  ///< kg per kg going in
};

/// A route, or a hold, made whole for one crop: a method template with that crop's parameters filled in.
struct Route {
  std::string key;  ///< "pear_european/canned_halves"
  std::string crop;
  std::string name;        ///< "can as halves in light syrup"
  std::string method;      ///< "canned","frozen","dried","juiced","jellied","fermented","cured","cellared","simmered to
                           ///< broth","given away","fed to stock","composted","held"
  bool is_hold = false;    ///< buys time: the lot stays a lot, at `hold_place` or in `product_form`
  std::string hold_place;  ///< "fridge","cellar","freezer","cool_room" for a hold
  std::string accepts_form = "fresh";         ///< "fresh", "frozen_whole", "cured", "carcass", "bones", ...
  std::array<double, kConditions> quality{};  ///< 0 = does not accept this condition; else 0..1 quality of the product
  bool accepts_decay_trimmed = false;
  std::vector<std::string>
      many_lot_with;  ///< crops this one recipe also takes, with kg per kg of this crop in `many_lot_kg`
  std::vector<double> many_lot_kg;
  std::vector<Stage> stages;
  std::string product_food, product_form;  ///< what it is in the larder: crop key "pear_european", "canned halves"
  double yield_kg_per_kg = 1;              ///< packed kg of the food itself per kg going in (syrup, brine not counted;
                                           ///< broth counts its water)
  std::string pack;                        ///< "quart jar", "pint jar", "quart bag", "box", "loose"
  double kg_in_per_pack = 1;               ///< kg going in for one pack
  double load_kg = 0;                      ///< kg going in per canner/dryer/pot load; 0 = no loads
  double packs_per_canner = 0;             ///< packs in one canner load; 0 = a load is a canner load
  double batch_min_kg = 0.5, batch_max_kg = 50;
  double keeps_months_low = 0, keeps_months_high = 0;  ///< at its usual storage
  std::string store_in;                                ///< "shelf","freezer","cellar","fridge"
  double worth_per_kg_in = 0;  ///< USD per kg going in at full quality and full need, from replacement price
  double materials_cost_per_kg = 0, energy_cost_per_kg = 0;
  std::optional<ProcessQuery> process;  ///< set when canned
  std::vector<std::string> cautions;
  std::string borrowed_from;  ///< crop whose figures stand in for this one's, which `source` says too; empty = its own
  std::string source;         ///< where labour and yield figures come from, per row of data/routes
  std::string checked;        ///< how far they can be leaned on: "yes","derived","partial","memory","common"
  std::vector<std::string> not_for;    ///< varieties of `crop` it does not suit (acorn squash is not heat-cured)
  std::vector<ByProduct> also_yields;  ///< empty for most
};

/// Loads a batch takes: how often canner, dryer or pot are filled. 1 when the route has no loads.
[[nodiscard]] int loads_for(const Route& route, double kg);
/// Kg going in for one full canner load: what the route says a canner holds, else a load. 0 when it has no loads.
[[nodiscard]] double canner_load_kg(const Route& route);
/// Loads of the canner, which need not be those of the pot.
[[nodiscard]] int canner_loads_for(const Route& route, double kg);

/// Whether a route lets food go rather than putting it by: "given away", "fed to stock", "composted".
[[nodiscard]] bool lets_go(const Route& route);
/// Whether a route takes what keeping has no use for: feed and compost.
[[nodiscard]] bool takes_poor_food(const Route& route);

class RouteBook {
 public:
  explicit RouteBook(std::vector<Route> routes) : routes_(std::move(routes)) {}
  [[nodiscard]] const std::vector<Route>& all() const { return routes_; }
  [[nodiscard]] const Route* find(std::string_view key) const;
  /// Routes whose crop is `crop` or an ancestor of it. A variety's own route stands in for its ancestor's of the same
  /// name ("squash_winter/acorn/cured" for "squash_winter/cured"), and an ancestor's route that is `not_for` it is left
  /// out.
  [[nodiscard]] std::vector<const Route*> for_crop(const Crops& crops, std::string_view crop) const;

 private:
  std::vector<Route> routes_;
};

/// Reads data/routes (method templates + crop parameters), expands and validates them; code "bad_route" names file and
/// key. Every process query must name a food and form the tables know (checked by a test in process/).
[[nodiscard]] measure::Result<RouteBook> load_routes(const Crops& crops);

/// One method: a template (TOML) and the table of crops that take it (CSV). docs/routes.md says how they are written.
struct MethodText {
  std::string name;  ///< for messages: "canned_syrup"
  std::string_view toml, rows;
};
struct RouteTexts {
  std::string_view labour;    ///< labour.csv: preparation steps and kitchen tasks with their minutes
  std::string_view supplies;  ///< supplies.csv: stock items and equipment with price, power and kind
  std::vector<MethodText> methods;
};
/// The compiled-in texts of data/routes.
[[nodiscard]] measure::Result<RouteTexts> published_route_texts();

/// Who wrote the texts. A household's own route may freeze, dry, cellar or hold, but never ask for a heat process.
enum class RouteOrigin { published, household };
[[nodiscard]] measure::Result<RouteBook> load_routes_from(const Crops& crops, const RouteTexts& texts,
                                                          RouteOrigin origin = RouteOrigin::published);

}  // namespace stillroom::almanac
