#include "almanac/csv.h"

#include <csv.h>
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace stillroom::almanac {

namespace {

struct CsvCollector {
  std::vector<std::vector<std::string>> rows;
  std::vector<std::string> row;
};

void csv_on_field(void* field, std::size_t size, void* user) {
  auto& c = *static_cast<CsvCollector*>(user);
  c.row.emplace_back(static_cast<const char*>(field), size);
}

void csv_on_row(int, void* user) {
  auto& c = *static_cast<CsvCollector*>(user);
  c.rows.push_back(std::move(c.row));
  c.row.clear();
}

/// libcsv's parser, freed on every way out.
class CsvParser {
 public:
  CsvParser() : ok_(csv_init(&parser_, CSV_STRICT | CSV_STRICT_FINI) == 0) {}
  CsvParser(const CsvParser&) = delete;
  CsvParser& operator=(const CsvParser&) = delete;
  ~CsvParser() { csv_free(&parser_); }
  bool parse(std::string_view text, CsvCollector& into) {
    return ok_ && csv_parse(&parser_, text.data(), text.size(), csv_on_field, csv_on_row, &into) == text.size() &&
           csv_fini(&parser_, csv_on_field, csv_on_row, &into) == 0;
  }

 private:
  csv_parser parser_{};
  bool ok_;
};

std::string_view csv_trim(std::string_view s) {
  const auto first = s.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return s.substr(first, s.find_last_not_of(" \t") - first + 1);
}

std::string csv_number_word(double v) { return fmt::format("{:g}", v); }

const std::vector<std::string>& csv_mend() {
  static const std::vector<std::string> mend{"mend that cell in the table and build again"};
  return mend;
}

}  // namespace

int CsvTable::column(std::string_view name) const {
  const auto it = std::ranges::find(header, name);
  return it == header.end() ? -1 : static_cast<int>(it - header.begin());
}

measure::Result<CsvTable> read_csv(std::string file, std::string_view text, const std::vector<std::string>& required,
                                   Ragged ragged) {
  CsvCollector got;
  if (!CsvParser().parse(text, got)) {
    return measure::refuse(
        "bad_table",
        fmt::format("{}: row {}: the quotes do not close or stand in a bare field.", file, got.rows.size()),
        csv_mend());
  }
  if (got.rows.empty()) return measure::refuse("bad_table", fmt::format("{}: the table is empty.", file), csv_mend());
  CsvTable table{.file = std::move(file), .header = std::move(got.rows.front()), .rows = {}};
  for (const auto& name : required) {
    if (table.column(name) < 0) {
      return measure::refuse("bad_table", fmt::format("{}: header: column {} is missing.", table.file, name),
                             {"add the column to the table"});
    }
  }
  table.rows.assign(std::make_move_iterator(got.rows.begin() + 1), std::make_move_iterator(got.rows.end()));
  for (std::size_t i = 0; i < table.rows.size() && ragged == Ragged::refuse; ++i) {
    if (table.rows[i].size() != table.header.size()) {
      return measure::refuse("bad_table",
                             fmt::format("{}: row {}: {} cells where the header has {}.", table.file, i + 1,
                                         table.rows[i].size(), table.header.size()),
                             {"quote cells that hold commas"});
    }
  }
  return table;
}

std::string RowReader::text_at(std::size_t column) const { return std::string(csv_trim(table_.rows[row_][column])); }

std::string RowReader::text(std::string_view column) {
  const int c = table_.column(column);
  if (c < 0) {
    fail(column, "the column is missing");
    return {};
  }
  return text_at(static_cast<std::size_t>(c));
}

std::optional<double> RowReader::number(std::string_view column, double low, double high) {
  const std::string cell = text(column);
  if (cell.empty()) return std::nullopt;
  double v = 0;
  const auto [end, ec] = std::from_chars(cell.data(), cell.data() + cell.size(), v);
  if (ec != std::errc{} || end != cell.data() + cell.size() || !std::isfinite(v)) {
    fail(column, fmt::format("found \"{}\", wanted a number", cell));
    return std::nullopt;
  }
  if (v < low || v > high) {
    fail(column, fmt::format("found {}, wanted {} to {}", cell, csv_number_word(low), csv_number_word(high)));
    return std::nullopt;
  }
  return v;
}

double RowReader::required_number(std::string_view column, double low, double high) {
  const auto v = number(column, low, high);
  if (!v && !error_) fail(column, "the cell is empty, wanted a number");
  return v.value_or(low);
}

std::vector<std::string> RowReader::list(std::string_view column) {
  const std::string cell = text(column);
  std::vector<std::string> parts;
  std::string_view rest = cell;
  while (!rest.empty()) {
    const auto cut = rest.find(';');
    const auto part = csv_trim(rest.substr(0, cut));
    if (!part.empty()) parts.emplace_back(part);
    if (cut == std::string_view::npos) break;
    rest.remove_prefix(cut + 1);
  }
  return parts;
}

std::string RowReader::one_of(std::string_view column, const std::vector<std::string>& allowed) {
  std::string cell = text(column);
  if (std::ranges::find(allowed, cell) == allowed.end()) {
    fail(column, fmt::format("found \"{}\", wanted one of: {}", cell, fmt::join(allowed, ", ")));
  }
  return cell;
}

void RowReader::fail(std::string_view column, std::string what) {
  if (error_) return;
  error_ = measure::Refusal{"bad_table", fmt::format("{}: row {}: column {}: {}.", table_.file, row_ + 1, column, what),
                            csv_mend()};
}

}  // namespace stillroom::almanac
