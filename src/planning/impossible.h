#pragma once

#include <string>
#include <vector>

#include "planning/household.h"

/// What is asked for and cannot be, found before any search: from windows, lags and totals alone.
namespace stillroom::planning {

/// One demand that cannot be met, and how to get out of it.
struct Clash {
  enum class Kind {
    work,     ///< other work that fits nowhere before its deadline
    hours,    ///< works that each fit, but not together: too few hours before a deadline
    lot,      ///< a lot that no way of keeping it can take in time
    picking,  ///< a standing crop with no hands to pick it while it can be picked
  } kind = Kind::work;
  std::vector<std::string> about;  ///< keys of other work or ids of lots: the smallest set found that clashes
  std::string what;                ///< what cannot be, and why
  std::string way_out;             ///< the cheapest ways found, in words
};

/// Every clash of a household that has no fault (planning/validate.h), the works first, then lots. Each is certain as
/// far as the rules of docs/science/planning_model.md go: people, ages, skills, free time, weather windows, equipment,
/// stock and room of an otherwise empty plan. Empty does not mean that everything can be done.
[[nodiscard]] std::vector<Clash> clashes(const Household& h);

[[nodiscard]] std::string word_of(Clash::Kind kind);  ///< "work", "hours", "lot", "picking"

}  // namespace stillroom::planning
