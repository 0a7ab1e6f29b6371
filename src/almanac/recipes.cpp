#include "almanac/recipes.h"

#include <fmt/format.h>

#include <algorithm>

#include "almanac/csv.h"
#include "almanac/detail/cells.h"
#include "almanac/detail/recipe_tables.h"

namespace stillroom::almanac {

namespace {

const std::vector<std::string> kRecipeKinds{"jelly", "jam",    "butter",  "syrup", "salsa",
                                            "sauce", "pickle", "ferment", "brine", "solution"};
const std::vector<std::string> kRecipeUnits{"lb", "oz", "qt", "gal", "cup", "tbsp", "tsp", "each"};
constexpr double kMostOfAnything = 200;

std::string recipe_file(std::string_view name) { return std::string("recipes/").append(name); }

Scaling scaling_from(Cells& c) {
  const auto word = c.row.one_of("scale", {"free", "batches", "whole"});
  return word == "free" ? Scaling::free : word == "whole" ? Scaling::whole : Scaling::batches;
}

Recipe recipe_of_row(Cells& c, const ProcessTable& processes) {
  Recipe r{.key = c.words("key"),
           .name = c.words("name"),
           .kind = c.row.one_of("kind", kRecipeKinds),
           .pectin = c.row.one_of("pectin", {"none", "regular", "low_sugar", "low_methoxyl"}),
           .crops = c.crop_list(),
           .process = c.row.text("process"),
           .ask_food = c.row.text("ask_food"),
           .ask_form = c.row.text("ask_form"),
           .keep = c.row.one_of("keep", {"canned", "leaflet", "fridge", "crock", "use"}),
           .scale = scaling_from(c),
           .why_scale = c.words("why_scale"),
           .most = c.row.number("most", 0.1, kMostOfAnything),
           .base_per_lb = c.row.number("base_per_lb", 0.1, 4),
           .yield = c.optional_span("yield_low", "yield_high", 0.1, 100),
           .yield_unit = c.row.text("yield_unit"),
           .complete = c.yes("complete"),
           .notes = c.row.text("notes"),
           .ingredients = {},
           .steps = {},
           .source_place = c.row.text("source_place"),
           .edition_read = c.row.text("edition_read"),
           .from = c.provenance()};
  if (r.most.has_value() == (r.scale == Scaling::free))
    c.row.fail("most", "a recipe of limited pots needs its bound, and only such a one");
  const bool known = std::ranges::any_of(processes.rows, [&](const auto& row) { return row.id == r.process; });
  if (!r.process.empty() && !known) c.row.fail("process", fmt::format("no process is called \"{}\"", r.process));
  if (r.keep == "canned" && r.process.empty()) c.row.fail("process", "a canned recipe needs its published process");
  if (!r.process.empty() && r.ask_food.empty()) c.row.fail("ask_food", "the words to ask for its process are missing");
  if (r.pectin == "low_methoxyl" && !r.process.empty())
    c.row.fail("process", "no process is published for low-methoxyl pectin");
  return r;
}

/// The ingredient rows of one file, each put into its recipe.
std::optional<measure::Refusal> add_ingredients(RecipeBook& book, std::string_view text, const Crops& crops) {
  const auto rows = read_rows<int>(
      recipe_file("ingredients.csv"), text, crops,
      {"recipe", "role", "item", "low", "high", "unit", "base", "optional"}, [&](Cells& c) {
        const auto key = c.words("recipe");
        const auto it = std::ranges::find(book.recipes, key, &Recipe::key);
        if (it == book.recipes.end()) return c.row.fail("recipe", fmt::format("no recipe is called \"{}\"", key)), 0;
        Ingredient i{.item = c.words("item"),
                     .role = c.row.one_of(
                         "role", {"food", "low_acid", "acid", "salt", "sugar", "water", "oil", "pectin", "calcium"}),
                     .amount = c.span("low", "high", 0, kMostOfAnything),
                     .unit = c.row.one_of("unit", kRecipeUnits),
                     .base = c.yes("base"),
                     .optional = c.yes("optional")};
        if (i.base != it->ingredients.empty()) c.row.fail("base", "the first ingredient, and no other, is the base");
        if (i.base && i.amount.low <= 0) c.row.fail("low", "a recipe cannot be scaled by nothing");
        it->ingredients.push_back(std::move(i));
        return 0;
      });
  return rows ? std::nullopt : std::optional(rows.error());
}

std::optional<measure::Refusal> add_steps(RecipeBook& book, std::string_view text, const Crops& crops) {
  const auto rows =
      read_rows<int>(recipe_file("steps.csv"), text, crops, {"recipe", "step", "source", "checked"}, [&](Cells& c) {
        const auto key = c.words("recipe");
        const auto it = std::ranges::find(book.recipes, key, &Recipe::key);
        if (it == book.recipes.end()) return c.row.fail("recipe", fmt::format("no recipe is called \"{}\"", key)), 0;
        it->steps.push_back({c.words("step"), c.provenance()});
        return 0;
      });
  return rows ? std::nullopt : std::optional(rows.error());
}

/// What no single row can show; the row number is the recipe's.
std::optional<measure::Refusal> fault_in_recipes(const RecipeBook& book) {
  for (const auto& r : book.recipes) {
    const auto fault = [&](const char* column, const char* what) {
      return measure::Refusal{
          "bad_table",
          fmt::format("recipes/recipes.csv: row {}: column {}: {}: {}.", r.from.row, column, r.key, what),
          {"compare the recipe with its publication"}};
    };
    if (std::ranges::count(book.recipes, r.key, &Recipe::key) > 1) return fault("key", "the key stands there twice");
    if (r.ingredients.empty()) return fault("key", "it has no ingredients");
    const bool soured = r.kind == "pickle" || r.kind == "salsa" || r.kind == "sauce";
    if (soured && std::ranges::none_of(r.ingredients, [](const auto& i) { return i.role == "acid" && !i.optional; }))
      return fault("kind", "its acid is missing");
    if (r.kind == "ferment" && std::ranges::none_of(r.ingredients, [](const auto& i) { return i.role == "salt"; }))
      return fault("kind", "its salt is missing");
    if (r.most && *r.most < r.base().amount.low) return fault("most", "less than the printed batch");
  }
  return std::nullopt;
}

}  // namespace

bool RecipeChange::speaks_for(const Recipe& recipe) const {
  if (kinds.empty() && recipes.empty()) return true;
  return std::ranges::count(kinds, recipe.kind) > 0 || std::ranges::count(recipes, recipe.key) > 0;
}

const Recipe* RecipeBook::find(std::string_view key) const {
  const auto it = std::ranges::find(recipes, key, &Recipe::key);
  return it == recipes.end() ? nullptr : &*it;
}

std::vector<const Recipe*> RecipeBook::for_crop(const Crops& crops, std::string_view crop) const {
  std::vector<const Recipe*> out;
  for (const auto& r : recipes) {
    const bool its =
        std::ranges::any_of(r.crops, [&](const auto& key) { return crops.is_a(crop, key) || crops.is_a(key, crop); });
    if (its) out.push_back(&r);
  }
  return out;
}

measure::Result<RecipeBook> read_recipes(const Crops& crops, const ProcessTable& processes, const RecipeFile& file) {
  RecipeBook book;
  auto recipes = read_rows<Recipe>(
      recipe_file("recipes.csv"), file("recipes.csv"), crops,
      {"key",      "name",  "kind",      "pectin",       "crops",        "process",   "ask_food",   "ask_form",
       "keep",     "scale", "why_scale", "most",         "base_per_lb",  "yield_low", "yield_high", "yield_unit",
       "complete", "notes", "source",    "source_place", "edition_read", "checked"},
      [&](Cells& c) { return recipe_of_row(c, processes); });
  if (!recipes) return tl::unexpected(recipes.error());
  book.recipes = std::move(*recipes);
  auto fault = add_ingredients(book, file("ingredients.csv"), crops);
  if (!fault) fault = add_steps(book, file("steps.csv"), crops);
  if (!fault) fault = fault_in_recipes(book);
  if (!fault) fault = detail::read_beside_recipes(book, crops, processes, file);
  if (fault) return tl::unexpected(std::move(*fault));
  return book;
}

measure::Result<RecipeBook> load_recipes(const Crops& crops, const ProcessTable& processes) {
  return read_recipes(crops, processes, [](std::string_view name) { return embedded_file(recipe_file(name)); });
}

}  // namespace stillroom::almanac
