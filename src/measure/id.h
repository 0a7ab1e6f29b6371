#pragma once

#include <array>
#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

#include "measure/result.h"

namespace stillroom::measure {

/// Random 128-bit id, made by the client that records an entry. Written as 32 lower-case hex digits.
struct Id {
  std::array<std::uint8_t, 16> bytes{};
  auto operator<=>(const Id&) const = default;
  [[nodiscard]] std::string hex() const;
  [[nodiscard]] bool is_nil() const { return *this == Id{}; }
  /// Refuses (code "bad_id") anything but 32 hex digits.
  [[nodiscard]] static Result<Id> parse(std::string_view hex);
};

/// Small, fast, seedable generator (SplitMix64): the only randomness the core ever sees, always passed in.
/// Same seed, same sequence, on every machine.
class Random {
 public:
  explicit Random(std::uint64_t seed) : state_(seed) {}
  std::uint64_t next() {
    std::uint64_t z = (state_ += 0x9E3779B97F4A7C15ULL);
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31);
  }
  /// Uniform in [0, 1).
  double uniform() { return static_cast<double>(next() >> 11) * 0x1.0p-53; }
  /// Uniform integer in [0, n); n > 0.
  std::uint32_t below(std::uint32_t n) { return static_cast<std::uint32_t>(((next() >> 32) * n) >> 32); }
  Id id();

 private:
  std::uint64_t state_;
};

}  // namespace stillroom::measure
