#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "measure/result.h"

namespace stillroom::almanac {

/// What a person saw when the lot was last looked at, from least to most mature.
enum class Condition { underripe, firm, ripe, soft, going_over };
[[nodiscard]] std::string_view to_word(Condition c);  // "going over"
[[nodiscard]] std::optional<Condition> condition_from_word(std::string_view word);
inline constexpr int kConditions = 5;

enum class CropKind {
  fruit,
  vegetable,
  root,
  leaf,
  herb,
  legume,
  nut,
  mushroom,
  poultry,
  meat,
  fish,
  egg,
  dairy,
  other
};
[[nodiscard]] std::string_view to_word(CropKind kind);

/// One row of data/crops.csv; every other table joins to `key`. A variety has a row of its own ("squash_winter/acorn").
struct Crop {
  std::string key;   ///< "pear_european", "squash_winter/acorn"
  std::string name;  ///< as said: "pear", "acorn squash"
  std::string plural;
  CropKind kind = CropKind::other;
  std::vector<std::string> aliases;
  std::string parent;              ///< key of the crop this is a variety of, or empty
  std::string borrow_from;         ///< key whose keeping figures stand in where this crop has none, or empty
  bool stands_for_parent = false;  ///< answers where only the parent is named and the parent has no row of its own
  bool foraged = false;            ///< shows "be certain what it is"
  bool animal = false;             ///< hazard clocks, never a ripeness model
  double density_kg_per_l = 0.6;   ///< heaped, for baskets by eye; common practice unless `source` says more
  std::string source;
};

/// The crop list with name look-up.
class Crops {
 public:
  explicit Crops(std::vector<Crop> rows);
  [[nodiscard]] const std::vector<Crop>& all() const { return rows_; }
  /// By key; nullptr when unknown.
  [[nodiscard]] const Crop* find(std::string_view key) const;
  /// By anything a person types (key, name, plural, alias; any case; "acorn squash" before "squash").
  /// Refuses (code "unknown_crop") with up to three near names in `instead`.
  [[nodiscard]] measure::Result<const Crop*> named(std::string_view typed) const;
  /// True when `key` is `ancestor` or one of its varieties.
  [[nodiscard]] bool is_a(std::string_view key, std::string_view ancestor) const;

 private:
  std::vector<Crop> rows_;
  std::vector<std::size_t> by_key_;  ///< positions in rows_, by key: find() is asked often
};

/// Reads and validates a crop list. Refuses (code "bad_table") unknown kinds and parents, circles, densities outside
/// 0.01 to 2 kg per litre, and a name that means two crops.
[[nodiscard]] measure::Result<Crops> read_crops(std::string file, std::string_view text);
/// The compiled-in data/crops.csv.
[[nodiscard]] measure::Result<Crops> load_crops();

}  // namespace stillroom::almanac
