#include "measure/detail/reading.h"

#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "measure/detail/numbers.h"
#include "measure/detail/units.h"
#include "measure/text.h"

namespace stillroom::measure::detail {

namespace {

/// One vessel of a stated size, how many of them being read elsewhere.
struct Sized {
  Amount one;
  bool plural = false;
  bool hyphen = false;
};

tl::unexpected<Refusal> sizes_unclear() {
  return refuse("ambiguous_unit", "It is not clear how many there are and how large each is.",
                {"Write how many first: 3 five-gallon buckets, 2 50-lb bags, 6 half-pint jars."});
}

bool has_hyphen(Cursor from, const Cursor& to) {
  for (; from.at() < to.at(); from.skip()) {
    if (from.is_sign("-")) return true;
  }
  return false;
}

/// "five-gallon bucket", "4-quart basket", "half-pint jar", "50 lb bag"; nothing and unmoved when it is none.
std::optional<Sized> read_sized(Cursor& cursor) {
  Cursor here = cursor;
  const bool half = here.is_word("half") || here.is_kind(TokenKind::fraction);
  const bool size_first = here.is_kind(TokenKind::number) || number_word(here.peek().text).has_value();
  const auto named = half || size_first ? read_unit(here) : std::nullopt;
  if (named && !named->key.empty() && (size_first || named->kind == AmountKind::count)) {
    const bool hyphen = has_hyphen(cursor, here);
    cursor = here;
    return Sized{{.kind = named->kind, .value = 1, .container = named->key}, named->plural, hyphen};
  }
  here = cursor;
  const auto size = read_number(here);
  if (!size || !*size || (*size)->article) return std::nullopt;
  here.take_sign("-");
  const auto unit = read_unit(here);
  if (!unit || (unit->kind != AmountKind::mass && unit->kind != AmountKind::volume)) return std::nullopt;
  here.take_sign("-");
  if (!is_sizeable(here.peek().text)) return std::nullopt;
  const bool plural_form = here.peek().text.ends_with('s');
  here.skip();
  const bool hyphen = has_hyphen(cursor, here);
  cursor = here;
  return Sized{{.kind = unit->kind, .value = (*size)->value * unit->factor}, plural_form, hyphen};
}

/// A sized vessel with no number before it: one, unless its plural leaves the number open.
Result<std::optional<Amount>> read_single_sized(Cursor& cursor) {
  Cursor here = cursor;
  if (!here.take_word("an")) here.take_word("a");
  const auto sized = read_sized(here);
  if (!sized) return std::nullopt;
  // "four quart baskets" are four baskets of a quart: the ordinary reading.
  if (sized->plural && !sized->hyphen && sized->one.kind == AmountKind::container &&
      sized->one.container != "five_gallon_bucket") {
    return std::nullopt;
  }
  if (sized->plural) return sizes_unclear();
  cursor = here;
  return sized->one;
}

/// Unit behind a number, doubtful letters settled.
Result<std::optional<Unit>> settled_unit(Cursor& cursor, const Wanted& wanted) {
  Cursor here = cursor;
  here.take_sign("-");
  auto unit = read_unit(here);
  if (!unit) return std::nullopt;
  if (unit->doubtful && wanted.kind == AmountKind::volume) {
    unit = Unit{.kind = AmountKind::volume, .factor = us_cups(1).si()};
  } else if (unit->doubtful && wanted.kind != AmountKind::temperature) {
    return refuse("ambiguous_unit", "A small c may mean cups or degrees Celsius.", {"Write cups, or °C."});
  }
  if (wanted.kind == AmountKind::duration && cursor.is_word("m")) {
    unit = Unit{.kind = AmountKind::duration, .factor = 60};
  }
  cursor = here;
  return unit;
}

/// Factor of the usual unit of a kind, for a number that stands alone.
std::optional<Unit> usual_unit(const Wanted& wanted) {
  if (!wanted.kind) return std::nullopt;
  const bool us = wanted.units == Units::us;
  switch (*wanted.kind) {
    case AmountKind::mass:
      return Unit{.kind = AmountKind::mass, .factor = us ? kKilogramsPerPound : 1};
    case AmountKind::volume:
      return Unit{.kind = AmountKind::volume, .factor = us ? us_quarts(1).si() : 0.001};
    case AmountKind::temperature:
      return us ? Unit{.kind = AmountKind::temperature, .factor = 1 / 1.8, .offset = 273.15 - 32 / 1.8}
                : Unit{.kind = AmountKind::temperature, .offset = 273.15};
    case AmountKind::altitude:
      return Unit{.kind = AmountKind::altitude, .factor = us ? 0.3048 : 1};
    case AmountKind::duration:
      return Unit{.kind = AmountKind::duration, .factor = 60};
    case AmountKind::container:
    case AmountKind::count:
      return std::nullopt;
  }
  return std::nullopt;
}

/// How many of the first unit one of the second is, where both may stand in one amount: "1 bushel 2 pecks".
std::optional<double> part_of(const Unit& large, const Unit& small) {
  if (large.kind != small.kind) return std::nullopt;
  if (large.key == "bushel" && small.key == "peck") return 0.25;
  const bool adds =
      large.kind == AmountKind::mass || large.kind == AmountKind::volume || large.kind == AmountKind::duration;
  if (!adds || small.factor >= large.factor) return std::nullopt;
  return small.factor / large.factor;
}

/// One smaller part behind a unit: "6 oz" after "84 lb", a closing "20" after "1 h", "and a half" after "a pound".
struct Part {
  double of_whole = 0;       ///< in the unit before it
  std::optional<Unit> unit;  ///< of the part, when a still smaller one may follow
};

std::optional<Part> read_part(Cursor& cursor, const Unit& whole) {
  Cursor here = cursor;
  if (here.take_word("and")) {
    Cursor after = here;
    const auto fraction = read_fraction(after);
    Cursor unit_behind = after;
    if (fraction && !read_unit(unit_behind)) {
      cursor = after;
      return Part{.of_whole = *fraction};
    }
  }
  const auto number = read_number(here);
  if (!number || !*number || (*number)->negative) return std::nullopt;
  const double n = (*number)->value;
  const bool hours = whole.kind == AmountKind::duration && whole.factor == 3600;
  if (hours && n < 60 && (here.done() || here.is_word("m"))) {
    here.take_word("m");
    cursor = here;
    return Part{.of_whole = n / 60};
  }
  const auto unit = read_unit(here);
  const auto share = unit ? part_of(whole, *unit) : std::nullopt;
  // "2 lb 20 oz" is more likely two amounts than one.
  if (!share || n * *share >= 1) return std::nullopt;
  cursor = here;
  return Part{.of_whole = n * *share, .unit = unit};
}

/// Everything that follows a number and its unit, in that unit: "2 days 3 h 5 min" gives what is behind the days.
double read_parts(Cursor& cursor, const Unit& whole) {
  const auto part = read_part(cursor, whole);
  if (!part) return 0;
  if (!part->unit) return part->of_whole;
  return part->of_whole + read_parts(cursor, *part->unit) * part->unit->factor / whole.factor;
}

/// "a few", "a lot of", "a little": an article, but no number.
bool is_vague(const Cursor& cursor) {
  for (const auto word : {"few", "lot", "little", "bit", "load", "pile", "handful"}) {
    if (cursor.is_word(word)) return true;
  }
  return false;
}

/// The unit and what may follow it, for a number that has been read.
Result<std::optional<Amount>> with_unit(Cursor& here, const NumberRead& number, Unit unit) {
  const double n = number.value + read_parts(here, unit);
  Cursor after = here;
  if ((after.take_sign("-") || after.take_word("to") || after.take_word("or")) && after.is_kind(TokenKind::number)) {
    return refuse("amount_range", "Two amounts stand there, from one to another.",
                  {"Write one amount, such as the middle of the two."});
  }
  const bool measured = unit.kind == AmountKind::mass || unit.kind == AmountKind::volume;
  const auto& next = here.peek().text;
  if (measured && (is_sizeable(next) || next == "jar" || next == "jars")) return sizes_unclear();
  return Amount{.kind = unit.kind, .value = n * unit.factor + unit.offset, .container = std::move(unit.key)};
}

Result<std::optional<Amount>> with_unit_or_alone(Cursor& here, const NumberRead& number, const Wanted& wanted) {
  const bool hyphen = here.is_sign("-");
  const auto unit = settled_unit(here, wanted);
  if (!unit) return tl::unexpected(unit.error());
  if (*unit) {
    // "6 1/2-pint jars" are six of half a pint, which the number has swallowed.
    if (hyphen && !(*unit)->key.empty() && std::floor(number.value) != number.value) return sizes_unclear();
    return with_unit(here, number, **unit);
  }
  if (wanted.kind == AmountKind::temperature) take_degrees(here);
  const auto usual = here.done() ? usual_unit(wanted) : std::nullopt;
  return with_unit(here, number, usual.value_or(Unit{}));
}

std::optional<Refusal> not_believable(const Amount& amount) {
  const auto [least, most] = believable(amount.kind);
  if (amount.value >= least && amount.value <= most) return std::nullopt;
  Amount bound = amount;
  bound.value = amount.value > most ? most : least;
  bound.about = false;
  return Refusal{.code = "absurd_amount",
                 .message = fmt::format("That is {} than {}, which no household has.",
                                        amount.value > most ? "more" : "less", say(bound, Units::us)),
                 .instead = {"Look at the number and its unit again."}};
}

}  // namespace

Result<std::optional<Amount>> read_amount(Cursor& cursor, Wanted wanted) {
  Cursor here = cursor;
  auto amount = read_single_sized(here);
  if (!amount) return amount;
  if (!*amount) {
    const auto number = read_number(here);
    if (!number) return tl::unexpected(number.error());
    if (!*number || ((*number)->article && is_vague(here))) return std::nullopt;
    if (const auto sized = read_sized(here)) {
      amount = sized->one;
      (*amount)->value *= (*number)->value;
    } else {
      amount = with_unit_or_alone(here, **number, wanted);
    }
    if (!amount) return amount;
    (*amount)->about = (*number)->about;
    const auto kind = (*amount)->kind;
    if ((*number)->negative && kind != AmountKind::temperature && kind != AmountKind::altitude) {
      return refuse("negative_amount", "An amount cannot be less than nothing.", {"Leave the minus sign away."});
    }
  }
  if (auto refusal = not_believable(**amount)) return tl::unexpected(*std::move(refusal));
  cursor = here;
  return amount;
}

}  // namespace stillroom::measure::detail
