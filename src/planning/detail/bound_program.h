#pragma once

#include <cstddef>
#include <limits>
#include <string>
#include <vector>

#include "planning/plan.h"

/// A linear program to be maximised, and a bound on it that holds whatever the solver's rounding did.
namespace stillroom::planning::detail {

enum class Term { put_by, still_sound, materials, energy, effort, lateness };

class LinearProgram {
 public:
  static constexpr double kFree = std::numeric_limits<double>::infinity();

  /// A column from 0 to `most`. Range: `most` finite and >= 0 (the bound leans on it).
  int column(double most);
  /// Each unit of the column brings (put_by, still_sound) or costs (the others) so many USD.
  void price(int column, Term term, double usd);
  /// The same without a column.
  void constant(Term term, double usd);
  /// A row `least <= sum <= most`; `label` names the capacity it stands for, empty for none.
  int row(double least, double most, std::string label = {});
  void add(int row, int column, double factor);

  struct Solved {
    double bound = 0;  ///< no feasible point is worth more: a Lagrangian bound from the duals
    std::vector<double> values, duals;
    ObjectiveTerms terms;
    int iterations = 0;
    bool optimal = false;
  };
  /// Range: max_iterations 0 = no limit.
  [[nodiscard]] Solved solve(int max_iterations) const;

  [[nodiscard]] int rows() const { return static_cast<int>(rows_.size()); }
  [[nodiscard]] int columns() const { return static_cast<int>(most_.size()); }
  [[nodiscard]] double most(int column) const { return most_[static_cast<std::size_t>(column)]; }
  struct Row {
    double least, most;
    std::string label;
  };
  [[nodiscard]] const Row& row_at(int row) const { return rows_[static_cast<std::size_t>(row)]; }

 private:
  struct Entry {
    int row, column;
    double factor;
  };
  struct Price {
    int column;
    Term term;
    double usd;
  };
  [[nodiscard]] double lagrangian(const std::vector<double>& duals) const;

  std::vector<double> most_, objective_;
  std::vector<Row> rows_;
  std::vector<Entry> entries_;
  std::vector<Price> prices_;
  ObjectiveTerms constant_;
};

}  // namespace stillroom::planning::detail
