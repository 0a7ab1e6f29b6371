#include "cli/recipe.h"

#include <CLI/CLI.hpp>
#include <filesystem>
#include <iostream>

#include "app/app.h"
#include "cli/print.h"
#include "process/answer.h"

namespace stillroom::cli {

using measure::Result;

Result<kitchen::RecipePlace> place_of(Context& c, const std::string& altitude) {
  kitchen::RecipePlace place;
  std::error_code none;
  if (std::filesystem::exists(household_path(c.household), none)) {
    if (const auto opened = c.open(); !opened) return tl::unexpected(opened.error());
    const auto view = app::household_view(*c.house, c.now);
    if (view.altitude_ft) place.altitude = measure::Altitude::feet(*view.altitude_ft);
    if (view.units == "metric") place.units = measure::Units::metric;
  } else if (const auto loaded = c.load_almanac(); !loaded) {
    return tl::unexpected(loaded.error());
  }
  if (altitude.empty()) return place;
  const auto given = process::altitude_from_words(altitude);
  if (!given) return tl::unexpected(given.error());
  place.altitude = *given;
  return place;
}

namespace {

int print_recipe(const Context& c, const Result<kitchen::RecipeAnswer>& answer) {
  if (!answer) return c.refused(answer.error());
  if (c.json) {
    std::cout << answer->json << "\n";
    return 0;
  }
  for (const auto& line : answer->lines) {
    const auto depth = line.find_first_not_of(' ');
    std::cout << (line.empty() ? "" : wrapped(line, 80, (depth == std::string::npos ? 0 : depth) + 2)) << "\n";
  }
  return 0;
}

}  // namespace

void add_recipe(CLI::App& cli_app, Action& chosen) {
  static kitchen::RecipeWords words;
  static std::string altitude;
  static bool list = false;
  static double brine = 0;
  auto* sub =
      cli_app.add_subcommand("recipe", "A tested recipe scaled to what you have, or what is on file for a crop");
  sub->add_option("NAME", words.name, "A recipe or a crop");
  sub->add_flag("--list", list, "All recipes, the syrups and the brines");
  sub->add_option("--amount", words.amount, "What you have: \"12 cups\", \"20 lb\", \"1 bushel\"");
  sub->add_option("--change", words.change, "Ask about a change: \"less vinegar\"");
  sub->add_flag("--one-pot", words.one_pot, "All of it in one pot, where the recipe allows it");
  sub->add_option("--brine", brine, "Salt for a brine of that many percent; --amount is the water");
  sub->add_option("--altitude", altitude, "Else the household's; \"2,900 ft\" or 880 m");
  sub->callback([&chosen] {
    chosen = [](Context& c) {
      const auto place = place_of(c, altitude);
      if (!place) return c.refused(place.error());
      if (list) return print_recipe(c, kitchen::recipe_list(*c.almanac, place->units));
      if (brine != 0)
        return print_recipe(
            c, kitchen::brine_answer(*c.almanac, words.amount.empty() ? "1 qt" : words.amount, brine, place->units));
      if (words.name.empty()) {
        c.refused({"wrong_use", "Which recipe or crop?", {"stillroom recipe tomato", "stillroom recipe --list"}});
        return 2;
      }
      return print_recipe(c, kitchen::recipe_answer(*c.almanac, words, *place));
    };
  });
}

}  // namespace stillroom::cli
