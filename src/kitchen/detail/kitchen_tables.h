#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "measure/result.h"

/// The kitchen's own tables under data/kitchen, compiled in. Inside kitchen/ only.
namespace stillroom::kitchen::detail {

/// One of the three steps at a canner: heat, process, lift. Texts may say {water} {over} {pressure}.
struct CannerStep {
  std::string canner;  ///< "boiling_water","steam","dial","weighted"
  std::string key;     ///< "heat","process","lift"
  std::string title, text, looks_right, caution;
  std::string timer;     ///< name of the timer it offers, or empty
  double timer_min = 0;  ///< of that timer; 0 = the published time
  double minutes = 0;    ///< expected; 0 = the published time
  int least_age = 0;
};
/// What to lay ready beside the amounts of the route.
struct GatherLine {
  std::string when;  ///< "canned","dial","weighted","steam","frozen","fermented","dried"
  std::string line;
};
struct LooksRight {
  std::vector<std::string> stages;
  std::string looks_right, source;
};
/// Each refuses (code "bad_table") a broken table; they are compiled in, and a test reads them.
[[nodiscard]] measure::Result<std::vector<CannerStep>> canner_steps();
[[nodiscard]] measure::Result<std::vector<GatherLine>> gather_lines();
[[nodiscard]] measure::Result<std::vector<LooksRight>> looks_right_table();

}  // namespace stillroom::kitchen::detail
