#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "planning/plan.h"

/// The plan lived through many times: fading, lengths of stages, yields, interruptions and weather drawn anew for every
/// season, and the plan made again each morning from what a person would see by then. Model and priors:
/// docs/science/rehearsal.md.
namespace stillroom::planning {

/// How far things stray. What is published: the band of a crop's keeping life, the spread of a stage where its source
/// gives one. All the rest are design choices, none a published figure. 0 switches a chance off.
struct Spreads {
  double keeping = 1;          ///< times the band of belief and published life (10 to 90 %)
  double ripening = 0.2;       ///< coefficient of variation of a lot's speed of ripening
  double stages = 1;           ///< times almanac::Stage::spread, one draw per stage of a batch
  double other_work = 0.25;    ///< coefficient of variation of the length of other work
  double yield = 0.06;         ///< of what a batch gives
  double harvest_kg = 0.15;    ///< of the mass of a lot that is still to come
  double harvest_time = 0.1;   ///< standard deviation of when it comes, and of a standing crop's end, per day ahead
  double sick_day = 1.0 / 60;  ///< chance that a person is out for a day
  double late_start = 0.12;    ///< chance that something comes between at the start of a free span
  double late_minutes = 30;    ///< mean of what it takes
  double weather = 1;          ///< times how fast a forecast goes wrong with days ahead

  [[nodiscard]] static Spreads none() { return {0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0}; }
};

struct RehearseOptions {
  std::uint64_t seed = 1;
  int seasons = 1000;
  int threads = 2;     ///< never changes the result
  bool replan = true;  ///< each morning on which something has come otherwise; else what is put off waits its turn
  int steps = 48;      ///< moves tried at each planning
  double saved_share = 0.75;  ///< of a lot's kg: from here on the lot counts as saved
  Spreads spreads;
  std::function<void(int done, int all)> on_season;  ///< from any thread, one at a time; may be empty
  std::function<bool()> cancelled;                   ///< polled between seasons, from any thread; may be empty
};

/// What many seasons say. Every mean comes with its standard error.
struct Rehearsal {
  int seasons = 0;         ///< lived through
  bool cancelled = false;  ///< stopped before all were
  std::uint64_t seed = 0;
  double saved_share = 0;

  struct LotChance {
    std::string lot;
    double saved = 0, saved_error = 0;      ///< share of seasons in which at least `saved_share` of its kg was put by,
                                            ///< eaten or still sound at the end
    double loss_kg = 0, loss_kg_error = 0;  ///< kg that were not, whatever became of them
    double loss_usd = 0, loss_usd_error = 0;  ///< at what a kg of it brings in the plan, hours and jars taken off
  };
  std::vector<LotChance> lots;  ///< in order of the household

  struct DayLoad {
    int day = 0;
    double hours = 0, low = 0, high = 0;  ///< hand-hours of all work: mean, 10 and 90 %
  };
  std::vector<DayLoad> days;

  double value = 0, value_error = 0;     ///< USD: the plan's objective but for the cost of change
  double value_low = 0, value_high = 0;  ///< 10 and 90 %
  double planned = 0;                    ///< the same of the plan as it stands
  double kg_lost = 0, kg_lost_error = 0;
};

/// Rehearses the plan in hand. Same seed, seasons and plan: same answer on any number of threads; draws belong to
/// (season, kind, lot or hand, day), so that another plan or household meets the same luck. Refuses an invalid snapshot
/// (code "bad_snapshot").
[[nodiscard]] measure::Result<Rehearsal> rehearse(const Household& h, const Plan& plan, const RehearseOptions& options);

[[nodiscard]] std::string to_json(const Rehearsal& r);

}  // namespace stillroom::planning
