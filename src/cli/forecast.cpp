#include "cli/forecast.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cctype>
#include <cmath>
#include <csignal>
#include <cstdlib>
#include <iostream>

#include "app/json.h"
#include "cli/print.h"
#include "measure/text.h"
#include "planning/bound.h"
#include "planning/rehearse.h"
#include "planning/what_if.h"

namespace stillroom::cli {
namespace {

constexpr long kPlanSteps = 6000;   // per worker: a second or so for forty lots
constexpr long kAgainSteps = 1500;  // per worker and seed of a plan made again

/// "today", "sat", "2026-09-19" as days after the first day.
measure::Result<int> day_said(const planning::Household& h, const std::string& said) {
  const std::string word = measure::lowered(said);
  const int today = h.now / 1440;
  if (word == "today") return today;
  if (word == "tomorrow") return today + 1;
  if (const auto date = measure::parse_date(word)) return static_cast<int>((*date - h.first_day).count());
  for (int d = today; word.size() >= 2 && d < today + 7; ++d) {
    const std::string_view weekday = measure::say_weekday(h.first_day + std::chrono::days(d));
    if (measure::lowered(weekday).starts_with(word)) return d;
  }
  return measure::refuse("bad_day", "\"" + said + "\" is no day that is known here.",
                         {"today, tomorrow, sat, or a date such as 2026-09-19"});
}

/// "4h", "90 min", "1.5 hours" in minutes.
measure::Result<int> minutes_said(const std::string& said) {
  char* rest = nullptr;
  const double number = std::strtod(said.c_str(), &rest);
  std::string unit = measure::lowered(rest);
  std::erase(unit, ' ');
  const double each = unit.starts_with("h") ? 60 : unit.starts_with("min") || unit == "m" ? 1 : 0;
  if (number > 0 && number < 1e4 && each > 0) return static_cast<int>(std::lround(number * each));
  return measure::refuse("bad_duration", "\"" + said + "\" is no length of time.", {"4h or 90min"});
}

volatile std::sig_atomic_t interrupted = 0;
extern "C" void on_interrupt(int) { interrupted = 1; }

/// While it lives Ctrl-C only asks to stop; a second one ends the program as ever.
class StopOnInterrupt {
 public:
  StopOnInterrupt() {
    interrupted = 0;
    struct sigaction ask {};
    ask.sa_handler = on_interrupt;
    ask.sa_flags = static_cast<int>(SA_RESETHAND);
    sigaction(SIGINT, &ask, &before_);
  }
  ~StopOnInterrupt() { sigaction(SIGINT, &before_, nullptr); }
  StopOnInterrupt(const StopOnInterrupt&) = delete;
  StopOnInterrupt& operator=(const StopOnInterrupt&) = delete;

