#include "cli/forecast.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <csignal>
#include <iostream>

#include "app/json.h"
#include "cli/print.h"
#include "planning/rehearse.h"

namespace stillroom::cli {
namespace {

constexpr long kPlanSteps = 6000;  // per worker: a second or so for forty lots

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
  const app::ForecastView view = app::forecast_view(*c.house, c.now, planned->snapshot, *rehearsal);
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

}  // namespace

void add_forecasts(CLI::App& cli_app, Action& chosen) { add_rehearse(cli_app, chosen); }

}  // namespace stillroom::cli
