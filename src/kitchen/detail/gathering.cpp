#include "kitchen/detail/gathering.h"

#include <algorithm>
#include <set>

#include "kitchen/detail/kitchen_tables.h"
#include "kitchen/detail/process_step.h"

namespace stillroom::kitchen::detail {
namespace {

constexpr double kGatherMin = 10;  // common practice: to lay everything out before the first knife is lifted

/// Words of data/kitchen/gather.csv that fit this batch.
std::set<std::string> occasions(const BatchCard& card) {
  std::set<std::string> all;
  if (card.process) all.insert({"canned", canner_key(*card.process)});
  if (card.store_in == "freezer") all.insert("frozen");
  for (const Step& step : card.steps) {
    if (step.stage == "ferment") all.insert("fermented");
    if (step.stage == "dry") all.insert("dried");
  }
  return all;
}

/// One stage that takes all that the stages of the route take: amounts added up, equipment once.
almanac::Stage all_in_one(const almanac::Route& route) {
  almanac::Stage all;
  const auto add = [](almanac::Scaled& to, const almanac::Scaled& more) {
    to.fixed += more.fixed;
    to.per_kg += more.per_kg;
    to.per_load += more.per_load;
  };
  for (const almanac::Stage& stage : route.stages) {
    for (const auto& use : stage.stock) {
      const auto same = std::ranges::find(all.stock, use.item, &almanac::StockUse::item);
      if (same == all.stock.end()) {
        all.stock.push_back(use);
      } else {
        add(same->amount, use.amount);
      }
    }
    for (const auto& use : stage.equipment)
      if (std::ranges::find(all.equipment, use.key, &almanac::EquipmentUse::key) == all.equipment.end())
        all.equipment.push_back(use);
  }
  return all;
}

}  // namespace

void add_gather_step(BatchCard& card, const almanac::Route& route, const Scale& scale, std::vector<std::string> first) {
  std::vector<std::string> lines = std::move(first);
  for (std::string& line : to_gather(all_in_one(route), scale)) lines.push_back(std::move(line));
  if (card.process) {
    // The route books any canner of the kind; the card knows which one it is.
    std::erase_if(lines, [](const std::string& line) { return line.ends_with("canner"); });
    lines.push_back(canner_words(*card.process));
    if (!card.process->added_acid.empty()) lines.push_back("the acid, as published: " + card.process->added_acid);
  }
  const auto fitting = occasions(card);
  if (const auto small = gather_lines())
    for (const GatherLine& one : *small)
      if (fitting.contains(one.when)) lines.push_back(one.line);
  if (lines.empty()) return;
  card.steps.insert(card.steps.begin(),
                    {.stage = "gather",
                     .title = "Gather",
                     .text = "Lay all of this ready before you begin; what is missing now stops the work later.",
                     .caution = "",
                     .expected_min = kGatherMin,
                     .attention = "hands_on",
                     .can_pause = true,
                     .least_age = 0,
                     .timers = {},
                     .gather = std::move(lines),
                     .looks_right = "Everything on the list stands within reach."});
}

Step looking_right(Step step) {
  static const auto table = looks_right_table();  // compiled in
  if (!table || !step.looks_right.empty()) return step;
  for (const LooksRight& row : *table)
    if (std::ranges::find(row.stages, step.stage) != row.stages.end()) step.looks_right = row.looks_right;
  return step;
}

void say_what_looks_right(BatchCard& card) {
  for (Step& step : card.steps) step = looking_right(std::move(step));
}

}  // namespace stillroom::kitchen::detail
