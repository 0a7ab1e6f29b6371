#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace stillroom::share::detail {

[[nodiscard]] std::string to_hex(std::span<const std::uint8_t> bytes);
/// Nothing when it is not pairs of lower-case hex digits.
[[nodiscard]] std::optional<std::vector<std::uint8_t>> from_hex(std::string_view hex);
/// SHA-256 in hex.
[[nodiscard]] std::string sha256_hex(std::string_view text);
/// Number of characters (code points); nothing when it is not UTF-8 or holds control characters.
[[nodiscard]] std::optional<std::size_t> utf8_characters(std::string_view text);

}  // namespace stillroom::share::detail
