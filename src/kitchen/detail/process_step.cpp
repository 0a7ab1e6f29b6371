#include "kitchen/detail/process_step.h"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

#include "kitchen/detail/amounts.h"
#include "kitchen/detail/kitchen_tables.h"
#include "kitchen/process_words.h"
#include "measure/text.h"

namespace stillroom::kitchen::detail {
namespace {

constexpr std::string_view kCompare = "compare_with_current_edition";
/// Longer processes want more water over the lids. Source: USDA AIB-539 Guide 1.
constexpr double kDeepWaterMin = 30;

/// Requirements that belong to the canner and not to the filling.
bool of_canner(std::string_view word) {
  return word.find("canner") != std::string_view::npos || word.find("vent") != std::string_view::npos ||
         word == "half_pint_takes_pint_time";
}

std::string process_sentence(const BatchCard& card) {
  const process::Choice& c = *card.process;
  std::string jar = c.jar;
  std::ranges::replace(jar, '_', '-');
  std::string s = fmt::format("As published for {}: {} jars, {}", canner_words(c), jar,
                              measure::say_minutes(measure::minutes(c.time_min)));
  if (c.pressure_psi) s += fmt::format(" at {} psi", measure::say_number(*c.pressure_psi));
  s += '.';
  if (card.loads > 1) s += fmt::format(" {} canner loads, each for the full time.", card.loads);
  return s;
}

void replace_all(std::string& text, std::string_view what, const std::string& with) {
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + with.size()))
    text.replace(at, what.size(), with);
}

std::string filled(std::string text, const process::Choice& c) {
  replace_all(text, "{water}", c.style_of_pack == "raw" ? "140 degF" : "180 degF");  // USDA AIB-539 Guide 1
  replace_all(text, "{over}", c.time_min > kDeepWaterMin ? "2 inches" : "an inch");
  if (c.pressure_psi) replace_all(text, "{pressure}", measure::say_number(*c.pressure_psi) + " psi");
  return text;
}

/// The steps at this card's canner, in order; none when the table cannot be read, which a test would show.
std::vector<Step> steps_at_canner(const BatchCard& card, const almanac::ProcessTable& table, const Step& route_step) {
  const process::Choice& c = *card.process;
  std::vector<Step> steps;
  const auto all = canner_steps();
  if (!all) return {route_step};
  for (const CannerStep& row : *all) {
    if (row.canner != canner_key(c)) continue;
    Step step{.stage = row.key,
              .title = row.title,
              .text = filled(row.text, c),
              .caution = row.caution,
              .expected_min = row.minutes > 0 ? row.minutes : c.time_min,
              .attention = route_step.attention,
              .least_age = std::max(row.least_age, route_step.least_age),
              .timers = {},
              .gather = {},
              .looks_right = filled(row.looks_right, c)};
    if (!row.timer.empty()) step.timers.push_back({row.timer, row.timer_min > 0 ? row.timer_min : c.time_min});
    if (row.key == "heat") {
      step.gather = route_step.gather;
      step.lag_max_min = route_step.lag_max_min;
      for (const std::string& word : c.requirements)
        if (of_canner(word)) step.text += " " + table.sentence_for(word);
    }
    if (row.key == "process") {
      step.shows_process = true;
      step.text = process_sentence(card) + " " + step.text;
    }
    steps.push_back(std::move(step));
  }
  if (!steps.empty()) steps.back().hazard = route_step.hazard;
  return steps;
}

void before_canner(Step& step, const BatchCard& card, const almanac::ProcessTable& table) {
  const process::Choice& c = *card.process;
  const bool in_every_jar = std::ranges::find(c.requirements, "acid_in_every_jar") != c.requirements.end();
  if (!c.added_acid.empty())
    step.text = (in_every_jar ? "Into every jar first: " : "The recipe's acid, as published: ") + c.added_acid + ". " +
                step.text;
  step.text += fmt::format(" Headspace: {} inch.", say_inches(c.headspace_in));
  for (const std::string& word : c.requirements)
    if (!of_canner(word) && word != kCompare && !(word == "acid_in_every_jar" && !c.added_acid.empty()))
      step.text += " " + table.sentence_for(word);
}

/// Read only in an old edition: said, so that somebody compares.
bool only_1994(const std::string& edition) {
  const auto has = [&](std::string_view year) { return edition.find(year) != std::string::npos; };
  return has("1994") && !has("2009") && !has("2015") && !has("2023");
}

/// Names a step, and its timers, as one load's.
Step of_load(Step step, int load, int loads) {
  if (loads == 1) return step;
  step.load = load;
  step.stage += fmt::format(":{}", load);
  step.title += fmt::format(", load {} of {}", load, loads);
  for (TimerSpec& timer : step.timers) timer.name += fmt::format(", load {}", load);
  return step;
}

}  // namespace

void add_process(BatchCard& card, const almanac::ProcessTable& table, const std::function<Step(int)>& fill_for) {
  const auto at = std::ranges::find(card.steps, "process", &Step::stage);
  // The loader lets no canned route through without one, nor with the canner as its first stage.
  if (at == card.steps.end() || at == card.steps.begin()) return;
  const std::vector<Step> canner = steps_at_canner(card, table, *at);
  std::vector<Step> before(card.steps.begin(), at - 1), after(at + 1, card.steps.end());
  // Jars of the last load rest when the kitchen is cleared, as they do when there is only one.
  const auto rest = std::ranges::find(after, "cool", &Step::stage);
  card.steps = std::move(before);
  for (int load = 1; load <= card.loads; ++load) {
    Step fill = fill_for(load - 1);
    const std::optional<double> packs = fill.packs;
    fill.packs.reset();
    before_canner(fill, card, table);
    card.steps.push_back(of_load(std::move(fill), load, card.loads));
    for (const Step& step : canner) {
      card.steps.push_back(of_load(step, load, card.loads));
      if (step.shows_process && card.loads > 1) card.steps.back().packs = packs;
    }
    if (rest != after.end() && load < card.loads) card.steps.push_back(of_load(*rest, load, card.loads));
  }
  if (rest != after.end()) *rest = of_load(*rest, card.loads, card.loads);
  card.steps.insert(card.steps.end(), std::make_move_iterator(after.begin()), std::make_move_iterator(after.end()));
  const bool compare = std::ranges::find(card.process->requirements, kCompare) != card.process->requirements.end();
  if (compare || only_1994(card.process->edition_read))
    card.cautions.push_back(table.sentence_for(std::string(kCompare)));
}

}  // namespace stillroom::kitchen::detail
