#include "cli/learned.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <filesystem>
#include <iostream>

#include "app/json.h"
#include "cli/open.h"
#include "cli/print.h"

namespace stillroom::cli {

std::string to_text(const app::LearnedView& v) {
  if (v.lines.empty()) return "";
  constexpr std::size_t kColumns = 80;
  std::string out = "What your kitchen has taught it\n" + wrapped("  " + v.words, kColumns, 2) + "\n";
  std::string route;
  for (const app::LearnedLine& line : v.lines) {
    if (line.route != route) out += "\n" + line.route_name + "\n";
    route = line.route;
    out += "  " + line.what + (line.used ? "   (the plan goes by yours)" : "") + "\n";
    out +=
        wrapped(fmt::format("    as published  {} ({}: {})", line.published, line.checked, line.source), kColumns, 18) +
        "\n";
    out += wrapped(fmt::format("    yours so far  {}; {}", line.yours, line.sure), kColumns, 18) + "\n";
    out += wrapped("    from          " + line.from, kColumns, 18) + "\n";
  }
  return out;
}

std::optional<app::LearnedView> learned_of(Context& c, const std::string& crop) {
  const std::string path = household_path(c.household);
  if (!std::filesystem::exists(path)) return std::nullopt;
  const auto clock = clock_or(c.at);
  if (!clock) return std::nullopt;
  const auto house = open_file(*c.almanac, path);
  if (!house) return std::nullopt;  // what is known of a crop does not hang on the household's file
  return app::learned_view(*house, *clock, crop);
}

void add_learned(CLI::App& cli_app, Action& chosen) {
  static std::string crop;
  auto* learned = cli_app.add_subcommand(
      "learned", "What your own batches say beside the published minutes and yields, and how sure that is");
  learned->add_option("CROP", crop, "Only this crop and its kin");
  verb(learned, chosen, [](Context& c) {
    std::string key;
    if (!crop.empty()) {
      const auto named = c.almanac->crops.named(crop);
      if (!named) return c.refused(named.error());
      key = (*named)->key;
    }
    const app::LearnedView view = app::learned_view(*c.house, c.now, key);
    if (c.json) {
      std::cout << app::to_json(view) << "\n";
    } else if (view.lines.empty()) {
      std::cout
          << "Nothing yet. Begin and finish the stages of a batch as you work, and pack it: its minutes and packs "
             "stand here beside the published ones.\n";
    } else {
      std::cout << to_text(view);
    }
    return 0;
  });
}

}  // namespace stillroom::cli
