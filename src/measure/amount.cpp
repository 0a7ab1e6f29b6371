#include "measure/amount.h"

#include <fmt/format.h>

#include <cassert>
#include <cmath>

#include "measure/detail/reading.h"
#include "measure/detail/units.h"
#include "measure/text.h"

namespace stillroom::measure {

namespace {

constexpr std::size_t kLongestAmount = 200;  // bytes

std::string_view kind_words(AmountKind kind) {
  switch (kind) {
    case AmountKind::mass:
      return "a weight";
    case AmountKind::volume:
      return "a volume";
    case AmountKind::container:
      return "a number of baskets, boxes or buckets";
    case AmountKind::count:
      return "a number";
    case AmountKind::temperature:
      return "a temperature";
    case AmountKind::altitude:
      return "an altitude";
    case AmountKind::duration:
      return "a length of time";
  }
  return "an amount";
}

std::string_view kind_example(AmountKind kind) {
  switch (kind) {
    case AmountKind::mass:
      return "84 lb 6 oz or 38 kg";
    case AmountKind::volume:
      return "7 qt or 2.5 L";
    case AmountKind::container:
      return "2 bushels or half a basket";
    case AmountKind::count:
      return "12 jars";
    case AmountKind::temperature:
      return "100 °F or 38 °C";
    case AmountKind::altitude:
      return "2,900 ft or 880 m";
    case AmountKind::duration:
      return "1 h 20 min";
  }
  return "2 bushels";
}

std::string quoted(std::string_view text) { return fmt::format("'{}'", text.substr(0, 60)); }

tl::unexpected<Refusal> unknown_unit(std::string_view rest) {
  std::vector<std::string> instead;
  for (const auto& near : suggest(rest, detail::unit_spellings())) {
    instead.push_back(fmt::format("Did you mean {}?", quoted(near)));
  }
  instead.emplace_back("Use lb, oz, kg, g, qt, L, bushel, peck, basket, box, jars, °F, °C, ft, m, h or min.");
  return refuse("unknown_unit", fmt::format("{} is not a unit or container that is known here.", quoted(rest)),
                std::move(instead));
}

Result<Amount> whole_amount(std::string_view text, const detail::Wanted& wanted) {
  const std::string_view said = detail::trimmed(text);
  if (said.size() > kLongestAmount) {
    return refuse("too_long", "That is too long to be one amount.",
                  {fmt::format("Write it like {}.", kind_example(wanted.kind.value_or(AmountKind::container)))});
  }
  const auto tokens = detail::tokens_of(said);
  detail::Cursor cursor(tokens);
  auto amount = detail::read_amount(cursor, wanted);
  if (!amount) return tl::unexpected(amount.error());
  if (!*amount) {
    return refuse("no_amount", fmt::format("{} has no number in it.", said.empty() ? "That" : quoted(said)),
                  {fmt::format("Write it like {}.", kind_example(wanted.kind.value_or(AmountKind::container)))});
  }
  if (!cursor.done()) return unknown_unit(said.substr(cursor.peek().begin));
  Amount out = **std::move(amount);
  out.said = std::string(said);
  return out;
}

}  // namespace

Mass Amount::mass() const {
  assert(kind == AmountKind::mass);
  return Mass::from_si(value);
}

Volume Amount::volume() const {
  assert(kind == AmountKind::volume);
  return Volume::from_si(value);
}

Temperature Amount::temperature() const {
  assert(kind == AmountKind::temperature);
  return Temperature::kelvin(value);
}

Altitude Amount::altitude() const {
  assert(kind == AmountKind::altitude);
  return Altitude::metres(value);
}

Duration Amount::duration() const {
  assert(kind == AmountKind::duration);
  return Duration::from_si(value);
}

Result<Amount> parse_amount(std::string_view text) { return whole_amount(text, {}); }

Result<Amount> parse_amount_as(std::string_view text, AmountKind wanted, Units units) {
  auto amount = whole_amount(text, {.kind = wanted, .units = units});
  if (amount && amount->kind != wanted) {
    return refuse(
        "wrong_kind",
        fmt::format("{} is {}; {} is wanted here.", quoted(amount->said), kind_words(amount->kind), kind_words(wanted)),
        {fmt::format("Write it like {}.", kind_example(wanted))});
  }
  return amount;
}

Span believable(AmountKind kind) {
  switch (kind) {
    case AmountKind::mass:
      return {0, 10'000};
    case AmountKind::volume:
      return {0, 20};
    case AmountKind::container:
      return {0, 1'000};
    case AmountKind::count:
      return {0, 100'000};
    case AmountKind::temperature:
      return {193.15, 673.15};
    case AmountKind::altitude:
      return {-430, 6'000};
    case AmountKind::duration:
      return {0, 3 * detail::kSecondsPerYear};
  }
  return {};
}

}  // namespace stillroom::measure
