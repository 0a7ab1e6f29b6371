#pragma once

#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "almanac/crops.h"
#include "almanac/process_table.h"

namespace stillroom::almanac::detail {

/// What the cells of a heat-process row may refer to.
struct ProcessRowContext {
  const Crops& crops;
  const std::set<std::string>& requirement_words;
};

/// Reads one file of heat-process rows and checks each row and each set of altitude bands. The first fault refuses
/// ("bad_table") naming file, row and column.
[[nodiscard]] measure::Result<std::vector<ProcessRow>> read_process_rows(std::string file, std::string_view text,
                                                                         const ProcessRowContext& context);

}  // namespace stillroom::almanac::detail
