#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "almanac/csv.h"
#include "almanac/routes.h"
#include "measure/quantity.h"

namespace stillroom::almanac {
namespace {

/// Pounds of fresh food that fill so many packs, as USDA AIB-539 prints them: tests/reference/route_yields.csv.
TEST(UsdaFreshQuantities, FillTheJarsOfTheRoutes) {
  std::ifstream file(STILLROOM_SOURCE_DIR "/tests/reference/route_yields.csv");
  std::stringstream text;
  text << file.rdbuf();
  const auto table = read_csv("route_yields.csv", text.str(), {"route", "pounds", "packs", "tolerance_pct", "source"});
  ASSERT_TRUE(table) << table.error().message;
  ASSERT_GE(table->rows.size(), 40U);
  const auto crops = load_crops().value();
  const auto book = load_routes(crops).value();
  for (std::size_t i = 0; i < table->rows.size(); ++i) {
    RowReader row(*table, i);
    const Route* route = book.find(row.text("route"));
    ASSERT_NE(route, nullptr) << row.text("route");
    const double packs = row.required_number("packs", 1, 20);
    const double published = measure::in_kilograms(measure::pounds(row.required_number("pounds", 0, 100)));
    const double share = row.required_number("tolerance_pct", 0, 10) / 100;
    ASSERT_FALSE(row.error()) << row.error()->message;
    EXPECT_NEAR(route->kg_in_per_pack * packs, published, published * share)
        << route->key << ", " << row.text("source");
  }
}

}  // namespace
}  // namespace stillroom::almanac
