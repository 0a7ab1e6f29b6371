#include "kitchen/detail/process_step.h"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

#include "kitchen/detail/amounts.h"
#include "measure/text.h"

namespace stillroom::kitchen::detail {
namespace {

// Minutes beside the published time, common practice: how long a canner takes to heat, and what the procedure of
// USDA AIB-539 Guide 1 asks for (5 minutes with the lid off; 10 of venting; 10 after the weight is off).
constexpr double kHeatBoilingWater = 30, kRestLidOff = 5;
constexpr double kHeatPressure = 25, kVent = 10, kUpToPressure = 5, kFallToZero = 45, kWeightOff = 10;

bool under_pressure(const process::Choice& c) { return c.pressure_psi.has_value(); }

constexpr std::string_view kCompare = "compare_with_current_edition";

/// Requirements that belong to the canner and not to the filling.
bool of_canner(std::string_view word) {
  return word.find("canner") != std::string_view::npos || word.find("vent") != std::string_view::npos ||
         word == "half_pint_takes_pint_time";
}

std::string sentence_for(const almanac::ProcessTable& table, const std::string& word) {
  const auto found = table.requirements.find(word);
  if (found != table.requirements.end()) return found->second.sentence;
  std::string plain = word;
  std::ranges::replace(plain, '_', ' ');
  return plain + ".";
}

std::string jar_words(std::string jar) {
  std::ranges::replace(jar, '_', '-');
  return jar + " jars";
}

std::string canner_words(const process::Choice& c) {
  if (c.method == "dial_gauge") return "dial-gauge pressure canner";
  if (c.method == "weighted_gauge") return "weighted-gauge pressure canner";
  return std::ranges::find(c.requirements, "steam_canner_not_over_45_min") != c.requirements.end()
             ? "steam canner"
             : "boiling-water canner";
}

std::string process_sentence(const BatchCard& card) {
  const process::Choice& c = *card.process;
  std::string s = fmt::format("As published for {}: {}, {}", canner_words(c), jar_words(c.jar),
                              measure::say_minutes(measure::minutes(c.time_min)));
  if (c.pressure_psi) s += fmt::format(" at {} psi", measure::say_number(*c.pressure_psi));
  s += '.';
  if (card.loads > 1) s += fmt::format(" {} canner loads, each for the full time.", card.loads);
  return s;
}

void at_canner(Step& step, const BatchCard& card, const almanac::ProcessTable& table) {
  const process::Choice& c = *card.process;
  step.shows_process = true;
  step.text = process_sentence(card) + " " + step.text;
  for (const std::string& word : c.requirements)
    if (of_canner(word)) step.text += " " + sentence_for(table, word);
  if (under_pressure(c)) {
    step.timers = {{"Vent", kVent}, {"Process", c.time_min}, {"Weight off", kWeightOff}};
    step.expected_min = card.loads * (kHeatPressure + kVent + kUpToPressure + c.time_min + kFallToZero + kWeightOff);
  } else {
    step.timers = {{"Process", c.time_min}, {"Rest, lid off", kRestLidOff}};
    step.expected_min = card.loads * (kHeatBoilingWater + c.time_min + kRestLidOff);
  }
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
      step.text += " " + sentence_for(table, word);
}

/// Read only in an old edition: said, so that somebody compares.
bool only_1994(const std::string& edition) {
  const auto has = [&](std::string_view year) { return edition.find(year) != std::string::npos; };
  return has("1994") && !has("2009") && !has("2015") && !has("2023");
}

}  // namespace

void add_process(BatchCard& card, const almanac::ProcessTable& table) {
  const auto step = std::ranges::find(card.steps, "process", &Step::stage);
  if (step == card.steps.end()) return;  // the loader lets no canned route through without one
  at_canner(*step, card, table);
  if (step != card.steps.begin()) before_canner(*(step - 1), card, table);
  const bool compare = std::ranges::find(card.process->requirements, kCompare) != card.process->requirements.end();
  if (compare || only_1994(card.process->edition_read))
    card.cautions.push_back(sentence_for(table, std::string(kCompare)));
}

}  // namespace stillroom::kitchen::detail
