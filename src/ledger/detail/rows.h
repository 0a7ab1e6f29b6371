#pragma once

#include <array>
#include <compare>
#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>

#include "ledger/state.h"

/// The state as rows of the stored tables: a key and a JSON body each. `sections` holds what is one value for the whole
/// household: "arriving", "forecast", "head", "money", "needs", "plan".
namespace stillroom::ledger::detail {

/// Raise when a row's JSON changes; older files then fold their entries again on opening.
inline constexpr int kStateShape = 3;

enum class Table {
  settings,
  people,
  places,
  readings,
  equipment,
  stock,
  parcels,
  batches,
  timers,
  standing,
  other_work,
  discrepancies,
  sections
};
inline constexpr std::array<std::string_view, 13> kTableNames = {
    "settings", "people", "places",   "readings",   "equipment",     "stock",   "parcels",
    "batches",  "timers", "standing", "other_work", "discrepancies", "sections"};
[[nodiscard]] inline std::string_view name_of(Table t) { return kTableNames.at(static_cast<std::size_t>(t)); }

struct RowKey {
  Table table = Table::sections;
  std::string key;
  auto operator<=>(const RowKey&) const = default;
};
using RowKeys = std::set<RowKey>;
using Rows = std::map<RowKey, std::string>;

[[nodiscard]] std::string reading_key(const std::string& place, Instant at);
[[nodiscard]] std::string discrepancy_key(std::size_t index);

/// One row's body; nothing when the state has no such row.
[[nodiscard]] std::optional<std::string> row_text(const State& s, const RowKey& key);
[[nodiscard]] Rows all_rows(const State& s);
/// Rows that one of the two has otherwise than the other.
[[nodiscard]] RowKeys differing_rows(const State& a, const State& b);
/// Puts one row into a state under construction. Rows of a table must come in order of their keys.
/// Returns the fault, empty when all is well.
[[nodiscard]] std::string set_row(State& s, const RowKey& key, std::string_view body);

/// What differs between two bodies of one row, in words: "mass_g 5000 is 1000".
[[nodiscard]] std::string difference_of(const std::string& found, const std::string& right);

/// Ids as a JSON list and back, for what an undo took back too; nothing when the text is damaged.
[[nodiscard]] std::string ids_text(const std::vector<Id>& ids);
[[nodiscard]] std::optional<std::vector<Id>> ids_from_text(std::string_view text);

}  // namespace stillroom::ledger::detail
