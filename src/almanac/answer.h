#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "almanac/crops.h"
#include "measure/result.h"

/// How a published figure is answered: the rows, which crop they speak of, and how surely they are known.
namespace stillroom::almanac {

/// How far a figure can be leaned on; the `checked` cell of every table (data/README.md).
enum class Sureness { read, partial, derived, derived_from_memory, from_memory, common_practice };
/// "read in the source", "from memory, not re-read", "common practice", ...
[[nodiscard]] std::string_view to_phrase(Sureness s);
/// "yes", "partial", "derived", "derived_memory", "memory", "common": the word of the tables.
[[nodiscard]] std::string_view to_code(Sureness s);
[[nodiscard]] std::optional<Sureness> sureness_from_code(std::string_view code);
/// The one less to be leaned on.
[[nodiscard]] Sureness weaker(Sureness a, Sureness b);

/// Source of one row. `row` counts from 1 below the header of its file.
struct Provenance {
  std::string source;
  Sureness checked = Sureness::common_practice;
  int row = 0;
};

/// Two ends of a published figure; low <= high. A single printed value has both equal.
struct Span {
  double low = 0, high = 0;
  bool operator==(const Span&) const = default;
  /// Geometric mean, the middle of a life or a rate; the arithmetic one when an end is not above zero.
  [[nodiscard]] double middle() const;
};

/// How the crop of the rows found is related to the crop asked for.
enum class Kin { own, stands_for, borrowed, parent };

/// One key to look under, nearest first, and the words for it.
struct KinKey {
  std::string key;
  Kin kin = Kin::own;
};
/// Where to look for a crop's figures: its own rows, the variety that stands for it, the crop it borrows from, its
/// parent (and again theirs). No key twice. Empty for an unknown key.
[[nodiscard]] std::vector<KinKey> kin_of(const Crops& crops, std::string_view key);

/// Rows of one table for one crop, all of the same key.
template <class Row>
struct Found {
  std::vector<const Row*> rows;  ///< never empty, in the table's order
  std::string crop;              ///< key the rows speak of
  Kin kin = Kin::own;
  std::string from;  ///< in words: "for peach, borrowed for nectarine"
  [[nodiscard]] const Row& first() const { return *rows.front(); }
};

/// The `from` sentence: which crop's row it is and why it answers.
[[nodiscard]] std::string from_words(const Crops& crops, std::string_view asked, const KinKey& found);

/// Code "no_published_value": no row for the crop, nor for a crop that may stand in.
[[nodiscard]] measure::Refusal no_published_value(const Crops& crops, std::string_view key, std::string_view what);

[[nodiscard]] inline bool speaks_of(const std::string& cell, std::string_view key) { return cell == key; }
[[nodiscard]] bool speaks_of(const std::vector<std::string>& cell, std::string_view key);

/// Rows for `key` under the nearest kin that has any. `crop_of` gives a row's crop cell (one key or several).
template <class Row, class CropOf>
[[nodiscard]] measure::Result<Found<Row>> rows_for(const Crops& crops, const std::vector<Row>& table,
                                                   std::string_view key, std::string_view what, CropOf crop_of) {
  for (const auto& k : kin_of(crops, key)) {
    Found<Row> found{.rows = {}, .crop = k.key, .kin = k.kin, .from = {}};
    for (const auto& row : table) {
      if (speaks_of(crop_of(row), k.key)) found.rows.push_back(&row);
    }
    if (found.rows.empty()) continue;
    found.from = from_words(crops, key, k);
    return found;
  }
  return tl::unexpected(no_published_value(crops, key, what));
}

}  // namespace stillroom::almanac
