#pragma once

#include <optional>
#include <string>
#include <vector>

#include "almanac/almanac.h"
#include "measure/amount.h"
#include "measure/quantity.h"
#include "process/process.h"

/// Carries one batch through: scaled steps, the frozen heat process, timers, packing, seals.
namespace stillroom::kitchen {

struct TimerSpec {
  std::string name;
  double minutes = 0;
  bool operator==(const TimerSpec&) const = default;
};

/// One step as a person does it, amounts scaled and printed.
struct Step {
  std::string stage;        ///< almanac::Stage::key
  std::string title, text;  ///< text with amounts filled in
  std::string caution;      ///< said first
  double expected_min = 0;
  std::string attention;  ///< "hands_on","nearby","unattended"
  bool can_pause = false;
  bool hold_point = false;  ///< nothing after it may begin before it is finished
  int least_age = 0;
  std::vector<TimerSpec> timers;
  std::vector<std::string> gather;  ///< "7 quart jars", "7 lids", "1.2 kg sugar"
  bool shows_process = false;       ///< the step at which the heat process card is shown
  std::optional<double> lag_min_min, lag_max_min;
  std::string hazard;           ///< hazard clock that runs from the end of this step until the next one begins
  std::string looks_right;      ///< what good looks like at the end of it (data/kitchen/looks_right.csv)
  int load = 0;                 ///< canner load it belongs to, from 1; 0 = the whole batch, or the only load
  std::optional<double> packs;  ///< of a process step among several: packs in that load
  bool operator==(const Step&) const = default;
};

/// Stage of the route that a step belongs to: "fill" for "fill:2", the filling of the second load.
[[nodiscard]] inline std::string stage_of_step(std::string_view step) {
  return std::string(step.substr(0, step.find(':')));
}

/// The stage of `route` that a step of its card is part of, canner loads and the three steps at a canner included;
/// null for a step that is part of none, such as gathering.
[[nodiscard]] const almanac::Stage* route_stage(const almanac::Route& route, std::string_view step);

/// What else comes out and goes on as a lot of its own: bones for broth, fat that was lifted.
struct AlsoMade {
  std::string food, form;
  double kg = 0;
  bool operator==(const AlsoMade&) const = default;
};

/// What is frozen into BatchStarted::steps_json.
struct BatchCard {
  std::string route, name, crop;
  double kg_in = 0;
  int loads = 1;  ///< of the canner
  double packs = 0;
  std::string pack;
  std::vector<Step> steps;
  std::optional<process::Choice> process;
  std::string product_food, product_form, store_in;
  double keeps_months = 12;
  std::vector<AlsoMade> also;
  std::vector<std::string> cautions;
  std::string defer_to;  ///< canner's manual, extension service, local codes
  bool operator==(const BatchCard&) const = default;
};

/// The published process a route runs by where the household is, or none for a route that asks for none.
/// Of `where` it takes altitude, canner ("boiling_water", "steam", "dial", "weighted" or empty), conditions, and food
/// when that is the route's crop or a variety of it (spaghetti squash on a squash route); the rest is the route's.
/// Of several published pairs of time and pressure the shortest time is taken. Refuses as process::choose does, with
/// other routes of the crop in front of `instead`; "canner_unknown" when dial and weighted gauge would differ.
[[nodiscard]] measure::Result<std::optional<process::Choice>> process_for(const almanac::Almanac& almanac,
                                                                          const almanac::Route& route,
                                                                          const process::Question& where);

/// Makes the card: steps scaled to `kg_in` (kg of the route's own crop; what a many-lot recipe takes beside it comes on
/// top), amounts said in `units`, the process frozen in. A canned route with no published row that fits (or altitude
/// unknown) is refused, with a safe alternative; so is an amount that is not above zero (code "bad_amount").
/// Vinegar and lemon juice are rounded up, water down: rounding never makes a brine weaker.
[[nodiscard]] measure::Result<BatchCard> make_card(const almanac::Almanac& almanac, const almanac::Route& route,
                                                   double kg_in, const process::Question& where,
                                                   measure::Units units = measure::Units::us);
[[nodiscard]] std::string to_json(const BatchCard& c);
/// Refuses (code "bad_card") text that is no card, naming the field at fault. Fields a later version added are passed
/// over.
[[nodiscard]] measure::Result<BatchCard> card_from_json(std::string_view json);

/// Pack codes: five symbols of Crockford's base 32 (no I, L, O, U) plus its mod-37 check symbol, e.g. "7K3QD-4".
/// Numbers from 33,554,432 take six or seven symbols. One wrong symbol, or two neighbours swapped, never passes.
[[nodiscard]] std::string pack_code(std::uint32_t number);
/// Number of a typed code; forgives case, spaces, O for 0 and I or L for 1. Refuses "bad_code" when the check symbol is
/// wrong.
[[nodiscard]] measure::Result<std::uint32_t> number_of_code(std::string_view typed);

}  // namespace stillroom::kitchen
