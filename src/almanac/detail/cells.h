#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "almanac/answer.h"
#include "almanac/csv.h"

/// What the readers of the published tables share: typed cells that report a fault through the RowReader.
namespace stillroom::almanac {

/// One row being read, with the crop list it joins to.
struct Cells {
  RowReader& row;
  const Crops& crops;
  int number = 0;  ///< row number, from 1

  /// A known crop key; an empty cell is a fault.
  [[nodiscard]] std::string crop(std::string_view column = "crop");
  /// A known crop key or empty.
  [[nodiscard]] std::string optional_crop(std::string_view column = "crop");
  /// Known crop keys, ';' between them; may be empty.
  [[nodiscard]] std::vector<std::string> crop_list(std::string_view column = "crops");
  /// Text that must not be empty.
  [[nodiscard]] std::string words(std::string_view column);
  [[nodiscard]] bool yes(std::string_view column);
  /// Both ends there and low <= high.
  [[nodiscard]] Span span(std::string_view low_column, std::string_view high_column, double least, double most);
  /// Both ends there or both empty.
  [[nodiscard]] std::optional<Span> optional_span(std::string_view low_column, std::string_view high_column,
                                                  double least, double most);
  /// The `source` and `checked` cells.
  [[nodiscard]] Provenance provenance();
};

/// Reads every row of a compiled-in or given table by `read(Cells&) -> Row`. The first fault refuses.
template <class Row, class Read>
[[nodiscard]] measure::Result<std::vector<Row>> read_rows(std::string file, std::string_view text, const Crops& crops,
                                                          const std::vector<std::string>& columns, Read read) {
  const auto table = read_csv(std::move(file), text, columns);
  if (!table) return tl::unexpected(table.error());
  std::vector<Row> rows;
  rows.reserve(table->rows.size());
  for (std::size_t i = 0; i < table->rows.size(); ++i) {
    RowReader r(*table, i);
    Cells cells{r, crops, static_cast<int>(i) + 1};
    rows.push_back(read(cells));
    if (r.error()) return tl::unexpected(*r.error());
  }
  return rows;
}

/// Puts the rows of one file into `into`, or keeps the first refusal seen in `fault`.
template <class Row>
void take_rows(measure::Result<std::vector<Row>> rows, std::vector<Row>& into, std::optional<measure::Refusal>& fault) {
  if (rows) {
    into = std::move(*rows);
  } else if (!fault) {
    fault = rows.error();
  }
}

}  // namespace stillroom::almanac
