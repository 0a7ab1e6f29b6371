#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "check.h"
#include "measure/amount.h"
#include "measure/line.h"
#include "measure/text.h"
#include "measure/time.h"

namespace stillroom::measure {
namespace {

void check_amount(const Amount& amount) {
  FUZZ_CHECK(std::isfinite(amount.value));
  FUZZ_CHECK(amount.value >= believable(amount.kind).least);
  FUZZ_CHECK(amount.value <= believable(amount.kind).most);
  // What is printed is understood again, as the same kind; at the very edge of belief rounding may pass it.
  const auto again = parse_amount(say(amount, Units::us, Detail::exact));
  if (!again && again.error().code == "absurd_amount") return;
  FUZZ_CHECK(again.has_value());
  FUZZ_CHECK(again->kind == amount.kind);
  FUZZ_CHECK(again->container == amount.container);
}

}  // namespace
}  // namespace stillroom::measure

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace stillroom::measure;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  if (const auto amount = parse_amount(text)) check_amount(*amount);
  if (const auto line = parse_line(text)) {
    if (line->amount) check_amount(*line->amount);
    static_cast<void>(cut_at_place(line->thing));
  }
  if (const auto moment = parse_instant(text)) FUZZ_CHECK(parse_instant(to_iso(*moment)).value() == *moment);
  if (const auto day = parse_date(text)) FUZZ_CHECK(parse_date(to_iso(*day)).value() == *day);
  static_cast<void>(suggest(text, container_keys()));
  return 0;
}
