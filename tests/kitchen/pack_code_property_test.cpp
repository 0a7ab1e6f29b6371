#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>

#include "kitchen/batch.h"

namespace stillroom::kitchen {
namespace {

constexpr std::string_view kDigits = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

RC_GTEST_PROP(PackCodes, ComeBack, ()) {
  const auto number = *rc::gen::arbitrary<std::uint32_t>();
  RC_ASSERT(number_of_code(pack_code(number)).value() == number);
}

RC_GTEST_PROP(PackCodes, CatchOneWrongSymbol, ()) {
  std::string code = pack_code(*rc::gen::inRange<std::uint32_t>(0, 33'554'432));
  const auto place = *rc::gen::inRange<std::size_t>(0, 5);
  const char wrong = kDigits[*rc::gen::inRange<std::size_t>(0, kDigits.size())];
  RC_PRE(wrong != code[place]);
  code[place] = wrong;
  RC_ASSERT(!number_of_code(code).has_value());
}

RC_GTEST_PROP(PackCodes, CatchTwoNeighboursSwapped, ()) {
  std::string code = pack_code(*rc::gen::inRange<std::uint32_t>(0, 33'554'432));
  const auto place = *rc::gen::inRange<std::size_t>(0, 4);
  RC_PRE(code[place] != code[place + 1]);
  std::swap(code[place], code[place + 1]);
  RC_ASSERT(!number_of_code(code).has_value());
}

RC_GTEST_PROP(PackCodes, CatchAWrongCheckSign, ()) {
  std::string code = pack_code(*rc::gen::inRange<std::uint32_t>(0, 33'554'432));
  const char wrong = "0123456789ABCDEFGHJKMNPQRSTVWXYZ*~$=U"[*rc::gen::inRange<std::size_t>(0, 37)];
  RC_PRE(wrong != code.back());
  code.back() = wrong;
  RC_ASSERT(!number_of_code(code).has_value());
}

}  // namespace
}  // namespace stillroom::kitchen
