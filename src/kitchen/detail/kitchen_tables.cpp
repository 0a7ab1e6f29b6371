#include "kitchen/detail/kitchen_tables.h"

#include "almanac/csv.h"

namespace stillroom::kitchen::detail {
namespace {

using almanac::RowReader;

const std::vector<std::string> kChecked{"yes", "derived", "partial", "derived_memory", "memory", "common"};

/// Every row of a table through `read`; each row says where it is from.
template <class Row, class Read>
measure::Result<std::vector<Row>> rows_of(const char* path, std::vector<std::string> columns, Read read) {
  columns.insert(columns.end(), {"source", "checked"});
  auto table = almanac::read_csv(path, almanac::embedded_file(path), columns);
  if (!table) return tl::unexpected(table.error());
  std::vector<Row> all;
  for (std::size_t i = 0; i < table->rows.size(); ++i) {
    RowReader row(*table, i);
    all.push_back(read(row));
    if (row.text("source").empty()) row.fail("source", "is empty");
    static_cast<void>(row.one_of("checked", kChecked));
    if (row.error()) return tl::unexpected(*row.error());
  }
  return all;
}

/// Minutes, or 0 for the published time.
double minutes_or_time(RowReader& row, std::string_view column) {
  return row.text(column) == "{time}" ? 0 : row.number(column, 0, 600).value_or(0);
}

}  // namespace

measure::Result<std::vector<CannerStep>> canner_steps() {
  return rows_of<CannerStep>(
      "kitchen/canner_steps.csv",
      {"canner", "key", "title", "text", "looks_right", "caution", "timer", "timer_min", "minutes", "least_age"},
      [](RowReader& row) {
        return CannerStep{.canner = row.one_of("canner", {"boiling_water", "steam", "dial", "weighted"}),
                          .key = row.one_of("key", {"heat", "process", "lift"}),
                          .title = row.text("title"),
                          .text = row.text("text"),
                          .looks_right = row.text("looks_right"),
                          .caution = row.text("caution"),
                          .timer = row.text("timer"),
                          .timer_min = minutes_or_time(row, "timer_min"),
                          .minutes = minutes_or_time(row, "minutes"),
                          .least_age = static_cast<int>(row.required_number("least_age", 0, 18))};
      });
}

measure::Result<std::vector<GatherLine>> gather_lines() {
  return rows_of<GatherLine>("kitchen/gather.csv", {"when", "line"}, [](RowReader& row) {
    return GatherLine{
        .when = row.one_of("when", {"canned", "dial", "weighted", "steam", "frozen", "fermented", "dried"}),
        .line = row.text("line")};
  });
}

measure::Result<std::vector<LooksRight>> looks_right_table() {
  return rows_of<LooksRight>("kitchen/looks_right.csv", {"stages", "looks_right"}, [](RowReader& row) {
    return LooksRight{
        .stages = row.list("stages"), .looks_right = row.text("looks_right"), .source = row.text("source")};
  });
}

}  // namespace stillroom::kitchen::detail
