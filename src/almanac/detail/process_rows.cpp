#include "almanac/detail/process_rows.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <tuple>

#include "almanac/csv.h"

namespace stillroom::almanac::detail {

namespace {

const std::vector<std::string> kRowColumns{
    "id",     "food",     "form",     "style_of_pack",  "acid_class", "method",       "jar",
    "status", "notes",    "source",   "altitude_to_ft", "time_min",   "pressure_psi", "headspace_in",
    "covers", "excludes", "requires", "source_place",   "added_acid", "edition_read", "altitude_over_ft"};

RowStatus row_status(const std::string& word) {
  if (word == "verified2") return RowStatus::verified2;
  return word == "verified" ? RowStatus::verified : RowStatus::recalled;
}

/// Every crop key must be known; the same key may not be covered and excluded.
void check_crop_keys(RowReader& r, const ProcessRow& row, const Crops& crops) {
  for (const auto& key : row.covers) {
    if (crops.find(key) == nullptr) r.fail("covers", fmt::format("no crop has the key \"{}\"", key));
  }
  for (const auto& key : row.excludes) {
    if (crops.find(key) == nullptr) r.fail("excludes", fmt::format("no crop has the key \"{}\"", key));
    if (std::ranges::count(row.covers, key) > 0) r.fail("excludes", fmt::format("\"{}\" is covered as well", key));
  }
}

void check_requirements(RowReader& r, const ProcessRow& row, const std::set<std::string>& known) {
  for (const auto& word : row.requirements) {
    if (!known.contains(word)) r.fail("requires", fmt::format("\"{}\" is not in requirements.csv", word));
  }
  const auto has = [&](std::string_view w) { return std::ranges::count(row.requirements, w) > 0; };
  const bool boiling = row.method == "boiling_water";
  if (!boiling && !has("venting_10_min")) r.fail("requires", "a pressure row must ask for venting_10_min");
  if (boiling && row.time_min < 10 && !has("sterilised_jars"))
    r.fail("requires", "a process under 10 minutes must ask for sterilised_jars");
}

/// A pressure belongs to a gauge; low-acid food is never processed in boiling water; sources are named, not addressed.
void check_row_sense(RowReader& r, const ProcessRow& row) {
  const bool boiling = row.method == "boiling_water";
  if (boiling && row.pressure_psi) r.fail("pressure_psi", "boiling water has no pressure");
  if (!boiling && !row.pressure_psi) r.fail("pressure_psi", "the cell is empty, wanted a number");
  if (boiling && row.acid_class == "low_acid") r.fail("method", "low-acid food has no boiling-water process");
  // A tested recipe may hold its acid among the ingredients; anything else must say how much goes in.
  const bool recipe = std::ranges::count(row.requirements, "tested_recipe_only") > 0;
  if (row.acid_class == "acidified" && row.added_acid.empty() && !recipe)
    r.fail("added_acid", "an acidified food names its acid");
  if (row.altitude_to_ft && *row.altitude_to_ft <= row.altitude_over_ft)
    r.fail("altitude_to_ft", fmt::format("found {:g}, wanted more than altitude_over_ft", *row.altitude_to_ft));
  for (const auto* column : {"id", "food", "form", "source", "source_place", "edition_read"}) {
    if (r.text(column).empty()) r.fail(column, "the cell is empty");
  }
  for (const auto* column : {"notes", "source", "source_place"}) {
    const auto cell = r.text(column);
    if (cell.find("http") != std::string::npos || cell.find("www.") != std::string::npos)
      r.fail(column, "name the publication, not a web address");
  }
}

ProcessRow process_row_of(RowReader& r, const ProcessRowContext& context) {
  ProcessRow row;
  row.id = r.text("id");
  row.food = r.text("food");
  row.form = r.text("form");
  row.style_of_pack = r.one_of("style_of_pack", {"hot", "raw"});
  row.acid_class = r.one_of("acid_class", {"acid", "acidified", "low_acid"});
  row.method = r.one_of("method", {"boiling_water", "dial_gauge", "weighted_gauge"});
  row.jar = r.one_of("jar", {"half_pint", "pint", "quart", "half_gallon"});
  row.altitude_over_ft = r.required_number("altitude_over_ft", 0, 30000);
  row.altitude_to_ft = r.number("altitude_to_ft", 1, 30000);
  row.time_min = r.required_number("time_min", 1, 240);
  row.pressure_psi = r.number("pressure_psi", 5, 15);
  row.headspace_in = r.required_number("headspace_in", 0.125, 2);
  row.added_acid = r.text("added_acid");
  row.covers = r.list("covers");
  row.excludes = r.list("excludes");
  row.requirements = r.list("requires");
  row.notes = r.text("notes");
  row.source = r.text("source");
  row.source_place = r.text("source_place");
  row.edition_read = r.text("edition_read");
  row.status = row_status(r.one_of("status", {"verified2", "verified", "recalled"}));
  check_crop_keys(r, row, context.crops);
  check_requirements(r, row, context.requirement_words);
  check_row_sense(r, row);
  return row;
}

/// `next` follows `prior` within one id, method and jar, in order of altitude.
void check_bands_meet(RowReader& r, const ProcessRow& prior, const ProcessRow& next) {
  if (!prior.altitude_to_ft || next.altitude_over_ft < *prior.altitude_to_ft)
    r.fail("altitude_over_ft", fmt::format("found {:g}: two bands of {} overlap", next.altitude_over_ft, next.id));
  else if (next.altitude_over_ft > *prior.altitude_to_ft)
    r.fail("altitude_over_ft", fmt::format("found {:g}, wanted {:g}: the bands of {} leave a gap",
                                           next.altitude_over_ft, *prior.altitude_to_ft, next.id));
  if (next.time_min < prior.time_min)
    r.fail("time_min",
           fmt::format("found {:g}: the time falls with altitude (it was {:g})", next.time_min, prior.time_min));
  if (next.pressure_psi && prior.pressure_psi && *next.pressure_psi < *prior.pressure_psi)
    r.fail("pressure_psi", fmt::format("found {:g}: the pressure falls with altitude (it was {:g})", *next.pressure_psi,
                                       *prior.pressure_psi));
}

/// Checks every set of altitude bands: begins at sea level, each follows the one below it.
std::optional<measure::Refusal> fault_in_bands(const CsvTable& table, const std::vector<ProcessRow>& rows) {
  std::map<std::tuple<std::string, std::string, std::string>, std::vector<std::size_t>> sets;
  for (std::size_t i = 0; i < rows.size(); ++i) sets[{rows[i].id, rows[i].method, rows[i].jar}].push_back(i);
  for (auto& [key, set] : sets) {
    std::ranges::stable_sort(set, {}, [&](std::size_t i) { return rows[i].altitude_over_ft; });
    RowReader first(table, set.front());
    if (rows[set.front()].altitude_over_ft > 0)
      first.fail("altitude_over_ft", fmt::format("the bands of {} do not begin at 0", rows[set.front()].id));
    if (first.error()) return first.error();
    for (std::size_t n = 1; n < set.size(); ++n) {
      RowReader r(table, set[n]);
      check_bands_meet(r, rows[set[n - 1]], rows[set[n]]);
      if (r.error()) return r.error();
    }
  }
  return std::nullopt;
}

}  // namespace

measure::Result<std::vector<ProcessRow>> read_process_rows(std::string file, std::string_view text,
                                                           const ProcessRowContext& context) {
  const auto table = read_csv(std::move(file), text, kRowColumns);
  if (!table) return tl::unexpected(table.error());
  std::vector<ProcessRow> rows;
  for (std::size_t i = 0; i < table->rows.size(); ++i) {
    RowReader r(*table, i);
    rows.push_back(process_row_of(r, context));
    if (r.error()) return tl::unexpected(*r.error());
  }
  if (auto fault = fault_in_bands(*table, rows)) return tl::unexpected(std::move(*fault));
  return rows;
}

}  // namespace stillroom::almanac::detail
