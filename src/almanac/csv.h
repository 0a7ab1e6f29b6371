#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "measure/result.h"

namespace stillroom::almanac {

/// A CSV file (RFC 4180) read whole. Row numbers in messages count from 1 below the header.
struct CsvTable {
  std::string file;
  std::vector<std::string> header;
  std::vector<std::vector<std::string>> rows;

  /// Column index, or -1.
  [[nodiscard]] int column(std::string_view name) const;
};

/// Refuses (code "bad_table") ragged rows, an empty file, and missing `required` columns, naming file, row and column.
/// `Ragged::keep` leaves short and long rows in, for a person's own file whose good rows are to be kept.
enum class Ragged { refuse, keep };
[[nodiscard]] measure::Result<CsvTable> read_csv(std::string file, std::string_view text,
                                                 const std::vector<std::string>& required,
                                                 Ragged ragged = Ragged::refuse);

/// Cursor over one row. Collects the first error (file, row, column, what was found, what is wanted) instead of
/// throwing.
class RowReader {
 public:
  RowReader(const CsvTable& table, std::size_t row) : table_(table), row_(row) {}
  [[nodiscard]] std::string text(std::string_view column);
  /// As text(), by position, for a reader that wants every column. `column` is below the header's length.
  [[nodiscard]] std::string text_at(std::size_t column) const;
  /// Empty cell gives nullopt; anything but a finite number within [low, high] is an error.
  [[nodiscard]] std::optional<double> number(std::string_view column, double low, double high);
  /// As number, but an empty cell is an error.
  [[nodiscard]] double required_number(std::string_view column, double low, double high);
  /// Cell split at ';', trimmed, empty parts dropped.
  [[nodiscard]] std::vector<std::string> list(std::string_view column);
  /// Cell must be one of `allowed`.
  [[nodiscard]] std::string one_of(std::string_view column, const std::vector<std::string>& allowed);
  /// Records an error of the caller's own ("bands leave a gap", ...).
  void fail(std::string_view column, std::string what);
  [[nodiscard]] const std::optional<measure::Refusal>& error() const { return error_; }

 private:
  const CsvTable& table_;
  std::size_t row_;
  std::optional<measure::Refusal> error_;
};

/// The compiled-in files of data/, by path below data/ ("canning/fruit.csv"). Empty when there is none of that name.
[[nodiscard]] std::string_view embedded_file(std::string_view path);

}  // namespace stillroom::almanac
