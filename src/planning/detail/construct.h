#pragma once

#include <vector>

#include "planning/detail/appraise.h"

namespace stillroom::planning::detail {

/// In what order lots are taken.
enum class Order {
  loss_per_hour,      ///< value lost by a day's wait per hand-hour (c-mu on what is left)
  value_per_hour,     ///< value per hand-hour
  soonest_past_use,   ///< earliest deadline
  value_over_fading,  ///< value per hand-hour divided by how fast it fades: in a glut the fastest is lost anyway
};

/// One way to make a first list.
struct Recipe {
  Order order = Order::loss_per_hour;
  double hour_price = 0;    ///< USD: what an hour is thought to be worth when routes are chosen
  bool hold_first = false;  ///< move what fades to where it fades least
  bool work_first = true;   ///< other work before batches, else after
};

/// A first list by one recipe: a route, sizes and a place in the order for every lot worth the doing. Deterministic.
[[nodiscard]] JobList construct(const Project& project, const Recipe& recipe);

/// All recipes worth trying.
[[nodiscard]] const std::vector<Recipe>& recipes();

/// Adds jobs for what `left` says is still unassigned of the lots (kg), after what `put_by` says is there already;
/// appended in order of the recipe.
void add_jobs(const Project& project, const Recipe& recipe, std::vector<double>& left, std::vector<double>& put_by,
              const std::vector<Fade>& fades, JobList& list);

/// Size of the next batch of a route for `kg` waiting: whole loads when there is more than one.
[[nodiscard]] double batch_size(const almanac::Route& route, double kg);

}  // namespace stillroom::planning::detail
