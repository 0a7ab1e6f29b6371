#include <gtest/gtest.h>

#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "measure/amount.h"

namespace stillroom::measure {
namespace {

struct UnitRow {
  std::string typed, kind, unit, source;
  double value = 0, tolerance = 0;
};

std::vector<UnitRow> unit_rows() {
  std::ifstream file(std::string(STILLROOM_SOURCE_DIR) + "/tests/reference/units.csv");
  std::vector<UnitRow> out;
  std::string line;
  std::getline(file, line);  // header
  while (std::getline(file, line)) {
    std::vector<std::string> cells;
    std::stringstream row(line);
    for (std::string cell; std::getline(row, cell, ',');) cells.push_back(cell);
    if (cells.size() != 7) throw std::runtime_error("units.csv: not seven cells: " + line);
    out.push_back({.typed = cells[0],
                   .kind = cells[1],
                   .unit = cells[3],
                   .source = cells[5],
                   .value = std::stod(cells[2]),
                   .tolerance = std::stod(cells[4])});
  }
  return out;
}

double in_unit(const Amount& amount, const std::string& unit) {
  const std::map<std::string, double> si = {
      {"in3", 0.0254 * 0.0254 * 0.0254}, {"l", 0.001}, {"kg", 1}, {"m", 1}, {"K", 1}, {"days", 86400}};
  const double value = amount.kind == AmountKind::container
                           ? amount.value * container_volume(amount.container).value().si()
                           : amount.value;
  return value / si.at(unit);
}

// NIST Handbook 44, Appendix C, "General Tables of Units of Measurement"; the tolerance is half of the last printed
// digit, or of far smaller size where the handbook calls a factor exact.
TEST(UnitsOfHandbook44, AreWhatIsUnderstoodWhenTyped) {
  const auto rows = unit_rows();
  ASSERT_GE(rows.size(), 20u);
  for (const auto& row : rows) {
    const auto amount = parse_amount(row.typed);
    ASSERT_TRUE(amount.has_value()) << row.typed << ": " << amount.error().message;
    EXPECT_NEAR(in_unit(*amount, row.unit), row.value, row.tolerance) << row.typed << ", " << row.source;
  }
}

}  // namespace
}  // namespace stillroom::measure
