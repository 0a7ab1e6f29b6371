#pragma once

#include <string>
#include <string_view>

#include "measure/result.h"
#include "share/entropy.h"

/// The household's passphrase, kept only as a slow salted hash (scrypt, RFC 7914).
namespace stillroom::share {

constexpr std::size_t kLeastPassphrase = 12;  ///< characters
constexpr std::size_t kMostPassphrase = 256;  ///< bytes

/// What one guess costs: 128 * n * r bytes of memory, and time in proportion. Tests pass a smaller one.
struct ScryptCost {
  int log2_n = 15;  ///< 1..20
  int r = 8;        ///< 1..32
  int p = 1;        ///< 1..4
};

/// Refuses (code "bad_passphrase") one that is too short, too long, not UTF-8 text, or one character over and over.
[[nodiscard]] measure::Result<void> fit_passphrase(std::string_view passphrase);

/// "scrypt LOG2N R P SALT HASH" with a new salt of 16 bytes, in hex.
[[nodiscard]] std::string hash_passphrase(std::string_view passphrase, const ScryptCost& cost, const Entropy& entropy);

/// True when `stored` is the hash of `passphrase`; compares in constant time. False for text that is no such hash.
[[nodiscard]] bool matches(std::string_view stored, std::string_view passphrase);
/// True when `stored` has the form hash_passphrase writes.
[[nodiscard]] bool is_passphrase_hash(std::string_view stored);

}  // namespace stillroom::share
