#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kitchen/batch.h"
#include "kitchen/detail/amounts.h"
#include "kitchen/detail/gathering.h"
#include "kitchen/detail/process_step.h"
#include "measure/text.h"

namespace stillroom::kitchen {
namespace {

using almanac::Attention;
using almanac::Route;
using measure::refuse;
using measure::Result;
using process::Choice;

constexpr double kLongestTimer = 48 * 60.0;  // minutes; beyond it a calendar, not a timer, is the tool

/// The crop asked for when it is the route's own or a variety of it, so that a variety's bar is heard.
std::string crop_for(const almanac::Almanac& a, const Route& r, const std::string& asked) {
  return !asked.empty() && a.crops.is_a(asked, r.crop) ? asked : r.crop;
}

/// A dish of many foods has rows that speak for no one crop: it is asked for by its own name, unless its rows shut the
/// crop out. Every other route is asked for by its crop.
std::string food_for(const almanac::Almanac& a, const Route& r, const std::string& asked) {
  std::string crop = crop_for(a, r, asked);
  for (const auto& row : a.processes.rows) {
    if (!almanac::is_of_process(row.id, r.process->id)) continue;
    const bool barred = std::ranges::any_of(row.excludes, [&](const auto& key) { return a.crops.is_a(crop, key); });
    if (!row.covers.empty() || barred) return crop;
  }
  const almanac::NamePhrase* best = nullptr;  // the name that stands for fewest processes, and the shortest of those
  for (const auto& name : a.processes.names) {
    if (std::ranges::find(name.ids, r.process->id) == name.ids.end()) continue;
    const auto size = [](const almanac::NamePhrase& n) { return std::pair(n.ids.size(), n.words.size()); };
    if (best == nullptr || size(name) < size(*best)) best = &name;
  }
  return best == nullptr ? crop : fmt::format("{}", fmt::join(best->words, " "));
}

std::string canner_for(const Route& r, const std::string& owned) {
  if (r.process->method == "boiling_water") return owned == "steam" ? owned : r.process->method;
  return owned == "dial" || owned == "weighted" ? owned : "pressure";
}

/// Ways to keep the same crop that need no published process, in the order of the book.
std::vector<std::string> other_ways(const almanac::Almanac& a, const Route& r, const std::string& crop) {
  constexpr std::size_t kMost = 3;
  std::vector<std::string> ways;
  const auto add = [&](bool hold) {
    for (const Route* other : a.routes.for_crop(a.crops, crop)) {
      if (ways.size() == kMost) return;
      if (!other->process && !almanac::lets_go(*other) && other->is_hold == hold &&
          other->accepts_form == r.accepts_form)
        ways.push_back(other->name);
    }
  };
  add(false);
  add(true);
  return ways;
}

/// Shortest time, then least pressure: any one of a table's equal pairs is enough.
const Choice& shortest(const std::vector<Choice>& fits) {
  return *std::ranges::min_element(fits, [](const Choice& a, const Choice& b) {
    return std::pair(a.time_min, a.pressure_psi.value_or(0)) < std::pair(b.time_min, b.pressure_psi.value_or(0));
  });
}

std::string_view attention_word(Attention a) {
  return a == Attention::hands_on ? "hands_on" : a == Attention::nearby ? "nearby" : "unattended";
}

Step step_from(const almanac::Stage& stage, const detail::Scale& scale) {
  Step step{.stage = stage.key,
            .title = stage.name,
            .text = detail::filled_instruction(stage, scale),
            .caution = stage.caution,
            .expected_min = stage.duration_min.at(scale.kg, scale.loads),
            .attention = std::string(attention_word(stage.attention)),
            .can_pause = stage.can_pause,
            .hold_point = stage.hold_point,
            .least_age = stage.least_age,
            .timers = {},
            .gather = detail::to_gather(stage, scale),
            .lag_min_min = stage.lag_min_min > 0 ? std::optional(stage.lag_min_min) : std::nullopt,
            .lag_max_min = stage.lag_max_min,
            .hazard = stage.hazard};
  for (const auto& timer : stage.timers) {
    std::string name = timer.name;
    if (!name.empty() && name.front() >= 'a' && name.front() <= 'z')
      name.front() = static_cast<char>(name.front() - 32);
    step.timers.push_back({std::move(name), timer.amount.at(scale.kg, scale.loads)});
  }
  if (stage.attention == Attention::unattended && step.expected_min <= kLongestTimer)
    step.timers.push_back({step.title, step.expected_min});
  return step;
}

std::string deferral(const Route& r) {
  std::string first;
  if (r.process) first = "your canner's manual, ";
  if (r.method == "jellied") first += "the leaflet of the pectin, ";
  return "Where they differ from this card, " + first + "the local extension service and local rules come first.";
}

std::vector<std::string> many_lot_lines(const almanac::Almanac& a, const Route& r, const detail::Scale& s) {
  std::vector<std::string> lines;
  for (std::size_t i = 0; i < r.many_lot_with.size(); ++i) {
    const auto* crop = a.crops.find(r.many_lot_with[i]);
    lines.push_back(detail::say_beside(s.kg * r.many_lot_kg[i], s.units) + " of " +
                    (crop != nullptr ? crop->plural : r.many_lot_with[i]));
  }
  return lines;
}

/// The step before the canner for one load of `loads`, from 0: full loads first, the last one takes what is left.
Step fill_of_load(const Route& route, const detail::Scale& all, int load, int loads) {
  const auto at = std::ranges::find(route.stages, "process", &almanac::Stage::key);
  detail::Scale one = all;
  if (loads > 1) {
    const double full = almanac::canner_load_kg(route);
    one.kg = std::min(full, all.kg - load * full);
    one.loads = 1;
    one.packs = one.kg / route.kg_in_per_pack;
  }
  Step step = step_from(*(at - 1), one);
  step.packs = one.packs;
  return step;
}

}  // namespace

const almanac::Stage* route_stage(const Route& route, std::string_view step) {
  const std::string base = stage_of_step(step);
  const auto named = [&](std::string_view key) {
    const auto it = std::ranges::find(route.stages, key, &almanac::Stage::key);
    return it == route.stages.end() ? nullptr : &*it;
  };
  const almanac::Stage* own = named(base);
  // Around the process the canner is loaded and emptied: steps of the card that the route has in its one stage.
  const bool at_canner = own == nullptr && route.process && (base == "heat" || base == "lift");
  return at_canner ? named("process") : own;
}

Result<std::optional<Choice>> process_for(const almanac::Almanac& almanac, const Route& route,
                                          const process::Question& where) {
  if (!route.process) return std::optional<Choice>();
  process::Question q = where;
  q.food = food_for(almanac, route, where.food);
  q.form = route.process->form;
  q.style_of_pack = route.process->style_of_pack;
  q.jar = route.process->jar;
  q.id = route.process->id;
  q.canner = canner_for(route, where.canner);
  if (route.accepts_form == "frozen_whole") q.conditions.emplace_back("frozen_raw");
  auto fits = process::choose(almanac, q);
  if (!fits) {
    measure::Refusal refusal = fits.error();
    const auto ways = other_ways(almanac, route, crop_for(almanac, route, where.food));
    refusal.instead.insert(refusal.instead.begin(), ways.begin(), ways.end());
    return tl::unexpected(std::move(refusal));
  }
  const auto by = [&](std::string_view method) {
    return std::ranges::any_of(*fits, [&](const Choice& c) { return c.method == method; });
  };
  if (q.canner == "pressure" && by("dial_gauge") && by("weighted_gauge"))
    return refuse("canner_unknown",
                  fmt::format("\"{}\" is published at different pressures for dial and weighted gauges.", route.name),
                  {"say which pressure canner you have: dial gauge or weighted gauge", "freeze it meanwhile"});
  return std::optional(shortest(*fits));
}

Result<BatchCard> make_card(const almanac::Almanac& almanac, const Route& route, double kg_in,
                            const process::Question& where, measure::Units units) {
  if (!std::isfinite(kg_in) || kg_in <= 0)
    return refuse("bad_amount", fmt::format("A batch of {} kg cannot be made.", kg_in),
                  {"say how much goes in, above zero"});
  auto chosen = process_for(almanac, route, where);
  if (!chosen) return tl::unexpected(chosen.error());
  const int loads = almanac::canner_loads_for(route, kg_in);
  const detail::Scale scale{.kg = kg_in,
                            .loads = almanac::loads_for(route, kg_in),
                            .packs = kg_in / route.kg_in_per_pack,
                            .pack = route.pack,
                            .load_kg = route.load_kg > 0 ? route.load_kg : kg_in,
                            .units = units};
  BatchCard card{.route = route.key,
                 .name = route.name,
                 .crop = route.crop,
                 .kg_in = kg_in,
                 .loads = loads,
                 .packs = scale.packs,
                 .pack = route.pack,
                 .steps = {},
                 .process = std::move(*chosen),
                 .product_food = route.product_food,
                 .product_form = route.product_form,
                 .store_in = route.store_in,
                 .keeps_months = route.keeps_months_low,
                 .also = {},
                 .cautions = route.cautions,
                 .defer_to = deferral(route)};
  for (const auto& by : route.also_yields) card.also.push_back({by.food, by.form, by.kg_per_kg * kg_in});
  for (const auto& stage : route.stages) card.steps.push_back(step_from(stage, scale));
  detail::say_what_looks_right(card);
  if (card.process) {
    detail::add_process(card, almanac.processes,
                        [&](int load) { return detail::looking_right(fill_of_load(route, scale, load, loads)); });
  }
  detail::add_gather_step(card, route, scale, many_lot_lines(almanac, route, scale));
  if (kg_in > route.batch_max_kg * 1.001)
    card.cautions.push_back(fmt::format("More than {} at once is hard to bring through: make it in parts.",
                                        measure::say(measure::kilograms(route.batch_max_kg), units)));
  return card;
}

}  // namespace stillroom::kitchen
