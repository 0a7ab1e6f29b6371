#pragma once

#include "app/app.h"

namespace stillroom::app {

/// Fills an empty household from data/demo/household.toml: an invented family, its last two weeks and its next three,
/// days counted from the household's day of `now`. Refuses (code "bad_demo") with the place in the file where it cannot
/// be read, and "not_empty" when the household already has entries.
[[nodiscard]] Result<void> fill_with_demo(House& h, Instant now);

/// The moment the demo opens on: 08:05 of the demo family's next morning that is not before `real_now`, so that the day
/// lies ahead whenever the program is started.
[[nodiscard]] Result<Instant> demo_opening(Instant real_now);

}  // namespace stillroom::app
