#pragma once

#include <string>
#include <string_view>

#include "measure/result.h"
#include "scheduling/project.h"

/// Readers for the public project-scheduling instance files. Activities keep the order of the file, source first and
/// sink last. Every refusal has code "bad_instance" and names the line (or the entry) at fault.
namespace stillroom::bench {

/// Multi-mode text files with titled sections (PSPLIB and MMLIB write them slightly differently): read by title and by
/// numbers, not by column.
[[nodiscard]] measure::Result<scheduling::Project> read_multi_mode(std::string_view text);
/// Single-mode Patterson layout: bare numbers; line breaks carry no meaning.
[[nodiscard]] measure::Result<scheduling::Project> read_patterson(std::string_view text);
/// Single-mode files with minimum and maximum start-to-start lags in square brackets.
[[nodiscard]] measure::Result<scheduling::Project> read_lags(std::string_view text);
/// Reads the file and picks the reader by its ending (.mm, .rcp, .sch).
[[nodiscard]] measure::Result<scheduling::Project> read_instance(const std::string& path);

}  // namespace stillroom::bench
