#pragma once

#include <cstdint>
#include <functional>
#include <span>

namespace stillroom::share {

/// Fills the bytes with what nobody can guess. Passed in, so that tests know what comes; keys of certificates alone are
/// made from OpenSSL's own randomness.
using Entropy = std::function<void(std::span<std::uint8_t>)>;

/// OpenSSL's generator, seeded by the machine. Throws std::runtime_error when the machine has no randomness to give.
[[nodiscard]] Entropy machine_entropy();

}  // namespace stillroom::share
