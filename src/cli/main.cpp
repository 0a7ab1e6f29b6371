#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <fstream>
#include <iostream>
#include <sstream>

#include "almanac/about.h"
#include "almanac/almanac.h"
#include "app/app.h"
#include "app/json.h"
#include "cli/batch.h"
#include "cli/butcher.h"
#include "cli/forecast.h"
#include "cli/learned.h"
#include "cli/open.h"
#include "cli/print.h"
#include "cli/recipe.h"
#include "cli/serving.h"
#include "cli/trouble.h"
#include "cli/verbs.h"
#include "measure/text.h"
#include "planning/plan.h"
#include "process/answer.h"

// The command line: parse, call app, print. Exit 0 fine, 1 the answer is a refusal, 2 wrong use.
namespace {

using stillroom::measure::Refusal;
using stillroom::measure::Result;
namespace app = stillroom::app;
namespace cli = stillroom::cli;

using cli::Action;
using cli::Context;
using cli::plan_now;
using cli::plan_to_follow;
using cli::verb;

std::string read_all(const std::string& path) {
  std::ostringstream text;
  if (path == "-") {
    text << std::cin.rdbuf();
  } else {
    std::ifstream file(path, std::ios::binary);
    if (!file) throw CLI::ValidationError("--from", "cannot read " + path);
    text << file.rdbuf();
  }
  return text.str();
}

template <class View>
int show(const Context& c, const Result<View>& view) {
  if (!view) return c.refused(view.error());
  std::cout << (c.json ? app::to_json(*view) + "\n" : cli::to_text(*view));
  return 0;
}

void add_looking(CLI::App& cli_app, Action& chosen) {
  static double seconds = 1.0;
  static std::string what, extra;
  static bool plan_too = false;
  static std::size_t most = 30;
  auto* today = cli_app.add_subcommand(
      "today", "What first today, and why: the next thing, the day, and every lot by cost of waiting");
  today->add_option("--seconds", seconds, "How long to plan")->check(CLI::Range(0.05, 600.0));
  verb(today, chosen, [](Context& c) {
    const auto planned = plan_to_follow(c, seconds);
    if (!planned) return c.refused(planned.error());
    app::DayView view = app::day_view(*c.house, c.now, planned->snapshot, planned->plan);
    view.seconds_to_plan = planned->seconds;
    return show<app::DayView>(c, view);
  });
  auto* ahead = cli_app.add_subcommand("ahead", "The plan day by day");
  ahead->add_option("--seconds", seconds, "How long to plan")->check(CLI::Range(0.05, 600.0));
  verb(ahead, chosen, [](Context& c) {
    const auto planned = plan_to_follow(c, seconds);
    if (!planned) return c.refused(planned.error());
    return show<app::AheadView>(c, app::ahead_view(*c.house, c.now, planned->snapshot, planned->plan));
  });
  auto* lot = cli_app.add_subcommand("lot", "One lot: how it keeps and what it could become");
  lot->add_option("LOT", what, "Id, first letters of an id, or name")->required();
  verb(lot, chosen, [](Context& c) {
    const auto planned = plan_now(c, 0.3);
    if (!planned) return c.refused(planned.error());
    return show(c, app::lot_view(*c.house, c.now, what, planned->snapshot, planned->plan));
  });
  auto* why = cli_app.add_subcommand(
      "why", "Why a lot stands where it stands: what waiting costs, what binds, the next-best move");
  why->add_option("LOT", what, "Id, first letters of an id, or name")->required();
  verb(why, chosen, [](Context& c) {
    const bool standing = c.house->ledger.state().standing.contains(what);
    const auto id = standing ? Result<stillroom::ledger::Id>(stillroom::ledger::Id{}) : app::resolve(*c.house, what);
    if (!id) return c.refused(id.error());
    const auto planned = plan_now(c, 1.0);
    if (!planned) return c.refused(planned.error());
    stillroom::planning::PlanOptions options;
    options.max_schedules = 2000;
    const auto answer =
        stillroom::planning::why(planned->snapshot, planned->plan, standing ? what : id->hex(), options);
    if (!answer) return c.refused(answer.error());
    const auto view = app::lot_view(*c.house, c.now, standing ? what : id->hex(), planned->snapshot, planned->plan);
    std::cout << (c.json ? app::to_json(*answer) + "\n"
                         : cli::to_text(*answer, view ? view->strip.name + ", " + view->strip.amount : what));
    return 0;
  });
  auto* larder = cli_app.add_subcommand("larder", "All that is put by, what to eat first, and how far it goes");
  verb(larder, chosen, [](Context& c) { return show<app::LarderView>(c, app::larder_view(*c.house, c.now)); });
  auto* history = cli_app.add_subcommand("history", "What happened, newest first");
  history->add_option("--most", most, "How many entries");
  verb(history, chosen,
       [](Context& c) { return show<std::vector<app::HistoryLine>>(c, app::history(*c.house, most)); });
  auto* check = cli_app.add_subcommand(
      "check", "Folds every entry again and compares; with --plan also checks the plan against every constraint");
  check->add_flag("--plan", plan_too, "Make a plan and check it with the independent checker");
  verb(check, chosen, [](Context& c) {
    std::vector<std::string> faults = app::check(*c.house, c.now);
    if (plan_too) {
      const auto planned = plan_now(c, 1.0);
      if (!planned) return c.refused(planned.error());
      for (const std::string& fault : stillroom::planning::check_plan(planned->snapshot, planned->plan))
        faults.push_back("plan: " + fault);
    }
    if (c.json) {
      std::cout << app::checked_json(faults) << "\n";
    } else if (faults.empty()) {
      std::cout << (plan_too ? "The book adds up, and the plan breaks no constraint.\n" : "The book adds up.\n");
    } else {
      for (const std::string& fault : faults) std::cout << cli::wrapped(fault, 80, 2) << "\n";
    }
    return faults.empty() ? 0 : 1;
  });
}

void add_doing(CLI::App& cli_app, Action& chosen) {
  static std::string what, words, place, amount, note, from;
  static std::vector<std::string> parts;
  static double packs = 1;
  auto* start = cli_app.add_subcommand("start", "The questions of a new household: at most six, each may be skipped");
  start->add_option("QUESTION", what, "altitude, hands, canners, jars, freezer or waiting");
  start->add_option("ANSWER", words, "Your answer, or \"skip\"");
  verb(start, chosen, [](Context& c) {
    if (what.empty()) {
      const auto questions = app::start_questions(*c.house);
      std::cout << (c.json ? app::to_json(questions) + "\n" : cli::to_text(questions));
      return 0;
    }
    return c.done(app::answer_start(*c.house, c.now, what, words), "Written down.");
  });
  auto* set = cli_app.add_subcommand("set", "Change a setting: name, altitude, units, zone, one_job_day, ...");
  set->add_option("KEY", what)->required();
  set->add_option("VALUE", words)->required();
  verb(set, chosen, [](Context& c) {
    if (what == "altitude") return c.done(app::answer_start(*c.house, c.now, what, words), "Written down.");
    return c.done(app::set(*c.house, c.now, what, words), "Written down.");
  });
  auto* bring = cli_app.add_subcommand("bring-in", "A new lot: stillroom bring-in \"2 bu pears, firm, in the pantry\"");
  bring->add_option("LINE", words, "Amount, crop, condition, place, in the words you would say");
  bring->add_option("--from", from, "CSV file (or -) with columns crop, amount, unit, condition, place, when");
  verb(bring, chosen, [](Context& c) {
    if (!from.empty()) {
      const auto done = app::bring_in_csv(*c.house, c.now, read_all(from));
      if (!done) return c.refused(done.error());
      if (c.json) {
        std::cout << app::to_json(*done) << "\n";
      } else {
        std::cout << fmt::format("{} lots brought in.\n", done->kept);
        for (const app::BadRow& row : done->bad) {
          std::cerr << cli::wrapped(fmt::format("line {}: {}", row.line, row.refusal.message), 80, 2) << "\n";
          for (const std::string& instead : row.refusal.instead)
            std::cerr << cli::wrapped("    - " + instead, 80, 6) << "\n";
        }
      }
      return done->bad.empty() ? 0 : 1;
    }
    const auto draft = app::read_bring_in(*c.house, c.now, words);
    if (!draft) return c.refused(draft.error());
    return c.done(app::bring_in(*c.house, c.now, *draft),
                  fmt::format("{} of {}, {}, {} ({}).", draft->mass_words, draft->crop_name, draft->condition,
                              draft->place_name, draft->how_found));
  });
  auto* sort = cli_app.add_subcommand(
      "sort", "Sort a lot: stillroom sort LOT \"10 lb firm\" \"4 lb soft, fridge\" --discard \"1 lb\"");
  sort->add_option("LOT", what)->required();
  sort->add_option("PARTS", parts, "Amount and condition, then a place if it moves")->required();
  sort->add_option("--discard", amount, "Spoiled amount");
  verb(sort, chosen, [](Context& c) {
    const auto read = app::read_sort(*c.house, parts, amount);
    if (!read) return c.refused(read.error());
    return c.done(app::sort_lot(*c.house, c.now, what, read->parts, read->discarded_kg), "Sorted.");
  });
  auto* move = cli_app.add_subcommand("move", "Move a lot or packs to another place");
  move->add_option("WHAT", what)->required();
  move->add_option("PLACE", place)->required();
  verb(move, chosen, [](Context& c) { return c.done(app::move(*c.house, c.now, what, place), "Moved."); });
  auto* look = cli_app.add_subcommand("look", "Write down what you see: stillroom look LOT soft");
  look->add_option("LOT", what)->required();
  look->add_option("CONDITION", words, "underripe, firm, ripe, soft or going over")->required();
  verb(look, chosen, [](Context& c) { return c.done(app::observe(*c.house, c.now, what, words), "Written down."); });
  struct Way {
    const char* name;
    const char* help;
    app::Leaves how;
    const char* said;
  };
  static constexpr Way kWays[] = {{"eat", "Eaten fresh, or a pack used up", app::Leaves::eaten, "Eaten."},
                                  {"give", "Given away", app::Leaves::given_away, "Given away."},
                                  {"throw", "Thrown away, with why", app::Leaves::thrown_away, "Thrown away."},
                                  {"feed", "Fed to the animals", app::Leaves::fed_to_stock, "Fed."}};
  for (const Way& way : kWays) {
    auto* sub = cli_app.add_subcommand(way.name, way.help);
    sub->add_option("WHAT", what)->required();
    sub->add_option("AMOUNT", amount, "\"2 lb\", \"half\", \"3 jars\"; all when left out");
    sub->add_option("--note", note, "Why, or to whom");
    verb(sub, chosen,
         [&way](Context& c) { return c.done(app::leave(*c.house, c.now, what, amount, way.how, note), way.said); });
  }
  auto* take =
      cli_app.add_subcommand("take", "Take packs out of the larder, by code or by food (then the first to eat)");
  take->add_option("WHAT", what, "Code, id or food")->required();
  take->add_option("PACKS", packs, "How many");
  verb(take, chosen, [](Context& c) { return c.done(app::take(*c.house, c.now, what, packs), "Taken."); });
  auto* count = cli_app.add_subcommand("count", "Say how many packs there really are");
  count->add_option("PACK", what)->required();
  count->add_option("PACKS", packs)->required();
  verb(count, chosen, [](Context& c) { return c.done(app::count(*c.house, c.now, what, packs), "Counted."); });
  auto* undo = cli_app.add_subcommand("undo", "Take back the last entry, or the one named");
  undo->add_option("ENTRY", what, "First letters of the entry's id, from stillroom history");
  verb(undo, chosen, [](Context& c) { return c.done(app::undo(*c.house, c.now, what), "Undone."); });
}

void add_published(CLI::App& cli_app, Action& chosen, Context& context) {
  static std::string form, pack, jar, canner, altitude;
  static std::vector<std::string> words, conditions;
  static const auto food = [] { return fmt::format("{}", fmt::join(words, " ")); };
  auto* about = cli_app.add_subcommand("about", "What is known of a crop, how surely, and from where");
  about->add_option("CROP", words)->required();
  about->callback([&] {
    chosen = [](Context& c) {
      if (const auto loaded = c.load_almanac(); !loaded) return c.refused(loaded.error());
      const auto answer = stillroom::almanac::about(*c.almanac, food());
      if (!answer) return c.refused(answer.error());
      const auto learned = cli::learned_of(c, answer->crop);
      if (c.json) {
        const std::string said = stillroom::almanac::to_json(*answer);
        std::cout << (learned ? app::about_json(said, *learned) : said) << "\n";
      } else {
        std::cout << stillroom::almanac::to_text(*answer);
        if (learned && !learned->lines.empty()) std::cout << "\n" << cli::to_text(*learned);
      }
      return 0;
    };
  });
  auto* process = cli_app.add_subcommand(
      "process", "The published heat processes for a food, or a refusal that says what to do instead");
  process->add_option("FOOD", words)->required();
  process->add_option("--form", form, "halves, sauce, juice, ...");
  process->add_option("--pack", pack, "hot or raw")->check(CLI::IsMember({"hot", "raw"}));
  process->add_option("--jar", jar, "half-pint, pint, quart or half-gallon")
      ->check(CLI::IsMember({"half-pint", "pint", "quart", "half-gallon"}));
  process->add_option("--canner", canner, "boiling-water, steam, dial, weighted or low-temperature")
      ->check(CLI::IsMember({"boiling-water", "steam", "dial", "weighted", "low-temperature"}));
  process->add_option("--altitude", altitude, "Else the household's; \"2,900 ft\" or 880 m; a bare number is feet");
  process->add_option("--condition", conditions, "What may bar it: frozen_raw, frost_killed_vine, mould, own_recipe");
  process->callback([&] {
    chosen = [](Context& c) {
      const auto place = cli::place_of(c, altitude);
      if (!place) {
        c.refused(place.error());
        return 2;
      }
      auto question = stillroom::process::question_from_words({food(), form, pack, jar, canner, ""});
      if (!question) {
        c.refused(question.error());
        return 2;
      }
      question->altitude = place->altitude;
      question->conditions = conditions;
      const auto choices = stillroom::process::choose(*c.almanac, *question);
      if (c.json) {
        std::cout << stillroom::process::to_json(c.almanac->processes, choices) << "\n";
      } else {
        (choices ? std::cout : std::cerr) << stillroom::process::to_text(c.almanac->processes, choices);
      }
      return choices ? 0 : 1;
    };
  });
  (void)context;
}

int run(int argc, char** argv) {
  Context context;
  Action chosen;
  CLI::App cli_app{"stillroom: what to put by first, how it is done as published, and where it lies"};
  cli_app.set_version_flag("--version", "stillroom 0.1.0");
  cli_app.require_subcommand(1);
  cli_app.fallthrough();
  cli_app.add_option("--household", context.household,
                     "The household's file (else STILLROOM_HOUSEHOLD, else the user's data folder)");
  cli_app.add_flag("--json", context.json, "Print JSON");
  cli_app.add_option("--at", context.at, "Take this moment as now (UTC, 2026-09-14T10:00:00Z), for trying things out");
  add_looking(cli_app, chosen);
  cli::add_forecasts(cli_app, chosen);
  cli::add_learned(cli_app, chosen);
  cli::add_butcher(cli_app, chosen);
  add_doing(cli_app, chosen);
  cli::add_batch(cli_app, chosen);
  cli::add_timers(cli_app, chosen);
  cli::add_trouble(cli_app, chosen);
  add_published(cli_app, chosen, context);
  cli::add_recipe(cli_app, chosen);
  cli::add_serving(cli_app, chosen);
  cli::add_devices(cli_app, chosen);
  try {
    cli_app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return cli_app.exit(error) == 0 ? 0 : 2;
  }
  return chosen ? chosen(context) : 2;
}

}  // namespace

int main(int argc, char** argv) {
  try {
    return run(argc, argv);
  } catch (const std::exception& error) {
    std::cerr << "Something broke that should not: " << error.what() << "\n";
    return 70;
  }
}