 private:
  struct sigaction before_ {};
};

int rehearse(const Context& c, int seasons, std::uint64_t seed) {
  const auto planned = plan_by_steps(c, kPlanSteps, 1);
  if (!planned) return c.refused(planned.error());
  planning::RehearseOptions options;
  options.seasons = seasons;
  options.seed = seed;
  options.cancelled = [] { return interrupted != 0; };
  options.on_season = [](int done, int all) {
    if (done % 10 == 0 || done == all) std::cerr << fmt::format("\r{} of {} seasons", done, all) << std::flush;
  };
  const StopOnInterrupt stop;
  const auto rehearsal = planning::rehearse(planned->snapshot, planned->plan, options);
  std::cerr << "\r" << std::string(40, ' ') << "\r";
  if (!rehearsal) return c.refused(rehearsal.error());
  const auto most = planning::bound(planned->snapshot);
  const app::ForecastView view =
      app::forecast_view(*c.house, c.now, planned->snapshot, *rehearsal, most ? most->value : 0);
  std::cout << (c.json ? app::to_json(view) + "\n" : to_text(view));
  return 0;
}

void add_rehearse(CLI::App& cli_app, Action& chosen) {
  static int seasons = 1000;
  static std::uint64_t seed = 1;
  auto* sub = cli_app.add_subcommand(
      "rehearse", "Live the plan through many times: the chance that each lot is saved. Ctrl-C keeps what it has");
  sub->add_option("--seasons", seasons, "How many times")->check(CLI::Range(1, 100'000));
  sub->add_option("--seed", seed, "Another seed, another run of luck");
  verb(sub, chosen, [](Context& c) { return rehearse(c, seasons, seed); });
}

/// The options of what-if as given; one of them says what is changed.
struct Asked {
  std::string helper, equipment, hour, lost_day, day;
  bool shopping = false, next = false;
  int age = 30;
};

measure::Result<planning::Change> change_of(const planning::Household& h, const Asked& asked) {
  using Kind = planning::Change::Kind;
  planning::Change change;
  const std::string& day = asked.lost_day.empty() ? asked.day : asked.lost_day;
  if (!day.empty()) {
    const auto said = day_said(h, day);
    if (!said) return tl::unexpected(said.error());
    change.day = *said;
  }
  if (!asked.helper.empty()) {
    const auto minutes = minutes_said(asked.helper);
    if (!minutes) return tl::unexpected(minutes.error());
    change.kind = Kind::helper;
    change.minutes = *minutes;
    change.age = asked.age;
  } else if (!asked.equipment.empty()) {
    change.kind = Kind::equipment;
    change.what = asked.equipment;
  } else if (!asked.hour.empty()) {
    change.kind = Kind::hour;
    change.what = asked.hour;
  } else {
    change.kind = asked.shopping ? Kind::shopping : Kind::lost_day;
  }
  return change;
}

int what_if(const Context& c, const Asked& asked) {
  const auto planned = plan_by_steps(c, kPlanSteps, 1);
  if (!planned) return c.refused(planned.error());
  planning::PlanOptions options;
  options.max_schedules = kAgainSteps;
  if (asked.next) {
    const auto list = planning::worth_of_next(planned->snapshot, planned->plan, options);
    if (!list) return c.refused(list.error());
    std::cout << (c.json ? planning::to_json(*list) + "\n" : to_text(*list));
    return 0;
  }
  const auto change = change_of(planned->snapshot, asked);
  if (!change) return c.refused(change.error());
  const auto answer = planning::what_if(planned->snapshot, planned->plan, *change, options);
  if (!answer) return c.refused(answer.error());
  std::cout << (c.json ? planning::to_json(*answer) : wrapped(answer->sentence, 80, 0)) << "\n";
  return 0;
}

void add_what_if(CLI::App& cli_app, Action& chosen) {
  static Asked asked;
  auto* sub = cli_app.add_subcommand("what-if",
                                     "What would come of one thing more, or of a day lost; nothing is kept. One of:");
  auto* kind = sub->add_option_group("change", "What is changed");
  kind->add_option("--helper", asked.helper, "One more pair of hands, for so long: 4h");
  kind->add_option("--canner,--equipment", asked.equipment,
                   "One more: boiling-water, pressure, burner, dryer-tray, ...");
  kind->add_option("--hour", asked.hour, "An hour more of this person");
  kind->add_flag("--shopping", asked.shopping, "All the jars, lids and bags there could be");
  kind->add_option("--lost-day", asked.lost_day, "Nobody does anything on this day");
  kind->add_flag("--next", asked.next, "What one more hour, jar, litre of freezer or canner would be worth");
  kind->require_option(1);
  sub->add_option("--day", asked.day, "today, tomorrow, sat, or a date; else the first day with time for it");
  sub->add_option("--age", asked.age, "Of the helper, years")->check(CLI::Range(1, 120));
  verb(sub, chosen, [](Context& c) { return what_if(c, asked); });
}

}  // namespace

void add_forecasts(CLI::App& cli_app, Action& chosen) {
  add_rehearse(cli_app, chosen);
  add_what_if(cli_app, chosen);
}

}  // namespace stillroom::cli
