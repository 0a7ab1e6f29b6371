#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <limits>

#include "ledger/detail/clock.h"
#include "measure/text.h"

// When a heat process ran, for how long, and which packs may be said to have had it.
namespace stillroom::ledger {
namespace {

/// Shares of a load are worked out in floating point: 7.0000001 packs are seven.
constexpr double kPackDust = 1e-6;

double minutes_between(Instant from, Instant to) {
  return std::chrono::duration<double, std::ratio<60>>(to - from).count();
}

}  // namespace

std::vector<ProcessLoad> process_loads(const BatchState& b) {
  std::vector<ProcessLoad> loads;
  const auto card = detail::card_facts(b.steps_json);
  if (!card) return loads;
  for (const auto& one : card->loads) {
    // Without published minutes there is nothing that could have been done.
    ProcessLoad load{.stage = one.stage,
                     .least_min = card->process_min.value_or(std::numeric_limits<double>::infinity()),
                     .ran = std::nullopt,
                     .packs = card->loads.size() > 1 ? one.packs : std::nullopt};
    const auto from = b.clock_from.find(one.stage);
    const auto to = b.stage_finished.find(one.stage);
    if (from != b.clock_from.end() && to != b.stage_finished.end())
      load.ran = minutes_between(from->second, to->second);
    loads.push_back(std::move(load));
  }
  return loads;
}

double packs_processed(const BatchState& b) {
  const auto loads = process_loads(b);
  if (!loads.empty() && b.not_processed) return 0;
  double packs = 0;
  bool all = true;
  for (const ProcessLoad& load : loads) {
    all = all && load.done();
    if (load.done()) packs += load.packs.value_or(0);
  }
  return all ? std::numeric_limits<double>::infinity() : std::ceil(packs - kPackDust);
}

std::string_view barred_as_food(const Parcel& p) {
  for (const std::string_view fact : {kDoNotEat, kNotKnownProcessed, kProcessAgain, kInDoubt}) {
    if (std::find(p.facts.begin(), p.facts.end(), fact) != p.facts.end()) return fact;
  }
  return {};
}

namespace detail {

bool is_process(const CardFacts& card, const std::string& stage) {
  return std::any_of(card.loads.begin(), card.loads.end(), [&](const auto& load) { return load.stage == stage; });
}

int load_of(const CardFacts& card, const std::string& stage) {
  const auto it = card.load_of.find(stage);
  return it == card.load_of.end() ? 0 : it->second;
}

void start_clock(Folding& f, BatchState& b, const CardFacts& card, const std::string& stage) {
  if (is_process(card, stage)) b.clock_from[stage] = f.at;
}

Result<void> may_finish(Folding& f, const BatchState& b, const CardFacts& card, const std::string& stage) {
  if (!is_process(card, stage) || !card.process_min) return {};
  const auto from = b.clock_from.find(stage);
  // No clock: it was put down or never started, which is refused or noted in its own right.
  const double ran = from == b.clock_from.end() ? 0 : std::max(0.0, minutes_between(from->second, f.at_most_now()));
  if (ran >= *card.process_min) return {};
  return f.broken("process_too_short",
                  fmt::format("The process of {} has run {} of {} minutes.", b.name,
                              measure::say_number(std::floor(ran)), measure::say_number(*card.process_min)),
                  {fmt::format("Let it run {} more.", measure::say_count(std::ceil(*card.process_min - ran), "minute")),
                   "If its clock truly started earlier, say when it did; that is written down as your word.",
                   "If boil or pressure was lost, write down what went wrong: the whole time starts again."},
                  b.id);
}

void fail_clock(BatchState& b, const CardFacts& card, const std::string& stage, Instant at) {
  for (const auto& load : card.loads) {
    if (!stage.empty() && load.stage != stage) continue;
    b.clock_from.erase(load.stage);
    b.clock_said.erase(load.stage);
    Instant& failed = b.clock_failed[load.stage];
    failed = std::max(failed, at);
    b.stage_started.erase(load.stage);
    b.stage_finished.erase(load.stage);
    if (b.current_stage == load.stage) {
      b.current_stage.clear();
      b.put_down = false;
    }
  }
}

Result<bool> known_processed(Folding& f, const BatchState& b, double packs) {
  const double may = packs_processed(b);
  if (b.packs_made + packs <= may) return true;
  const auto loads = process_loads(b);
  const auto open = std::find_if(loads.begin(), loads.end(), [](const ProcessLoad& load) { return !load.done(); });
  std::string what = fmt::format("No finished heat process is on record for {}.", b.name);
  if (open != loads.end() && open->ran) {
    what =
        fmt::format("The process of {} ran {} of {} minutes.", b.name,
                    measure::say_number(std::floor(std::max(0.0, *open->ran))), measure::say_number(open->least_min));
  }
  std::vector<std::string> instead = {
      "Let the process run its full minutes and finish that step; then pack.",
      "If it was done and not written down, say when its clock started, and finish the step.",
      "If it was not done in full: chill or freeze the food, and write down what went wrong."};
  if (may > 0)
    instead.insert(instead.begin(),
                   fmt::format("Pack only what is done: at most {} so far.", measure::say_number(may)));
  STILLROOM_TRY(f.broken("not_processed", std::move(what), std::move(instead), b.id));
  return false;
}

}  // namespace detail
}  // namespace stillroom::ledger
