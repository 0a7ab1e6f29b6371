#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "measure/quantity.h"
#include "measure/result.h"

/// Reading amounts the way people write them: "84 lb 6 oz", "1½ pecks", "half a basket", "a dozen", "38 C".
/// Knows units and containers, nothing about food. What a container of some crop weighs is the almanac's business.
namespace stillroom::measure {

/// The units of the household. Both are always understood when typed; this decides how numbers are said, and which
/// unit a bare number has where the kind is known.
enum class Units { us, metric };

enum class AmountKind { mass, volume, container, count, temperature, altitude, duration };

/// One amount as said. `value` is SI for its kind (kg, m3, K, m above sea level, s), the number of containers, or the
/// number of things.
struct Amount {
  AmountKind kind = AmountKind::count;
  double value = 0;
  /// Kind container: a key such as "bushel", "half_bushel", "peck", "five_gallon_bucket", "quart_basket", "flat",
  /// "lug", "crate", "box", "basket" (container_keys()). Kind count: what is counted, singular, as a key: "jar",
  /// "quart_jar", "bag", "head", or empty for the thing itself. Empty for the other kinds.
  std::string container;
  bool about = false;  ///< said with "about" or "~"
  std::string said;    ///< as typed, trimmed
  bool operator==(const Amount&) const = default;

  /// Each only when `kind` matches (asserted).
  [[nodiscard]] Mass mass() const;
  [[nodiscard]] Volume volume() const;
  [[nodiscard]] Temperature temperature() const;
  [[nodiscard]] Altitude altitude() const;
  [[nodiscard]] Duration duration() const;
};

/// Reads one whole amount. Understood: digits with thousands commas, decimals with a point, fractions (1 1/2, 1½, ½),
/// number words to twenty, tens, dozen, hundred, "a", "half a", "three quarters of a", "a pound and a half"; a unit;
/// a second smaller part of the same kind ("84 lb 6 oz", "1 h 20 min", "1 bushel 2 pecks").
/// A bucket with no size said is the five-gallon one (common practice).
///
/// Refusals: "no_amount" (no number in it), "bad_number" (decimal comma, 1/0, two points, too many digits),
/// "negative_amount" (only temperature and altitude may be below zero), "amount_range" ("10-12 lb"),
/// "too_long" (200 bytes), "unknown_unit", "ambiguous_unit" ("2 c", "5 gallon buckets"), "absurd_amount" (outside
/// believable(kind)).
[[nodiscard]] Result<Amount> parse_amount(std::string_view text);

/// As parse_amount where the kind is known: a bare number takes the household's usual unit (lb or kg, qt or L, °F or
/// °C, ft or m; duration: minutes) and "c" may mean Celsius. Another kind is refused with code "wrong_kind".
[[nodiscard]] Result<Amount> parse_amount_as(std::string_view text, AmountKind wanted, Units units);

/// Smallest and largest believable value of a kind, in the unit of Amount::value. Mass to 10 t, volume to 20 m3,
/// 1,000 containers, 100,000 things, -80 to 400 degC, -430 to 6,000 m, 3 years.
struct Span {
  double least = 0, most = 0;
};
[[nodiscard]] Span believable(AmountKind kind);

/// Every container key parse_amount can give.
[[nodiscard]] const std::vector<std::string>& container_keys();

/// What a container holds by its own size, level full: bushel (2150.42 in3), half bushel, peck, dry quart and pint
/// baskets, bucket (5 US gal). Nothing for those that have no fixed size (basket, box, crate, lug, flat).
[[nodiscard]] std::optional<Volume> container_volume(std::string_view key);

}  // namespace stillroom::measure
