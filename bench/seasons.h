#pragma once

#include <optional>
#include <string>
#include <vector>

#include "bench/generate.h"

namespace stillroom::bench {

/// `stillroom-bench seasons`: generated households planned by us and by simple policies, every plan held to the
/// checker. Exit code 1 when a plan breaks a rule.
int seasons(const std::vector<std::string>& arguments);

/// What a household came to. USD.
struct SeasonResult {
  int number = 0;
  Season season;
  int lots = 0, days = 0;
  double kg = 0;
  double full = 0;              ///< bench/reference.h
  std::optional<double> bound;  ///< no plan is worth more; none = not asked for
  double ours = 0;
  long schedules = 0;
  double first_seconds = 0;  ///< until the first plan
  struct Simple {
    std::string name, variant;
    double worth = 0;
  };
  std::vector<Simple> simple;  ///< in order of Policies::names()
  std::size_t plans = 0, faults = 0;

  [[nodiscard]] const Simple& best() const;  ///< of the ordered policies: neither random nor notebook
  [[nodiscard]] double worth_of(const std::string& name) const;
};

/// What a set of households came to, in words and figures. Range: at least one.
[[nodiscard]] std::string table(const std::vector<SeasonResult>& results);
[[nodiscard]] std::string to_json(const std::vector<SeasonResult>& results);

}  // namespace stillroom::bench
