#include <algorithm>
#include <limits>

#include "kitchen/batch.h"

namespace stillroom::kitchen {
namespace {

// Crockford's base 32; the last five stand only in the check place.
constexpr std::string_view kSymbols = "0123456789ABCDEFGHJKMNPQRSTVWXYZ*~$=U";
constexpr std::uint64_t kBase = 32, kCheckBase = 37;
constexpr std::size_t kFewest = 5, kMost = 7;

char as_symbol(char c) {
  if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  if (c == 'O') return '0';
  if (c == 'I' || c == 'L') return '1';
  return c;
}

tl::unexpected<measure::Refusal> bad_code(std::string_view typed, const std::string& why) {
  return measure::refuse("bad_code", "\"" + std::string(typed) + "\" is no pack code: " + why + ".",
                         {"read it again from the label, five letters and digits and the one after the dash",
                          "look for the pack by what is in it and when it was put by"});
}

}  // namespace

std::string pack_code(std::uint32_t number) {
  std::string digits;
  for (std::uint64_t n = number; n > 0 || digits.size() < kFewest; n /= kBase) digits += kSymbols[n % kBase];
  std::ranges::reverse(digits);
  return digits + '-' + kSymbols[number % kCheckBase];
}

measure::Result<std::uint32_t> number_of_code(std::string_view typed) {
  std::string symbols;
  for (const char c : typed)
    if (c != ' ' && c != '-') symbols += as_symbol(c);
  if (symbols.size() < kFewest + 1 || symbols.size() > kMost + 1)
    return bad_code(typed, "five letters and digits and a check sign are wanted");
  std::uint64_t number = 0;
  for (const char c : symbols.substr(0, symbols.size() - 1)) {
    const std::size_t value = kSymbols.find(c);
    if (value >= kBase) return bad_code(typed, std::string("there is no \"") + c + "\" in a code");
    number = number * kBase + value;
  }
  if (number > std::numeric_limits<std::uint32_t>::max()) return bad_code(typed, "the number is too large");
  if (symbols.size() > kFewest + 1 && symbols.front() == '0') return bad_code(typed, "it has a sign too many");
  if (kSymbols.find(symbols.back()) != number % kCheckBase) return bad_code(typed, "the check sign does not fit");
  return static_cast<std::uint32_t>(number);
}

}  // namespace stillroom::kitchen
