#include "planning/bound.h"

#include <algorithm>
#include <cmath>

#include "planning/detail/bound_flows.h"
#include "planning/validate.h"

namespace stillroom::planning {
namespace {

std::vector<Bound::Binding> binding_rows(const detail::LinearProgram& lp, const std::vector<double>& duals,
                                         std::size_t most) {
  std::vector<Bound::Binding> out;
  for (int i = 0; i < lp.rows(); ++i) {
    const auto& row = lp.row_at(i);
    const double worth = duals[static_cast<std::size_t>(i)] * row.most;
    if (row.label.empty() || !std::isfinite(worth) || worth < 0.005) continue;
    const auto same = std::find_if(out.begin(), out.end(), [&](const auto& b) { return b.what == row.label; });
    if (same != out.end()) {
      same->worth += worth;
    } else {
      out.push_back({row.label, worth});
    }
  }
  std::stable_sort(out.begin(), out.end(), [](const auto& a, const auto& b) { return a.worth > b.worth; });
  if (out.size() > most) out.resize(most);
  return out;
}

}  // namespace

measure::Result<Bound> bound(const Household& h, const BoundOptions& options) {
  if (auto fault = fault_in(h)) return tl::unexpected(std::move(*fault));
  const detail::Project project(h);
  const detail::FlowProgram flows(project);
  const detail::LinearProgram& lp = flows.program();
  const auto solved = lp.solve(options.max_iterations);
  Bound out;
  // A hair for the rounding of masses to grams and of shares to tables.
  out.value = solved.bound + 1e-6 * std::abs(solved.bound) + 1e-4;
  out.terms = solved.terms;
  out.rows = lp.rows();
  out.columns = lp.columns();
  out.iterations = solved.iterations;
  out.solved = solved.optimal;
  out.binding = binding_rows(lp, solved.duals, options.most_binding);
  return out;
}

}  // namespace stillroom::planning
