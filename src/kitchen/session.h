#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kitchen/batch.h"
#include "measure/time.h"

/// Where a batch stands: pure, from the card, what was recorded, and the moment. Nothing here reads a clock.
namespace stillroom::kitchen {

/// What was recorded of one step.
struct StageMark {
  std::string stage;  ///< Step::stage
  std::optional<measure::Instant> started, finished;
  bool put_down = false;
};

/// A timer that was set and not stopped.
struct RunningTimer {
  std::string name;
  measure::Instant due;
};

/// The next step waits on a clock.
struct Deadline {
  std::size_t step = 0;  ///< index of the step that must begin
  measure::Instant by;   ///< latest start
  std::string what;      ///< "Lift the fat must begin" ... without the time, which the caller says in the family's zone
  std::string hazard;    ///< hazard clock that is running, or empty: quality only
  bool overdue = false;  ///< `by` has passed
  std::string when_overdue;  ///< what to do then; with a hazard the default is to throw it out
};

struct Session {
  std::optional<std::size_t> current;  ///< step underway or put down
  std::optional<std::size_t> next;     ///< first step neither started nor finished, when it may begin
  bool finished = false;               ///< every step is
  bool current_put_down = false;
  bool may_put_down = false;                            ///< the current step is harmless to pause
  std::optional<measure::Instant> next_not_before;      ///< least wait after the step before it
  std::optional<measure::Instant> current_expected_by;  ///< started plus expected minutes; a guide, no limit
  std::vector<Deadline> deadlines;                      ///< soonest first; those within `warn` ahead, or passed
  std::vector<std::string> due;                         ///< names of timers that have run out, longest ago first
  std::vector<std::string> warnings;                    ///< plain sentences, the most pressing first
};

enum class StepState { done, underway, put_down, next, later };
/// One per step of the card. Several can be underway or next at once: each canner load goes its own way from filling
/// to rest. A step that was passed over stays `later`.
[[nodiscard]] std::vector<StepState> step_states(const BatchCard& card, const std::vector<StageMark>& marks);

/// `warn` is how far ahead a deadline is spoken of. Marks of steps the card does not have are passed over.
[[nodiscard]] Session session_of(const BatchCard& card, const std::vector<StageMark>& marks,
                                 const std::vector<RunningTimer>& timers, measure::Instant now,
                                 measure::Duration warn = measure::hours(12));

}  // namespace stillroom::kitchen
