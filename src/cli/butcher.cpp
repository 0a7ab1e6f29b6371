#include "cli/butcher.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <iostream>

#include "app/butchering.h"
#include "cli/print.h"

namespace stillroom::cli {
namespace {

std::string day_text(const app::ButcheringView& v) {
  constexpr std::size_t kColumns = 80;
  std::string out = v.words + "\n";
  for (const app::ButcheringLine& line : v.lines) {
    out += wrapped(fmt::format("  {}: {}. {}", line.what, line.amount, line.then), kColumns, 4) + "\n";
    if (!line.source.empty()) out += wrapped("    (" + line.source + ")", kColumns, 5) + "\n";
  }
  for (const std::string& caution : v.cautions) out += wrapped("  Take care: " + caution, kColumns, 4) + "\n";
  return out;
}

}  // namespace

void add_butcher(CLI::App& cli_app, Action& chosen) {
  static app::ButcheringAsk ask;
  static bool look = false;
  auto* butcher = cli_app.add_subcommand(
      "butcher", "A butchering day: stillroom butcher \"20 ducks, 4 lb 8 oz each\" --killed 08:30 --whole 4");
  butcher->add_option("LINE", ask.line, "How many, of what, and what one weighs; \"live\" when that is live weight")
      ->required();
  butcher->add_option("--killed", ask.killed, "When: 08:30, or 2026-09-14T08:30; now when left out");
  butcher->add_option("--place", ask.place, "Where they go to get cold; the fridge when left out");
  butcher->add_option("--whole", ask.whole, "How many stay whole; the others are parted")
      ->check(CLI::NonNegativeNumber);
  butcher->add_flag("--more", ask.more, "Others of those that stand alive are left for another day");
  butcher->add_flag("--look", look, "Only say what the day comes to; bring nothing in");
  verb(butcher, chosen, [](Context& c) {
    const auto day = app::butchering_day(*c.house, c.now, ask);
    if (!day) return c.refused(day.error());
    if (look && c.json) {
      std::cout << app::to_json(*day) << "\n";
      return 0;
    }
    if (!c.json) std::cout << day_text(*day);
    return look ? 0 : c.done(app::bring_in_butchered(*c.house, c.now, ask), "Brought in.");
  });
}

}  // namespace stillroom::cli
