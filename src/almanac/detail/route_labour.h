#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "almanac/routes.h"

/// labour.csv and supplies.csv of data/routes. Inside almanac/ only.
namespace stillroom::almanac::detail {

/// Preparation steps and kitchen tasks by key, each as far as labour.csv knows it: duration already per kg, load or
/// batch, spread from the published range read as 10 to 90 %.
using Labour = std::map<std::string, Stage, std::less<>>;
[[nodiscard]] measure::Result<Labour> read_labour(std::string_view csv);

/// What a route may take or use, with what it costs.
struct Supply {
  std::string kind;  ///< "stock", "equipment" or "energy"
  double price_usd = 0, watts = 0;
};
using Supplies = std::map<std::string, Supply, std::less<>>;
[[nodiscard]] measure::Result<Supplies> read_supplies(std::string_view csv);

/// Weakest of two `checked` words, strongest first: yes, derived, partial, derived_memory, memory, common.
[[nodiscard]] std::string weaker_checked(const std::string& a, const std::string& b);
[[nodiscard]] const std::vector<std::string>& checked_words();

}  // namespace stillroom::almanac::detail
