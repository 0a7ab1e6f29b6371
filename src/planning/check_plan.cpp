#include "planning/check/facts.h"

// The independent checker: see planning/check/facts.h.
namespace stillroom::planning {

std::vector<std::string> check_plan(const Household& h, const Plan& plan) {
  check::Facts facts(h, plan);
  if (!facts.faults.empty()) return facts.faults;  // names that mean nothing: the rest cannot be judged
  check::check_lots(facts);
  check::check_stages(facts);
  check::check_stores(facts);
  check::check_worth(facts);
  return facts.faults;
}

}  // namespace stillroom::planning
