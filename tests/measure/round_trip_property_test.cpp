#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "measure/amount.h"
#include "measure/id.h"
#include "measure/line.h"
#include "measure/text.h"
#include "measure/time.h"

namespace stillroom::measure {
namespace {

/// A number from 10^low to 10^high, every order of magnitude equally likely.
double scale_free(double low, double high) {
  const int step = *rc::gen::inRange(0, 1'000'001);
  return std::pow(10.0, low + (high - low) * step / 1e6);
}

Units any_units() { return *rc::gen::element(Units::us, Units::metric); }

/// Printing in `detail` and reading back loses at most `share` of the value plus `fixed`.
void comes_back(const Amount& amount, Units units, Detail detail, double share, double fixed) {
  const std::string words = say(amount, units, detail);
  const auto read = parse_amount(words);
  RC_LOG() << words;
  RC_ASSERT(read.has_value());
  RC_ASSERT(read->kind == amount.kind);
  RC_ASSERT(std::abs(read->value - amount.value) <= share * amount.value + fixed);
}

RC_GTEST_PROP(RoundTrip, MassIsReadBackAsPrinted, ()) {
  const Amount amount{.kind = AmountKind::mass, .value = scale_free(-2.5, 3.9)};
  const Units units = any_units();
  comes_back(amount, units, Detail::exact, 0, units == Units::us ? 0.0015 : 0.00051);  // half of 0.1 oz; of 1 g
  comes_back(amount, units, Detail::rounded, 0.0626, 0.0036);  // 8 oz to the ounce; an eighth of an ounce
}

RC_GTEST_PROP(RoundTrip, VolumeIsReadBackAsPrinted, ()) {
  const Amount amount{.kind = AmountKind::volume, .value = scale_free(-5.5, 1.2)};
  comes_back(amount, any_units(), Detail::exact, 0.012, 5e-7);
  comes_back(amount, any_units(), Detail::rounded, 0.13, 1.5e-5);  // an eighth of a quart; of a cup below
}

RC_GTEST_PROP(RoundTrip, TemperatureAndHeightAreReadBackAsPrinted, ()) {
  const Units units = any_units();
  const Amount warm{.kind = AmountKind::temperature, .value = 194 + *rc::gen::inRange(0, 470'000) / 1000.0};
  comes_back(warm, units, Detail::exact, 0, 0.0501);
  comes_back(warm, units, Detail::rounded, 0, 0.501);
  const Amount high{.kind = AmountKind::altitude, .value = *rc::gen::inRange(0, 5'999'000) / 1000.0};
  comes_back(high, units, Detail::rounded, 0, 0.501);
}

RC_GTEST_PROP(RoundTrip, DurationIsReadBackAsPrinted, ()) {
  const Amount amount{.kind = AmountKind::duration, .value = scale_free(1, 7.5)};
  comes_back(amount, Units::us, Detail::exact, 0, 0.501);
  comes_back(amount, Units::us, Detail::rounded, 0.35, 31);  // 15 days are "about 2 weeks", 1.5 months "about 2 months"
}

RC_GTEST_PROP(RoundTrip, ContainersAreReadBackExactly, ()) {
  const auto key = *rc::gen::elementOf(container_keys());
  const Amount amount{.kind = AmountKind::container, .value = *rc::gen::inRange(1, 400) / 4.0, .container = key};
  const std::string words = say(amount, Units::us);
  RC_LOG() << words;
  const auto read = parse_amount(words);
  RC_ASSERT(read.has_value());
  RC_ASSERT(read->kind == AmountKind::container);
  RC_ASSERT(read->container == key);
  RC_ASSERT(std::abs(read->value - amount.value) < 1e-9);
}

RC_GTEST_PROP(RoundTrip, ALineKeepsItsPieces, ()) {
  const auto word =
      rc::gen::nonEmpty(rc::gen::container<std::string>(rc::gen::elementOf(std::string("bcdfghjklpqrs"))));
  const std::string thing = *word + " " + *word;
  const std::string remark = *word;
  const auto parts = parse_line("12 kg " + thing + ", " + remark);
  RC_ASSERT(parts.has_value());
  RC_ASSERT(parts->amount.has_value());
  RC_ASSERT(parts->amount->kind == AmountKind::mass);
  RC_ASSERT(parts->phrases.size() <= 1u);
}

RC_GTEST_PROP(AnyText, IsReadOrRefusedWithAReason, (const std::string& noise)) {
  const auto pieces = *rc::gen::container<std::vector<std::string>>(
      rc::gen::element<std::string>("1", "2,900", "1/2", "½", "-", "a", "half", "of", "and", "bushel", "lb", "oz", "5",
                                    "gallon", "buckets", "c", "°", "to", ",", "dozen", "pears", noise));
  std::string text;
  for (const auto& piece : pieces) text += piece + " ";
  const auto amount = parse_amount(text);
  if (amount) {
    RC_ASSERT(std::isfinite(amount->value));
    RC_ASSERT(amount->value >= believable(amount->kind).least);
    RC_ASSERT(amount->value <= believable(amount->kind).most);
  } else {
    RC_ASSERT(!amount.error().code.empty());
    RC_ASSERT(!amount.error().instead.empty());
  }
  const auto line = parse_line(text);
  if (!line) RC_ASSERT(!line.error().message.empty());
}

RC_GTEST_PROP(RoundTrip, MomentsAndIdsAreReadBackExactly, (std::uint64_t seed)) {
  const Instant t{std::chrono::seconds{*rc::gen::inRange<std::int64_t>(-62'135'596'800, 253'402'300'799)}};
  RC_ASSERT(parse_instant(to_iso(t)).value() == t);
  const Id id = Random(seed).id();
  RC_ASSERT(Id::parse(id.hex()).value() == id);
}

RC_GTEST_PROP(EditDistanceIsADistance, SymmetricAndZeroOnlyForTheSame, (const std::string& a, const std::string& b)) {
  RC_ASSERT(edit_distance(a, b) == edit_distance(b, a));
  RC_ASSERT(edit_distance(a, a) == 0);
  RC_ASSERT(edit_distance(a, b) <= static_cast<int>(std::max(a.size(), b.size())));
}

}  // namespace
}  // namespace stillroom::measure
