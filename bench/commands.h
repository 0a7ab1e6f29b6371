#pragma once

#include <string>
#include <vector>

/// The yardsticks behind `stillroom-bench`: arguments after the command word in, exit code out (0 fine, 1 some answer
/// is missing or wrong, 2 wrong use). Results to stdout, talk to stderr.
namespace stillroom::bench {

int mrcpsp(const std::vector<std::string>& arguments);
int edits(const std::vector<std::string>& arguments);

}  // namespace stillroom::bench
