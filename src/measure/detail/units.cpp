#include "measure/detail/units.h"

#include <algorithm>
#include <array>
#include <map>
#include <utility>

#include "measure/detail/numbers.h"
#include "measure/text.h"

namespace stillroom::measure::detail {

namespace {

// US dry measure: the bushel is 2150.42 in3, the inch 25.4 mm (NIST Handbook 44, appendix C).
constexpr double kCubicMetresPerCubicInch = 0.0254 * 0.0254 * 0.0254;
constexpr double kBushel = 2150.42 * kCubicMetresPerCubicInch;
constexpr double kCubicFoot = 1728 * kCubicMetresPerCubicInch;

struct Row {
  AmountKind kind;
  double factor;
  double offset;
  std::string_view spellings;  // words separated by '|'
};

constexpr double kGallon = kCubicMetresPerUsGallon;
constexpr std::array kPhysical = std::to_array<Row>({
    {AmountKind::mass, kKilogramsPerPound, 0, "lb|lbs|pound|pounds"},
    {AmountKind::mass, kKilogramsPerPound / 16, 0, "oz|ounce|ounces"},
    {AmountKind::mass, 1, 0, "kg|kgs|kilo|kilos|kilogram|kilograms|kilogramme|kilogrammes"},
    {AmountKind::mass, 0.001, 0, "g|gm|gram|grams|gramme|grammes"},
    {AmountKind::volume, kGallon, 0, "gal|gals|gallon|gallons"},
    {AmountKind::volume, kGallon / 2, 0, "half gal|half gallon|half gallons"},
    {AmountKind::volume, kGallon / 4, 0, "qt|qts|quart|quarts"},
    {AmountKind::volume, kGallon / 8, 0, "pt|pts|pint|pints"},
    {AmountKind::volume, kGallon / 16, 0, "half pt|half pint|half pints|cup|cups"},
    {AmountKind::volume, kGallon / 128, 0, "fl oz|fluid oz|fluid ounce|fluid ounces"},
    {AmountKind::volume, kGallon / 256, 0, "tbsp|tbs|tablespoon|tablespoons"},
    {AmountKind::volume, kGallon / 768, 0, "tsp|teaspoon|teaspoons"},
    {AmountKind::volume, kCubicFoot, 0, "cu ft|cubic foot|cubic feet"},
    {AmountKind::volume, 0.001, 0, "l|liter|liters|litre|litres"},
    {AmountKind::volume, 0.0001, 0, "dl"},
    {AmountKind::volume, 1e-6, 0, "ml|milliliter|milliliters|millilitre|millilitres"},
    {AmountKind::temperature, 1, 273.15, "celsius|centigrade"},
    {AmountKind::temperature, 1 / 1.8, 273.15 - 32 / 1.8, "f|fahrenheit"},
    {AmountKind::altitude, 0.3048, 0, "ft|foot|feet"},
    {AmountKind::altitude, 1, 0, "m|meter|meters|metre|metres"},
    {AmountKind::duration, 1, 0, "s|sec|secs|second|seconds"},
    {AmountKind::duration, 60, 0, "min|mins|minute|minutes"},
    {AmountKind::duration, 3600, 0, "h|hr|hrs|hour|hours"},
    {AmountKind::duration, 86400, 0, "d|day|days"},
    {AmountKind::duration, 7 * 86400, 0, "wk|wks|week|weeks"},
    {AmountKind::duration, kSecondsPerYear / 12, 0, "month|months"},
    {AmountKind::duration, kSecondsPerYear, 0, "yr|yrs|year|years"},
});

struct Vessel {
  AmountKind kind;
  std::string_view key;
  std::string_view spellings;  // singular
  double cubic_metres;         // 0: no fixed size
};
constexpr AmountKind kContainer = AmountKind::container;
constexpr AmountKind kCount = AmountKind::count;
constexpr std::array kVessels = std::to_array<Vessel>({
    {kContainer, "bushel", "bu|bushel|bushel basket|bushel box|bushel crate", kBushel},
    {kContainer, "half_bushel", "half bu|half bushel|half bushel basket|half bushel bag", kBushel / 2},
    {kContainer, "peck", "pk|peck|peck basket|peck bag", kBushel / 4},
    {kContainer, "five_gallon_bucket", "bucket|pail|five gallon bucket|five gal bucket|five gallon pail|five gal pail",
     5 * kGallon},
    {kContainer, "pint_basket", "pint basket|pint box|pt basket|pt box", kBushel / 64},
    {kContainer, "quart_basket", "quart basket|quart box|qt basket|qt box", kBushel / 32},
    {kContainer, "two_quart_basket", "two quart basket|two qt basket", kBushel / 16},
    {kContainer, "four_quart_basket", "four quart basket|four qt basket", kBushel / 8},
    {kContainer, "twelve_quart_basket", "twelve quart basket|twelve qt basket", kBushel * 3 / 8},
    {kContainer, "flat_12_pint", "twelve pint flat", 0},
    {kContainer, "flat", "flat", 0},
    {kContainer, "lug", "lug", 0},
    {kContainer, "crate", "crate", 0},
    {kContainer, "box", "box", 0},
    {kContainer, "basket", "basket", 0},
    {kContainer, "carton", "carton", 0},
    {kCount, "half_pint_jar", "half pint jar|half pt jar", 0},
    {kCount, "pint_jar", "pint jar|pt jar", 0},
    {kCount, "quart_jar", "quart jar|qt jar", 0},
    {kCount, "half_gallon_jar", "half gallon jar|half gal jar", 0},
    {kCount, "jar", "jar", 0},
    {kCount, "bag", "bag", 0},
    {kCount, "sack", "sack", 0},
    {kCount, "pack", "pack|package|packet", 0},
    {kCount, "can", "can", 0},
    {kCount, "bottle", "bottle", 0},
    {kCount, "crock", "crock", 0},
    {kCount, "tray", "tray", 0},
    {kCount, "loaf", "loaf", 0},
    {kCount, "head", "head", 0},
    {kCount, "bunch", "bunch", 0},
    {kCount, "ear", "ear", 0},
    {kCount, "piece", "piece", 0},
});

using UnitMap = std::map<std::string, Unit, std::less<>>;

/// Calls `use(spelling)` for each part between '|'.
template <class Use>
void each_spelling(std::string_view spellings, Use use) {
  while (!spellings.empty()) {
    const std::size_t bar = std::min(spellings.find('|'), spellings.size());
    use(std::string(spellings.substr(0, bar)));
    spellings.remove_prefix(std::min(bar + 1, spellings.size()));
  }
}

UnitMap make_units() {
  UnitMap out;
  for (const auto& row : kPhysical) {
    each_spelling(row.spellings, [&](const std::string& s) {
      out[s] = Unit{.kind = row.kind, .factor = row.factor, .offset = row.offset};
    });
  }
  out["c"] = Unit{.kind = AmountKind::temperature, .offset = 273.15, .doubtful = true};
  for (const auto& vessel : kVessels) {
    each_spelling(vessel.spellings, [&](const std::string& s) {
      Unit unit{.kind = vessel.kind, .key = std::string(vessel.key)};
      out[s] = unit;
      unit.plural = true;
      out[plural(s)] = unit;
    });
  }
  return out;
}

const UnitMap& units() {
  static const UnitMap kUnits = make_units();
  return kUnits;
}

/// A token as one word of a unit phrase: sizes in digits become words. Empty when it cannot be part of one.
std::string phrase_word(const Token& token) {
  if (token.kind == TokenKind::word) return token.text;
  constexpr std::array<std::pair<std::string_view, std::string_view>, 5> kSizes = {
      {{"2", "two"}, {"4", "four"}, {"5", "five"}, {"12", "twelve"}, {"½", "half"}}};
  for (const auto& [digits, word] : kSizes) {
    if (token.text == digits) return std::string(word);
  }
  return {};
}

}  // namespace

bool take_degrees(Cursor& cursor) {
  return cursor.take_sign("°") || cursor.take_word("degrees") || cursor.take_word("degree") || cursor.take_word("deg");
}

std::optional<Unit> read_unit(Cursor& cursor) {
  Cursor here = cursor;
  const bool degrees = take_degrees(here);
  std::optional<Unit> best;
  Cursor behind = here;
  std::string phrase;
  for (int word = 0; word < 4; ++word) {
    if (word > 0) here.take_sign("-");
    const bool capital = here.peek().capital;
    const std::string next = phrase_word(here.peek());
    if (next.empty()) break;
    here.skip();
    phrase += (phrase.empty() ? "" : " ") + next;
    here.take_sign(".");
    const auto found = units().find(phrase);
    if (found == units().end()) continue;
    best = found->second;
    if (capital) best->doubtful = false;
    behind = here;
  }
  if (degrees && best && best->kind != AmountKind::temperature) return std::nullopt;
  if (!best) return best;
  if (degrees) best->doubtful = false;
  cursor = behind;
  return best;
}

bool is_sizeable(std::string_view word) {
  constexpr std::array<std::string_view, 20> kSizeable = {
      "bag",  "sack",  "box",   "crate",  "bucket",  "pail",  "basket",  "carton",  "lug",  "pack",
      "bags", "sacks", "boxes", "crates", "buckets", "pails", "baskets", "cartons", "lugs", "packs"};
  return std::find(kSizeable.begin(), kSizeable.end(), word) != kSizeable.end();
}

std::vector<std::string> unit_spellings() {
  std::vector<std::string> out;
  for (const auto& [spelling, unit] : units()) {
    if (spelling.size() > 2) out.push_back(spelling);
  }
  return out;
}

}  // namespace stillroom::measure::detail

namespace stillroom::measure {

const std::vector<std::string>& container_keys() {
  static const std::vector<std::string> kKeys = [] {
    std::vector<std::string> keys;
    for (const auto& vessel : detail::kVessels) {
      if (vessel.kind == AmountKind::container) keys.emplace_back(vessel.key);
    }
    return keys;
  }();
  return kKeys;
}

std::optional<Volume> container_volume(std::string_view key) {
  for (const auto& vessel : detail::kVessels) {
    if (vessel.key == key && vessel.cubic_metres > 0) return Volume::from_si(vessel.cubic_metres);
  }
  return std::nullopt;
}

}  // namespace stillroom::measure
