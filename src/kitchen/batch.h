#pragma once

#include <optional>
#include <string>
#include <vector>

#include "almanac/almanac.h"
#include "measure/quantity.h"
#include "process/process.h"

/// Carries one batch through: scaled steps, the frozen heat process, timers, packing, seals.
namespace stillroom::kitchen {

struct TimerSpec {
  std::string name;
  double minutes = 0;
};

/// One step as a person does it, amounts scaled and printed.
struct Step {
  std::string stage;        ///< almanac::Stage::key
  std::string title, text;  ///< text with amounts filled in
  std::string caution;      ///< said first
  double expected_min = 0;
  std::string attention;  ///< "hands_on","nearby","unattended"
  bool can_pause = false;
  int least_age = 0;
  std::vector<TimerSpec> timers;
  std::vector<std::string> gather;  ///< "7 quart jars", "7 lids", "1.2 kg sugar"
  bool shows_process = false;       ///< the step at which the heat process card is shown
  std::optional<double> lag_min_min, lag_max_min;
};

/// What is frozen into BatchStarted::steps_json.
struct BatchCard {
  std::string route, name, crop;
  double kg_in = 0;
  int loads = 1;
  double packs = 0;
  std::string pack;
  std::vector<Step> steps;
  std::optional<process::Choice> process;
  std::string product_food, product_form, store_in;
  double keeps_months = 12;
  std::vector<std::string> cautions;
  std::string defer_to;  ///< canner's manual, extension service, local codes
};

/// Makes the card. A canned route with no published row that fits (or altitude unknown) is refused, with a safe
/// alternative.
[[nodiscard]] measure::Result<BatchCard> make_card(const almanac::Almanac& almanac, const almanac::Route& route,
                                                   double kg_in, const process::Question& where);
[[nodiscard]] std::string to_json(const BatchCard& c);
[[nodiscard]] measure::Result<BatchCard> card_from_json(std::string_view json);

/// Pack codes: five symbols of Crockford's base 32 (no I, L, O, U) plus its mod-37 check symbol, e.g. "7K3QD-4".
[[nodiscard]] std::string pack_code(std::uint32_t number);
/// Number of a typed code; forgives case, spaces, O for 0 and I or L for 1. Refuses "bad_code" when the check symbol is
/// wrong.
[[nodiscard]] measure::Result<std::uint32_t> number_of_code(std::string_view typed);

}  // namespace stillroom::kitchen
