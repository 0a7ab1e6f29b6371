#include "share/passphrase.h"

#include <openssl/crypto.h>
#include <openssl/evp.h>

#include <array>
#include <optional>
#include <sstream>
#include <stdexcept>
#include <vector>

#include "share/detail/text.h"

namespace stillroom::share {
namespace {

constexpr std::size_t kSaltBytes = 16, kHashBytes = 32, kLeastSalt = 8, kMostSalt = 64;

struct Stored {
  ScryptCost cost;
  std::vector<std::uint8_t> salt, hash;
};

std::optional<Stored> read_stored(std::string_view text) {
  std::istringstream words{std::string(text)};
  std::string kind, salt, hash;
  Stored s;
  if (!(words >> kind >> s.cost.log2_n >> s.cost.r >> s.cost.p >> salt >> hash) || kind != "scrypt") return {};
  if (s.cost.log2_n < 1 || s.cost.log2_n > 20 || s.cost.r < 1 || s.cost.r > 32 || s.cost.p < 1 || s.cost.p > 4)
    return {};
  const auto salt_bytes = detail::from_hex(salt), hash_bytes = detail::from_hex(hash);
  if (!salt_bytes || !hash_bytes || salt_bytes->size() < kLeastSalt || salt_bytes->size() > kMostSalt ||
      hash_bytes->size() != kHashBytes)
    return {};
  s.salt = *salt_bytes;
  s.hash = *hash_bytes;
  return s;
}

std::array<std::uint8_t, kHashBytes> scrypt(std::string_view passphrase, const std::vector<std::uint8_t>& salt,
                                            const ScryptCost& cost) {
  std::array<std::uint8_t, kHashBytes> out{};
  const std::uint64_t n = 1ULL << cost.log2_n;
  const auto r = static_cast<std::uint64_t>(cost.r), p = static_cast<std::uint64_t>(cost.p);
  const std::uint64_t memory = 128 * r * (n + p + 2) + (1U << 20);
  if (EVP_PBE_scrypt(passphrase.data(), passphrase.size(), salt.data(), salt.size(), n, r, p, memory, out.data(),
                     out.size()) != 1) {
    throw std::runtime_error("scrypt failed: too little memory?");
  }
  return out;
}

}  // namespace

measure::Result<void> fit_passphrase(std::string_view passphrase) {
  const std::vector<std::string> instead = {"Five or six words that do not belong together are long and easy to type."};
  const auto characters = detail::utf8_characters(passphrase);
  if (!characters) return measure::refuse("bad_passphrase", "The passphrase is not plain text.", instead);
  if (*characters < kLeastPassphrase) {
    return measure::refuse("bad_passphrase",
                           "The passphrase is too short: it needs " + std::to_string(kLeastPassphrase) +
                               " characters or more, since anyone on the home network may try to guess it.",
                           instead);
  }
  if (passphrase.size() > kMostPassphrase)
    return measure::refuse("bad_passphrase", "The passphrase is longer than 256 bytes.", instead);
  if (passphrase.find_first_not_of(passphrase.front()) == std::string_view::npos)
    return measure::refuse("bad_passphrase", "The passphrase is one character over and over.", instead);
  return {};
}

std::string hash_passphrase(std::string_view passphrase, const ScryptCost& cost, const Entropy& entropy) {
  std::vector<std::uint8_t> salt(kSaltBytes);
  entropy(salt);
  return "scrypt " + std::to_string(cost.log2_n) + " " + std::to_string(cost.r) + " " + std::to_string(cost.p) + " " +
         detail::to_hex(salt) + " " + detail::to_hex(scrypt(passphrase, salt, cost));
}

bool matches(std::string_view stored, std::string_view passphrase) {
  const auto known = read_stored(stored);
  if (!known || passphrase.size() > kMostPassphrase) return false;
  const auto given = scrypt(passphrase, known->salt, known->cost);
  return CRYPTO_memcmp(given.data(), known->hash.data(), given.size()) == 0;
}

bool is_passphrase_hash(std::string_view stored) { return read_stored(stored).has_value(); }

}  // namespace stillroom::share
