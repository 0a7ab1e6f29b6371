#pragma once

#include <string>
#include <vector>

namespace stillroom::bench {

/// `stillroom-bench rehearse`: seasons per second, and whether lots given a chance of 70 to 80 % are saved about that
/// often in fresh seasons. Exit code 1 when a bin with enough lots is further off than luck allows.
int rehearse(const std::vector<std::string>& arguments);

}  // namespace stillroom::bench
