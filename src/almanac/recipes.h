#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "almanac/answer.h"
#include "almanac/process_table.h"

/// Rows of data/recipes: tested recipes and the tables beside them. Nothing here is a heat process; a recipe that is
/// canned names the process id whose rows process/ chooses from.
namespace stillroom::almanac {

/// How a recipe may grow. `free`: any amount, the proportions kept. `batches`: any amount up to `most` in one pot, the
/// rest in further pots. `whole`: whole batches only (a packet of pectin sets one batch).
enum class Scaling { free, batches, whole };

struct Ingredient {
  std::string item;
  std::string role;       ///< "food", "low_acid", "acid", "salt", "sugar", "water", "oil", "pectin", "calcium"
  Span amount;            ///< of the printed batch
  std::string unit;       ///< "lb", "oz", "qt", "gal", "cup", "tbsp", "tsp", "each"
  bool base = false;      ///< what the recipe is scaled by; the first of its recipe
  bool optional = false;  ///< printed as optional
};

struct RecipeStep {
  std::string text;
  Provenance from;
};

/// One tested recipe: data/recipes/recipes.csv with its rows of ingredients.csv and steps.csv.
struct Recipe {
  std::string key, name;
  std::string kind;    ///< "jelly","jam","butter","syrup","salsa","sauce","pickle","ferment","brine","solution"
  std::string pectin;  ///< "none","regular","low_sugar","low_methoxyl"
  std::vector<std::string> crops;
  std::string process;             ///< process id, or empty: it is not canned, or only by the pectin maker's leaflet
  std::string ask_food, ask_form;  ///< the words by which process/ is asked for it
  std::string keep;                ///< "canned", "leaflet", "fridge", "crock", "use"
  Scaling scale = Scaling::free;
  std::string why_scale;
  std::optional<double> most;         ///< of the base, in one pot; only with `batches` and `whole`
  std::optional<double> base_per_lb;  ///< of the base from a pound of fruit, at least; blank where not published
  std::optional<Span> yield;
  std::string yield_unit;
  bool complete = true;  ///< false: only the proportions the process stands on were read; spices are in the publication
  std::string notes;
  std::vector<Ingredient> ingredients;
  std::vector<RecipeStep> steps;
  std::string source_place, edition_read;
  Provenance from;
  [[nodiscard]] const Ingredient& base() const { return ingredients.front(); }
};

/// A change that is asked for again and again, and whether it is published as allowed: data/recipes/changes.csv.
struct RecipeChange {
  std::string key;
  std::vector<std::string> kinds, recipes;  ///< both empty = every recipe
  bool allowed = false;
  /// Refused: any of them speaks. Allowed: every word that carries meaning must be among them.
  std::vector<WordPattern> words;
  std::string what, why, instead;
  Provenance from;
  [[nodiscard]] bool speaks_for(const Recipe& recipe) const;
};

/// Fermenting at one range of temperatures, degF: data/recipes/ferments.csv.
struct Ferment {
  std::string recipe;
  Span temp_f, days;
  Provenance from;
};
/// What to look for on which days: data/recipes/ferment_checks.csv.
struct FermentCheck {
  std::string recipe;
  Span days;
  std::string check;
  Provenance from;
};
/// Sugar syrup for packing fruit, cups for so many jars: data/recipes/syrups.csv.
struct Syrup {
  std::string strength;
  double sugar_pct = 0;
  std::string makes_for;
  double water_cups = 0, sugar_cups = 0;
  Provenance from;
};
/// Where a jelly without added pectin is done, degF: data/recipes/gel_point.csv. A test of doneness, no heat process.
struct GelPoint {
  double altitude_ft = 0, gel_f = 0;
  Provenance from;
};
/// Acid put into every jar; a blank is not published: data/recipes/acid_per_jar.csv.
struct AcidPerJar {
  std::vector<std::string> crops;
  std::string jar;
  std::optional<double> lemon_tbsp, citric_tsp, vinegar_tbsp;
  Provenance from;
};
/// Strength of a brine by its salometer degree: data/recipes/salometer.csv.
struct BrineStrength {
  double degrees = 0, salt_pct = 0;
  Provenance from;
};

struct RecipeBook {
  std::vector<Recipe> recipes;
  std::vector<RecipeChange> changes;
  std::vector<Ferment> ferments;
  std::vector<FermentCheck> ferment_checks;
  std::vector<Syrup> syrups;
  std::vector<GelPoint> gel_points;  ///< rising
  std::vector<AcidPerJar> acid_per_jar;
  std::vector<BrineStrength> brines;

  /// By key; nullptr when there is none.
  [[nodiscard]] const Recipe* find(std::string_view key) const;
  /// Recipes whose crops hold this crop, one of its parents or one of its varieties; in the table's order.
  [[nodiscard]] std::vector<const Recipe*> for_crop(const Crops& crops, std::string_view crop) const;
};

/// The text of one file of data/recipes by its bare name ("recipes.csv").
using RecipeFile = std::function<std::string_view(std::string_view name)>;
/// Reads and checks all of data/recipes: crops and process ids known, one base and it first, ranges in order, acid in
/// every pickle, salsa and sauce, a bound where a pot is limited, every allowed change read and for named recipes. The
/// first fault refuses ("bad_table") naming file, row and column.
[[nodiscard]] measure::Result<RecipeBook> read_recipes(const Crops& crops, const ProcessTable& processes,
                                                       const RecipeFile& file);
/// The compiled-in tables.
[[nodiscard]] measure::Result<RecipeBook> load_recipes(const Crops& crops, const ProcessTable& processes);

}  // namespace stillroom::almanac
