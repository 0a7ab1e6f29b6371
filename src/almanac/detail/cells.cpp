#include "almanac/detail/cells.h"

#include <fmt/format.h>

namespace stillroom::almanac {

std::string Cells::optional_crop(std::string_view column) {
  auto key = row.text(column);
  if (!key.empty() && crops.find(key) == nullptr) row.fail(column, fmt::format("no crop has the key \"{}\"", key));
  return key;
}

std::string Cells::crop(std::string_view column) {
  auto key = optional_crop(column);
  if (key.empty()) row.fail(column, "the cell is empty, wanted a crop key");
  return key;
}

std::vector<std::string> Cells::crop_list(std::string_view column) {
  auto keys = row.list(column);
  for (const auto& key : keys) {
    if (crops.find(key) == nullptr) row.fail(column, fmt::format("no crop has the key \"{}\"", key));
  }
  return keys;
}

std::string Cells::words(std::string_view column) {
  auto text = row.text(column);
  if (text.empty()) row.fail(column, "the cell is empty");
  return text;
}

bool Cells::yes(std::string_view column) { return row.one_of(column, {"yes", "no"}) == "yes"; }

Span Cells::span(std::string_view low_column, std::string_view high_column, double least, double most) {
  Span s{row.required_number(low_column, least, most), row.required_number(high_column, least, most)};
  if (!row.error() && s.low > s.high)
    row.fail(low_column, fmt::format("{:g} is above {:g} in {}", s.low, s.high, high_column));
  return s;
}

std::optional<Span> Cells::optional_span(std::string_view low_column, std::string_view high_column, double least,
                                         double most) {
  const bool no_low = row.text(low_column).empty();
  const bool no_high = row.text(high_column).empty();
  if (no_low && no_high) return std::nullopt;
  if (no_low || no_high) row.fail(no_low ? low_column : high_column, "one end of the range is empty");
  return span(low_column, high_column, least, most);
}

Provenance Cells::provenance() {
  Provenance p{.source = words("source"), .checked = Sureness::common_practice, .row = number};
  const auto code = row.one_of("checked", {"yes", "partial", "derived", "derived_memory", "memory", "common"});
  p.checked = sureness_from_code(code).value_or(Sureness::common_practice);
  return p;
}

}  // namespace stillroom::almanac
