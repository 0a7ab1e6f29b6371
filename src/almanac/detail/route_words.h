#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "measure/result.h"

/// Words and numbers a method template is filled with. Inside almanac/ only.
namespace stillroom::almanac::detail {

/// Values by name: as written in the row, and as a number where the cell is one. A blank cell counts as 0. What is set
/// as a number has no text.
class RouteWords {
 public:
  void set(std::string name, std::string text);
  void set(std::string name, double value);
  [[nodiscard]] bool has(const std::string& name) const { return texts_.contains(name); }
  [[nodiscard]] const std::string& text(const std::string& name) const { return texts_.at(name); }

  /// Sum, difference, product, quotient and brackets over numbers and names: "lb_per_load * kg_per_lb / 7".
  /// Refuses (code "bad_formula") an unknown or non-numeric name, a division by zero, or anything it cannot read.
  [[nodiscard]] measure::Result<double> number(std::string_view formula) const;
  /// Replaces <name> by the value of that name; "<" elsewhere is not allowed. Refuses (code "bad_text") unknown names.
  [[nodiscard]] measure::Result<std::string> fill(std::string_view text) const;

 private:
  std::map<std::string, std::string> texts_;
  std::map<std::string, double> numbers_;
};

/// Names used between `open` and `close` in a text: '<','>' for row words, '{','}' for amounts filled in on the day.
/// An opening sign without its closing one yields the rest of the text as a name, which no list will know.
[[nodiscard]] std::vector<std::string> names_between(std::string_view text, char open, char close);

}  // namespace stillroom::almanac::detail
