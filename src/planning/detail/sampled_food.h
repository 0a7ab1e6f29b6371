#pragma once

#include "planning/detail/chances.h"
#include "planning/detail/project.h"
#include "planning/rehearse.h"

namespace stillroom::planning::detail {

/// A lot, or what a batch has left of one, as it truly is in one season and as people see it.
struct Food {
  Lot seen;         ///< what the planner is told
  int origin = -1;  ///< lot of the household it comes from; -1 for by-products: none of its kg count as that lot's
  double origin_kg_per_kg = 1;  ///< kg of that lot behind one kg of this
  bool standing = false, here = false;
  bool made = false;  ///< by a batch: held, or left beside its packs
  double kg = 0;
  double expected_kg = 0;  ///< while it is still to come
  double came_kg = 0;      ///< in all
  Time ready = 0, pick_by = 0;
  const FadeModel* model = nullptr;
  int place = 0;
  Time at = 0;  ///< age and ripeness are those at this moment
  double age = 0, ripeness = 1;
  double speed = 1, ripening = 1;  ///< times what is published
  double quality = 1;              ///< what holding it has left
  double eaten = 0;

  /// Lives on to `t`: fades, ripens, is eaten from. Nothing happens before it is here, nor to a standing crop.
  void live_until(Time t);
  [[nodiscard]] double usable() const { return model == nullptr ? 1.0 : model->usable(age); }
  [[nodiscard]] int condition() const;
  /// The same some minutes after picking, for a standing crop.
  [[nodiscard]] Fade after_picking() const;
  /// A look: condition, and the usable share to the nearest tenth. True when it was not what was believed.
  bool look();
};

/// The lot as the season has it.
[[nodiscard]] Food sampled(const Project& project, int lot, const Spreads& spreads, const Luck& luck);

}  // namespace stillroom::planning::detail
