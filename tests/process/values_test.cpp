#include <algorithm>
#include <set>

#include "process/published.h"

namespace stillroom::process_tests {
namespace {

/// "tomato_juice_hot_opt_low" belongs to the recipe "tomato_juice_hot".
bool of_recipe(const process::Choice& c, const std::string& id) {
  return c.id == id || (c.id.starts_with(id) && c.id.substr(id.size()).starts_with("_opt_"));
}

/// One row of tests/reference/process_values.csv: figures written down apart from data/canning, from the text or memory
/// of the published table that its last columns name.
struct PublishedValue {
  std::string id;
  process::Question question;
  double time_min = 0;
  std::optional<double> pressure_psi;
  std::string place;
};

std::vector<PublishedValue> published_values() {
  const auto table =
      reference_file("process_values.csv", {"id", "food", "form", "style_of_pack", "jar", "canner", "altitude_ft",
                                            "time_min", "pressure_psi", "source", "source_place", "remark"});
  std::vector<PublishedValue> out;
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    almanac::RowReader r(table, i);
    PublishedValue v;
    v.id = r.text("id");
    v.question = ask(r.text("food"), r.text("form"), r.required_number("altitude_ft", 0, 20000), r.text("jar"),
                     r.text("canner"));
    v.question.style_of_pack = r.text("style_of_pack");
    v.time_min = r.required_number("time_min", 1, 200);
    v.pressure_psi = r.number("pressure_psi", 5, 15);
    v.place = "row " + std::to_string(i + 1) + ": " + v.id + ", " + r.text("source") + ", " + r.text("source_place");
    EXPECT_FALSE(r.error()) << r.error()->message;
    EXPECT_FALSE(r.text("source").empty() || r.text("source_place").empty() || r.text("remark").empty()) << v.place;
    out.push_back(std::move(v));
  }
  return out;
}

TEST(PublishedHeatProcess, IsChosenAsPrinted) {
  for (const auto& v : published_values()) {
    const auto answer = process::choose(published(), v.question);
    ASSERT_TRUE(answer.has_value()) << v.place << ": " << answer.error().message;
    std::vector<process::Choice> mine;
    std::ranges::copy_if(*answer, std::back_inserter(mine), [&](const auto& c) { return of_recipe(c, v.id); });
    const bool there = std::ranges::any_of(
        mine, [&](const auto& c) { return c.time_min == v.time_min && c.pressure_psi == v.pressure_psi; });
    EXPECT_TRUE(there) << v.place << " at " << v.question.altitude->in_feet() << " ft";
    // One recipe, jar, canner and altitude has one time, or one per pressure where equal pairs are printed.
    std::set<std::pair<std::string, double>> pairs;
    for (const auto& c : mine) pairs.emplace(c.method, c.pressure_psi.value_or(0) + 1000 * (c.id.ends_with("low")));
    EXPECT_EQ(pairs.size(), mine.size()) << v.place;
  }
}

TEST(PublishedHeatProcess, IsCheckedOverEveryTableJarCannerAndBandBorder) {
  std::set<std::string> jars, canners, guides;
  std::set<double> feet;
  const auto values = published_values();
  for (const auto& v : values) {
    jars.insert(v.question.jar);
    canners.insert(v.question.canner);
    feet.insert(v.question.altitude->in_feet());
    guides.insert(v.place.substr(v.place.find("Guide"), 7));
  }
  EXPECT_GE(values.size(), 150U);
  EXPECT_EQ(jars, (std::set<std::string>{"half_gallon", "half_pint", "pint", "quart"}));
  EXPECT_EQ(canners, (std::set<std::string>{"boiling_water", "dial", "weighted"}));
  EXPECT_EQ(guides, (std::set<std::string>{"Guide 2", "Guide 3", "Guide 4", "Guide 5", "Guide 6", "Guide 7"}));
  for (const double border : {0., 1000., 1001., 2000., 2001., 3000., 3001., 4000., 4001., 6000., 6001., 8000., 8001.}) {
    const auto near = [&](double f) { return std::abs(f - border) < 1e-6; };
    EXPECT_TRUE(std::ranges::any_of(feet, near)) << border << " ft is not asked";
  }
}

}  // namespace
}  // namespace stillroom::process_tests
