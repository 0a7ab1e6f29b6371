#include "cli/trouble.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <iostream>

#include "app/json.h"
#include "cli/print.h"

namespace stillroom::cli {
namespace {

constexpr int kTextWidth = 80;

std::string answer_text(const app::TroubleAnswer& a) {
  std::string out = a.what + "\n" + wrapped("  " + a.then, kTextWidth, 2) + "\n";
  out += wrapped("  Source: " + a.source, kTextWidth, 2) + "\n";
  for (const std::string& pack : a.packs) out += "  concerns " + pack + "\n";
  std::string outcomes;
  for (const std::string& one : a.outcomes) outcomes += (outcomes.empty() ? "" : " or ") + one;
  return out + wrapped("  Write it down: the same again with --record " + outcomes, kTextWidth, 2) + "\n";
}

std::string list_text(const std::vector<app::TroubleView>& all) {
  std::string out = "What went wrong?\n";
  for (const app::TroubleView& t : all) {
    out += wrapped(fmt::format("  {:<20} {}. {}", t.fault, t.what, t.asks), kTextWidth, 23) + "\n";
  }
  return out;
}

}  // namespace

void add_trouble(CLI::App& cli_app, Action& chosen) {
  static app::WentWrong what;
  static double minutes = -1;
  static std::string record;
  auto* trouble =
      cli_app.add_subcommand("trouble", "Something went wrong: what it can be, what to do now, and writing it down");
  trouble->add_option("ABOUT", what.about, "Batch, pack code or freezer")->required();
  trouble->add_option("FAULT", what.fault, "One of the words that trouble ABOUT lists");
  trouble->add_option("--minutes", minutes, "How many minutes, as the fault asks; left out = nobody knows")
      ->check(CLI::NonNegativeNumber);
  trouble->add_option("--load", what.stage, "Step of the load concerned (process:2); every load when left out");
  trouble->add_option("--packs", what.packs, "So many of the packs only")->check(CLI::PositiveNumber);
  auto* write = trouble->add_option("--record", record, "Write it down; with a word, as that outcome");
  write->expected(0, 1);
  verb(trouble, chosen, [write](Context& c) {
    if (what.fault.empty()) {
      const auto all = app::troubles_of(*c.house, what.about);
      if (!all) return c.refused(all.error());
      std::cout << (c.json ? app::to_json(*all) + "\n" : list_text(*all));
      return 0;
    }
    if (minutes >= 0) what.elapsed_min = minutes;
    const auto answer = app::what_now(*c.house, what);
    if (!answer) return c.refused(answer.error());
    if (write->count() == 0) {
      std::cout << (c.json ? app::to_json(*answer) + "\n" : answer_text(*answer));
      return 0;
    }
    what.outcome = record;
    return c.done(app::meet_trouble(*c.house, c.now, what), answer->then);
  });
}

}  // namespace stillroom::cli
