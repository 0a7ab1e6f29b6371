#pragma once

#include <string>
#include <vector>

namespace stillroom::bench {

/// `stillroom-bench bound`: for generated households the worth of a plan, what no plan can beat, the gap between them,
/// and which capacities the bound leans on. Exit code 1 when a plan is worth more than its bound.
int bound(const std::vector<std::string>& arguments);

}  // namespace stillroom::bench
