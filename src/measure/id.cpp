#include "measure/id.h"

#include <cstddef>

namespace stillroom::measure {

namespace {

/// Value of one hex digit, or -1.
int hex_value(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

}  // namespace

std::string Id::hex() const {
  constexpr std::string_view kDigits = "0123456789abcdef";
  std::string out;
  out.reserve(bytes.size() * 2);
  for (const std::uint8_t b : bytes) {
    out += kDigits[b >> 4];
    out += kDigits[b & 15];
  }
  return out;
}

Result<Id> Id::parse(std::string_view hex) {
  Id id;
  bool good = hex.size() == id.bytes.size() * 2;
  for (std::size_t i = 0; good && i < id.bytes.size(); ++i) {
    const int high = hex_value(hex[2 * i]);
    const int low = hex_value(hex[2 * i + 1]);
    good = high >= 0 && low >= 0;
    id.bytes[i] = static_cast<std::uint8_t>((high << 4) | (low & 15));
  }
  if (!good) {
    return refuse("bad_id", "'" + std::string(hex.substr(0, 40)) + "' is not an id.",
                  {"Give the 32 hex digits exactly as they were shown."});
  }
  return id;
}

Id Random::id() {
  Id id;
  for (std::size_t half = 0; half < 2; ++half) {
    const std::uint64_t word = next();
    for (std::size_t i = 0; i < 8; ++i) id.bytes[8 * half + i] = static_cast<std::uint8_t>(word >> (56 - 8 * i));
  }
  return id;
}

}  // namespace stillroom::measure
