#pragma once

namespace stillroom::bench {

/// Milliseconds that a fixed piece of work took on this machine: 200,000 look-ups in a sorted table with a branch on
/// each answer, what a search does most. The best of five runs, measured once at the first call and remembered. A time
/// divided by it says as much on a slow machine as on a fast one.
[[nodiscard]] double calibration_ms();

/// The time of a run in calibration loops.
[[nodiscard]] inline double in_loops(double milliseconds) { return milliseconds / calibration_ms(); }

}  // namespace stillroom::bench
