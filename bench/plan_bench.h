#pragma once

#include <string>
#include <vector>

namespace stillroom::bench {

/// `stillroom-bench plan`: time to the first plan and worth of the plan at given times for generated households; every
/// plan is held to the checker. Exit code 1 when a plan breaks a rule.
int plan(const std::vector<std::string>& arguments);

}  // namespace stillroom::bench
