#include "almanac/detail/recipe_tables.h"

#include <fmt/format.h>

#include <algorithm>

#include "almanac/detail/cells.h"

namespace stillroom::almanac::detail {

namespace {

/// A known recipe's key in this column.
std::string known_recipe(Cells& c, const RecipeBook& book) {
  auto key = c.words("recipe");
  if (book.find(key) == nullptr) c.row.fail("recipe", fmt::format("no recipe is called \"{}\"", key));
  return key;
}

RecipeChange change_of_row(Cells& c, const RecipeBook& book, const Wording& wording) {
  RecipeChange change{.key = c.words("key"),
                      .kinds = c.row.list("kinds"),
                      .recipes = c.row.list("recipes"),
                      .allowed = c.yes("allowed"),
                      .words = {},
                      .what = c.words("what"),
                      .why = c.words("why"),
                      .instead = c.row.text("instead"),
                      .from = c.provenance()};
  for (const auto& written : c.row.list("words")) change.words.push_back(word_pattern(wording, written));
  for (const auto& key : change.recipes)
    if (book.find(key) == nullptr) c.row.fail("recipes", fmt::format("no recipe is called \"{}\"", key));
  for (const auto& kind : change.kinds)
    if (std::ranges::count(book.recipes, kind, &Recipe::kind) == 0)
      c.row.fail("kinds", fmt::format("no recipe is of the kind \"{}\"", kind));
  if (change.words.empty()) c.row.fail("words", "it would never be heard");
  if (!change.allowed && change.instead.empty()) c.row.fail("instead", "a refusal needs a way on");
  // What was never read again is refused, not allowed.
  if (change.allowed && change.from.checked != Sureness::read) c.row.fail("checked", "an allowed change must be read");
  if (change.allowed && change.kinds.empty() && change.recipes.empty())
    c.row.fail("kinds", "an allowed change speaks for named recipes or kinds");
  return change;
}

Ferment ferment_of_row(Cells& c, const RecipeBook& book) {
  return {.recipe = known_recipe(c, book),
          .temp_f = c.span("temp_low_f", "temp_high_f", 50, 80),
          .days = c.span("days_low", "days_high", 1, 120),
          .from = c.provenance()};
}

Syrup syrup_of_row(Cells& c) {
  return {.strength = c.words("strength"),
          .sugar_pct = c.row.required_number("sugar_pct", 5, 60),
          .makes_for = c.words("makes_for"),
          .water_cups = c.row.required_number("water_cups", 1, 20),
          .sugar_cups = c.row.required_number("sugar_cups", 0.1, 20),
          .from = c.provenance()};
}

AcidPerJar acid_of_row(Cells& c) {
  AcidPerJar acid{.crops = c.crop_list(),
                  .jar = c.row.one_of("jar", {"half_pint", "pint", "quart"}),
                  .lemon_tbsp = c.row.number("lemon_tbsp", 0.5, 4),
                  .citric_tsp = c.row.number("citric_tsp", 0.125, 2),
                  .vinegar_tbsp = c.row.number("vinegar_tbsp", 1, 8),
                  .from = c.provenance()};
  if (acid.crops.empty()) c.row.fail("crops", "the cell is empty");
  return acid;
}

/// Falls as the altitude rises, as the boiling point does.
std::optional<measure::Refusal> fault_in_gel_points(const std::vector<GelPoint>& points) {
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (points[i].altitude_ft > points[i - 1].altitude_ft && points[i].gel_f < points[i - 1].gel_f) continue;
    return measure::Refusal{
        "bad_table",
        fmt::format("recipes/gel_point.csv: row {}: column gel_f: the gel point falls as the altitude rises.", i + 1),
        {"compare with the printed table"}};
  }
  return std::nullopt;
}

}  // namespace

std::optional<measure::Refusal> read_beside_recipes(RecipeBook& book, const Crops& crops, const ProcessTable& processes,
                                                    const RecipeFile& file) {
  std::optional<measure::Refusal> fault;
  take_rows(read_rows<RecipeChange>(
                "recipes/changes.csv", file("changes.csv"), crops,
                {"key", "kinds", "recipes", "allowed", "words", "what", "why", "instead", "source", "checked"},
                [&](Cells& c) { return change_of_row(c, book, processes.wording); }),
            book.changes, fault);
  take_rows(read_rows<Ferment>("recipes/ferments.csv", file("ferments.csv"), crops,
                               {"recipe", "temp_low_f", "temp_high_f", "days_low", "days_high", "source", "checked"},
                               [&](Cells& c) { return ferment_of_row(c, book); }),
            book.ferments, fault);
  take_rows(read_rows<FermentCheck>("recipes/ferment_checks.csv", file("ferment_checks.csv"), crops,
                                    {"recipe", "day_low", "day_high", "check", "source", "checked"},
                                    [&](Cells& c) {
                                      return FermentCheck{.recipe = known_recipe(c, book),
                                                          .days = c.span("day_low", "day_high", 1, 120),
                                                          .check = c.words("check"),
                                                          .from = c.provenance()};
                                    }),
            book.ferment_checks, fault);
  take_rows(read_rows<Syrup>("recipes/syrups.csv", file("syrups.csv"), crops,
                             {"strength", "sugar_pct", "makes_for", "water_cups", "sugar_cups", "source", "checked"},
                             syrup_of_row),
            book.syrups, fault);
  take_rows(read_rows<GelPoint>("recipes/gel_point.csv", file("gel_point.csv"), crops,
                                {"altitude_ft", "gel_f", "source", "checked"},
                                [](Cells& c) {
                                  return GelPoint{.altitude_ft = c.row.required_number("altitude_ft", 0, 15000),
                                                  .gel_f = c.row.required_number("gel_f", 190, 222),
                                                  .from = c.provenance()};
                                }),
            book.gel_points, fault);
  take_rows(read_rows<AcidPerJar>("recipes/acid_per_jar.csv", file("acid_per_jar.csv"), crops,
                                  {"crops", "jar", "lemon_tbsp", "citric_tsp", "vinegar_tbsp", "source", "checked"},
                                  acid_of_row),
            book.acid_per_jar, fault);
  take_rows(read_rows<BrineStrength>("recipes/salometer.csv", file("salometer.csv"), crops,
                                     {"salometer_deg", "salt_pct", "source", "checked"},
                                     [](Cells& c) {
                                       return BrineStrength{.degrees = c.row.required_number("salometer_deg", 1, 100),
                                                            .salt_pct = c.row.required_number("salt_pct", 0.1, 26.5),
                                                            .from = c.provenance()};
                                     }),
            book.brines, fault);
  return fault ? fault : fault_in_gel_points(book.gel_points);
}

}  // namespace stillroom::almanac::detail
