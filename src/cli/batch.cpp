#include "cli/batch.h"

#include <CLI/CLI.hpp>
#include <iostream>

#include "app/json.h"
#include "cli/print.h"

namespace stillroom::cli {
namespace {

int show_batch(const Context& c, const measure::Result<app::BatchView>& view) {
  if (!view) return c.refused(view.error());
  std::cout << (c.json ? app::to_json(*view) + "\n" : to_text(*view));
  return 0;
}

/// What the verbs of a batch are told.
struct BatchWords {
  std::string batch, route, stage, name, place, time, why;
  std::vector<std::string> lots;
  double kg = 0, packs = 1, sealed = 0, failed = 0, minutes = 0;
  bool sound = false;
};

void add_seeing(CLI::App& batch, Action& chosen, BatchWords& w) {
  auto* list = batch.add_subcommand("list", "The open batches: where each stands, what is due, and what cannot wait");
  verb(list, chosen, [](Context& c) {
    const auto open = app::open_batches(*c.house, c.now);
    std::cout << (c.json ? app::to_json(open) + "\n" : to_text(open));
    return 0;
  });
  auto* view = batch.add_subcommand("show", "The steps, where it stands, and the heat process");
  view->add_option("BATCH", w.batch)->required();
  verb(view, chosen, [&w](Context& c) { return show_batch(c, app::batch_view(*c.house, c.now, w.batch)); });
  auto* card = batch.add_subcommand("card", "The whole card to print: boxes to tick, room for times");
  card->add_option("BATCH", w.batch)->required();
  verb(card, chosen, [&w](Context& c) {
    const auto seen = app::batch_view(*c.house, c.now, w.batch);
    if (!seen || c.json) return show_batch(c, seen);
    std::cout << card_text(*seen);
    return 0;
  });
}

void add_steps(CLI::App& batch, Action& chosen, BatchWords& w) {
  struct Stage {
    const char* name;
    const char* help;
    measure::Result<std::string> (*act)(app::House&, measure::Instant, std::string_view, std::string_view);
    const char* said;
  };
  static constexpr Stage kStages[] = {
      {"begin", "Begin a stage", app::start_stage, "Begun."},
      {"finish", "Finish a stage", app::finish_stage, "Finished."},
      {"put-down", "Put a stage down where that is harmless", app::put_down_stage, "Put down."}};
  for (const Stage& stage : kStages) {
    auto* sub = batch.add_subcommand(stage.name, stage.help);
    sub->add_option("BATCH", w.batch)->required();
    sub->add_option("STAGE", w.stage)->required();
    verb(sub, chosen,
         [&stage, &w](Context& c) { return c.done(stage.act(*c.house, c.now, w.batch, w.stage), stage.said); });
  }
  auto* timer = batch.add_subcommand("timer", "Set a timer; it is kept in the household's file");
  timer->add_option("BATCH", w.batch)->required();
  timer->add_option("NAME", w.name)->required();
  timer->add_option("MINUTES", w.minutes)->required()->check(CLI::PositiveNumber);
  verb(timer, chosen,
       [&w](Context& c) { return c.done(app::set_timer(*c.house, c.now, w.batch, w.name, w.minutes), "Set."); });
  auto* clock = batch.add_subcommand("clock", "Say when the clock of a heat process truly began");
  clock->add_option("BATCH", w.batch)->required();
  clock->add_option("STAGE", w.stage, "The step it belongs to: process, or process:2 for the second load")->required();
  clock->add_option("TIME", w.time, "14:05, or 2026-09-14T14:05")->required();
  verb(clock, chosen, [&w](Context& c) {
    return c.done(app::correct_clock(*c.house, c.now, w.batch, w.stage, w.time), "Written down as your word.");
  });
}

void add_ends(CLI::App& batch, Action& chosen, BatchWords& w) {
  auto* begin = batch.add_subcommand("start", "Start a batch: its steps and published process are fixed now");
  begin->add_option("ROUTE", w.route, "From stillroom lot LOT")->required();
  begin->add_option("LOTS", w.lots)->required();
  begin->add_option("--kg", w.kg, "How much goes in; all that is there when left out")->check(CLI::PositiveNumber);
  verb(begin, chosen, [&w](Context& c) {
    const auto id = app::start_batch(*c.house, c.now, w.route, w.lots, w.kg);
    if (!id || c.json) return c.done(id, "");
    return show_batch(c, app::batch_view(*c.house, c.now, *id));
  });
  auto* pack = batch.add_subcommand("pack", "Finish a batch into packs");
  pack->add_option("BATCH", w.batch)->required();
  pack->add_option("PACKS", w.packs)->required();
  pack->add_option("--place", w.place, "Where they go");
  verb(pack, chosen,
       [&w](Context& c) { return c.done(app::pack(*c.house, c.now, w.batch, w.packs, w.place), "Put by."); });
  auto* seals = batch.add_subcommand("seals", "The next day: how many sealed, how many did not");
  seals->add_option("PACK", w.batch)->required();
  seals->add_option("SEALED", w.sealed)->required();
  seals->add_option("FAILED", w.failed)->required();
  verb(seals, chosen, [&w](Context& c) {
    return c.done(app::check_seals(*c.house, c.now, w.batch, w.sealed, w.failed), "Written down.");
  });
  auto* abandon = batch.add_subcommand("abandon", "Give a batch up");
  abandon->add_option("BATCH", w.batch)->required();
  abandon->add_option("--why", w.why, "Why, for next time")->required();
  abandon->add_flag("--sound", w.sound, "The food is still sound and goes back to waiting");
  verb(abandon, chosen,
       [&w](Context& c) { return c.done(app::abandon_batch(*c.house, c.now, w.batch, w.why, w.sound), "Given up."); });
}

}  // namespace

void add_batch(CLI::App& cli_app, Action& chosen) {
  static BatchWords words;
  auto* batch = cli_app.add_subcommand("batch", "Carry one batch through");
  batch->require_subcommand(1);
  add_ends(*batch, chosen, words);
  add_seeing(*batch, chosen, words);
  add_steps(*batch, chosen, words);
}

void add_timers(CLI::App& cli_app, Action& chosen) {
  static std::string name, note, which;
  static double minutes = 0;
  auto* list = cli_app.add_subcommand("timers", "Every timer that runs, and those whose time is up");
  verb(list, chosen, [](Context& c) {
    const auto all = app::timers(*c.house, c.now);
    std::cout << (c.json ? app::to_json(all) + "\n" : to_text(all));
    return 0;
  });
  auto* own = cli_app.add_subcommand("timer", "A timer of your own, such as the pectin maker's leaflet's time");
  own->add_option("NAME", name);
  own->add_option("MINUTES", minutes)->check(CLI::PositiveNumber);
  own->add_option("--note", note, "Whose time it is");
  auto* stop = own->add_subcommand("stop", "Stop a timer, of a batch or your own");
  stop->add_option("TIMER", which, "Its name, or the first letters of its id")->required();
  verb(own, chosen, [stop](Context& c) {
    if (stop->parsed()) return c.done(app::stop_timer(*c.house, c.now, which), "Stopped.");
    if (name.empty() || minutes <= 0) {
      c.refused({"wrong_use",
                 "A timer has a name and its minutes.",
                 {"stillroom timer \"Leaflet's time\" 12", "stillroom timer stop NAME"}});
      return 2;
    }
    return c.done(app::set_timer(*c.house, c.now, "", name, minutes, note.empty() ? "A time of your own." : note),
                  "Set, as your own time.");
  });
}

}  // namespace stillroom::cli
