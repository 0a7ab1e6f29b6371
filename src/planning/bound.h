#pragma once

#include <string>
#include <vector>

#include "measure/result.h"
#include "planning/plan.h"

namespace stillroom::planning {

struct BoundOptions {
  int max_iterations = 0;  ///< of the simplex method; 0 = until it is solved. Stopped early the bound still holds,
                           ///< only looser
  std::size_t most_binding = 8;  ///< how many capacities to name
};

/// What no plan of a household can beat (docs/science/bound.md).
struct Bound {
  double value = 0;  ///< USD: every plan that keeps the rules of docs/science/planning_model.md is worth at most this
  ObjectiveTerms terms;  ///< of the relaxed optimum: what is still sound counts its worth in `put_by`
                         ///< and its costs in `still_sound`; `change` is 0, the sum is at most `value`
  int rows = 0, columns = 0, iterations = 0;
  bool solved = true;  ///< false when stopped by `max_iterations`

  /// A capacity that is used up in the relaxed optimum.
  struct Binding {
    std::string what;  ///< "ann on day 3", "boiling_water_canner on day 5", "jar_quart"; days count from 1
    double worth = 0;  ///< USD the whole of it holds up: its price times its amount
  };
  std::vector<Binding> binding;  ///< largest first
};

/// An upper bound on the worth of any plan, by a linear program of flows. Refuses only an invalid snapshot (code
/// "bad_snapshot").
[[nodiscard]] measure::Result<Bound> bound(const Household& h, const BoundOptions& options = {});

}  // namespace stillroom::planning
