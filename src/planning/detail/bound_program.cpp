#include "planning/detail/bound_program.h"

#include <algorithm>
#include <cmath>
#include <coin/CoinPackedMatrix.hpp>
#include <coin/OsiClpSolverInterface.hpp>

namespace stillroom::planning::detail {
namespace {

double& slot_of(ObjectiveTerms& terms, Term term) {
  switch (term) {
    case Term::put_by:
      return terms.put_by;
    case Term::still_sound:
      return terms.still_sound;
    case Term::materials:
      return terms.materials;
    case Term::energy:
      return terms.energy;
    case Term::effort:
      return terms.effort;
    case Term::lateness:
      break;
  }
  return terms.lateness;
}

double sign_of(Term term) { return term == Term::put_by || term == Term::still_sound ? 1 : -1; }

}  // namespace

int LinearProgram::column(double most) {
  most_.push_back(std::max(0.0, most));
  objective_.push_back(0);
  return columns() - 1;
}

void LinearProgram::price(int column, Term term, double usd) {
  if (usd == 0) return;
  prices_.push_back({column, term, usd});
  objective_[static_cast<std::size_t>(column)] += sign_of(term) * usd;
}

void LinearProgram::constant(Term term, double usd) { slot_of(constant_, term) += usd; }

int LinearProgram::row(double least, double most, std::string label) {
  rows_.push_back({least, most, std::move(label)});
  return rows() - 1;
}

void LinearProgram::add(int row, int column, double factor) {
  if (factor != 0) entries_.push_back({row, column, factor});
}

/// For any prices y of the rows, c x = y A x + (c - y A) x, and each part is at most its own maximum over the rows'
/// and the columns' limits: a bound for every feasible x, however the prices came about.
double LinearProgram::lagrangian(const std::vector<double>& duals) const {
  std::vector<double> reduced = objective_;
  double sum = constant_.total();
  std::vector<double> price = duals;
  for (std::size_t i = 0; i < rows_.size(); ++i) {
    const double limit = price[i] > 0 ? rows_[i].most : rows_[i].least;
    if (!std::isfinite(limit) || !std::isfinite(price[i])) price[i] = 0;
    if (price[i] != 0) sum += price[i] * limit;
  }
  for (const Entry& e : entries_)
    reduced[static_cast<std::size_t>(e.column)] -= price[static_cast<std::size_t>(e.row)] * e.factor;
  for (std::size_t j = 0; j < reduced.size(); ++j) sum += std::max(0.0, reduced[j]) * most_[j];
  return sum;
}

LinearProgram::Solved LinearProgram::solve(int max_iterations) const {
  OsiClpSolverInterface solver;
  std::vector<int> row_of, column_of;
  std::vector<double> factors;
  for (const Entry& e : entries_) {
    row_of.push_back(e.row);
    column_of.push_back(e.column);
    factors.push_back(e.factor);
  }
  CoinPackedMatrix matrix(true, row_of.data(), column_of.data(), factors.data(), static_cast<int>(entries_.size()));
  matrix.setDimensions(rows(), columns());
  solver.messageHandler()->setLogLevel(0);
  solver.getModelPtr()->messageHandler()->setLogLevel(0);
  std::vector<double> zero(most_.size(), 0.0), cost, least, most;
  for (const double c : objective_) cost.push_back(-c);
  const double infinity = solver.getInfinity();
  for (const Row& r : rows_) {
    least.push_back(std::isfinite(r.least) ? r.least : -infinity);
    most.push_back(std::isfinite(r.most) ? r.most : infinity);
  }
  solver.loadProblem(matrix, zero.data(), most_.data(), cost.data(), least.data(), most.data());
  if (max_iterations > 0) solver.setIntParam(OsiMaxNumIteration, max_iterations);
  solver.initialSolve();

  Solved out;
  out.optimal = solver.isProvenOptimal();
  out.iterations = solver.getIterationCount();
  const double* values = solver.getColSolution();
  const double* duals = solver.getRowPrice();
  out.values.assign(values, values + columns());
  out.duals.resize(rows_.size());
  for (std::size_t i = 0; i < rows_.size(); ++i) out.duals[i] = -duals[i];
  out.bound = std::min(lagrangian(out.duals), lagrangian(std::vector<double>(rows_.size(), 0.0)));
  out.terms = constant_;
  for (const Price& p : prices_) slot_of(out.terms, p.term) += p.usd * out.values[static_cast<std::size_t>(p.column)];
  return out;
}

}  // namespace stillroom::planning::detail
