#include "share/detail/text.h"

#include <openssl/evp.h>
#include <openssl/rand.h>

#include <array>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "share/entropy.h"

namespace stillroom::share {

Entropy machine_entropy() {
  return [](std::span<std::uint8_t> bytes) {
    if (RAND_bytes(bytes.data(), static_cast<int>(bytes.size())) != 1)
      throw std::runtime_error("the machine gives no randomness");
  };
}

namespace detail {

std::string to_hex(std::span<const std::uint8_t> bytes) {
  static constexpr std::string_view kDigits = "0123456789abcdef";
  std::string out;
  out.reserve(bytes.size() * 2);
  for (const std::uint8_t byte : bytes) {
    out += kDigits[byte >> 4];
    out += kDigits[byte & 15];
  }
  return out;
}

std::optional<std::vector<std::uint8_t>> from_hex(std::string_view hex) {
  const auto digit = [](char c) { return c >= '0' && c <= '9' ? c - '0' : c >= 'a' && c <= 'f' ? c - 'a' + 10 : -1; };
  if (hex.size() % 2 != 0) return std::nullopt;
  std::vector<std::uint8_t> out;
  for (std::size_t i = 0; i < hex.size(); i += 2) {
    const int high = digit(hex[i]), low = digit(hex[i + 1]);
    if (high < 0 || low < 0) return std::nullopt;
    out.push_back(static_cast<std::uint8_t>(high * 16 + low));
  }
  return out;
}

std::string sha256_hex(std::string_view text) {
  std::array<std::uint8_t, 32> out{};
  if (EVP_Digest(text.data(), text.size(), out.data(), nullptr, EVP_sha256(), nullptr) != 1)
    throw std::runtime_error("SHA-256 failed");
  return to_hex(out);
}

std::optional<std::size_t> utf8_characters(std::string_view text) {
  std::size_t characters = 0;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte == 0x7f) return std::nullopt;
    if ((byte & 0xC0U) != 0x80) ++characters;
  }
  // The JSON library refuses to write what is not UTF-8; it is the check we have.
  try {
    (void)nlohmann::json(text).dump();
  } catch (const nlohmann::json::type_error&) {
    return std::nullopt;
  }
  return characters;
}

}  // namespace detail
}  // namespace stillroom::share
