#pragma once

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>
#include <string>

#include "almanac/almanac.h"
#include "almanac/csv.h"
#include "process/process.h"

/// The published tables and the reference files, loaded once per test program.
namespace stillroom::process_tests {

/// Crops and heat processes; the routes come in only where a test asks for them.
inline const almanac::Almanac& published() {
  static const almanac::Almanac loaded = [] {
    auto crops = almanac::load_crops();
    EXPECT_TRUE(crops.has_value()) << (crops ? "" : crops.error().message);
    auto table = almanac::load_process_table(*crops);
    EXPECT_TRUE(table.has_value()) << (table ? "" : table.error().message);
    return almanac::Almanac{std::move(*crops), std::move(*table), {}, almanac::RouteBook({})};
  }();
  return loaded;
}

inline almanac::CsvTable reference_file(const std::string& name, const std::vector<std::string>& columns) {
  std::ifstream in(std::string(STILLROOM_SOURCE_DIR) + "/tests/reference/" + name);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  auto table = almanac::read_csv(name, text, columns);
  EXPECT_TRUE(table.has_value()) << (table ? "" : table.error().message);
  return table ? *table : almanac::CsvTable{};
}

inline process::Question ask(std::string food, std::string form = "", double feet = 500, std::string jar = "",
                             std::string canner = "") {
  return {.food = std::move(food),
          .form = std::move(form),
          .style_of_pack = "",
          .jar = std::move(jar),
          .canner = std::move(canner),
          .altitude = measure::Altitude::feet(feet),
          .conditions = {},
          .id = ""};
}

/// The code of the refusal, or "" when there were choices.
inline std::string code_of(const process::Question& q) {
  const auto answer = process::choose(published(), q);
  return answer ? "" : answer.error().code;
}

}  // namespace stillroom::process_tests
