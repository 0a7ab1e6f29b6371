#pragma once

#include <fstream>
#include <sstream>
#include <string>

#include "almanac/csv.h"

namespace stillroom {

/// One file of tests/reference, read whole.
inline almanac::CsvTable reference_rows(const std::string& file) {
  std::ifstream in(std::string(STILLROOM_SOURCE_DIR) + "/tests/reference/" + file);
  std::stringstream text;
  text << in.rdbuf();
  return almanac::read_csv(file, text.str(), {"source"}).value();
}

}  // namespace stillroom
