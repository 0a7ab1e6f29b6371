#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "measure/result.h"

namespace stillroom::bench {

struct MrcpspOptions {
  std::vector<std::string> files;
  long schedules = 0;  ///< in all per instance; 0 with seconds 0: 50,000
  double seconds = 0;  ///< per instance
  std::uint64_t seed = 1;
  int seeds = 1;  ///< runs per instance, with seed, seed + 1, ...
  int threads = 2;
  bool cpu_clock = false;  ///< seconds are each thread's own processor time, for machines shared with other work
  std::string best;        ///< file of best known makespans; empty = none
  bool help = false;
};

/// Refuses (code "bad_usage") unknown words, missing or unreadable numbers, no file.
[[nodiscard]] measure::Result<MrcpspOptions> parse_mrcpsp_options(const std::vector<std::string>& arguments);

struct BestKnown {
  std::optional<int> makespan;  ///< nothing: known to be infeasible
  bool proved = false;
};
/// "folder/file" -> best known, from a CSV with columns instance, best_known, proved_optimal. Refuses (code
/// "bad_best_file") a file that cannot be read or a row that makes no sense.
[[nodiscard]] measure::Result<std::map<std::string, BestKnown>> read_best_known(const std::string& path);

/// The last folder and the name of a path: how instances are called.
[[nodiscard]] std::string instance_name(std::string_view path);

}  // namespace stillroom::bench
