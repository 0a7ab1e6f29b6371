#pragma once

#include <string>
#include <tl/expected.hpp>
#include <utility>
#include <vector>

namespace stillroom::measure {

/// An expected failure that a person can act on.
/// `code` is stable and machine-readable (snake_case); `message` is one plain sentence: what, where;
/// `instead` lists what to do, best first.
struct Refusal {
  std::string code;
  std::string message;
  std::vector<std::string> instead;
  bool operator==(const Refusal&) const = default;
};

/// A value, or a Refusal. "No published value" and "does not fit" are answers, never guesses.
template <class T>
using Result = tl::expected<T, Refusal>;

/// `return refuse("unknown_crop", "...", {"..."})` from any function returning a Result.
inline tl::unexpected<Refusal> refuse(std::string code, std::string message, std::vector<std::string> instead = {}) {
  return tl::unexpected<Refusal>(Refusal{std::move(code), std::move(message), std::move(instead)});
}

}  // namespace stillroom::measure
