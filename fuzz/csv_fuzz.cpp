#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "almanac/csv.h"
#include "check.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace stillroom::almanac;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto table = read_csv("fuzzed.csv", text, {"crop"});
  if (!table) {
    FUZZ_CHECK(table.error().code == "bad_table");
    return 0;
  }
  FUZZ_CHECK(table->column("crop") >= 0);
  for (std::size_t i = 0; i < table->rows.size(); ++i) {
    FUZZ_CHECK(table->rows[i].size() == table->header.size());
    RowReader reader(*table, i);
    if (const auto number = reader.number("crop", -1e6, 1e6)) FUZZ_CHECK(std::isfinite(*number));
    for (const auto& part : reader.list("crop")) FUZZ_CHECK(!part.empty());
  }
  return 0;
}
