#pragma once

#include <string>
#include <vector>

/// Stories about a household as text: tests/scripts/*.ledger. tests/scripts/README.md says how they are written.
namespace stillroom::ledger::tests {

/// Runs one script from its first line to its last; what went wrong, each with its line number (empty = all well).
[[nodiscard]] std::vector<std::string> run_script(const std::string& path);

}  // namespace stillroom::ledger::tests
