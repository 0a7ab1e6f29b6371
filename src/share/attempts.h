#pragma once

#include <chrono>
#include <map>
#include <string>

#include "measure/time.h"

namespace stillroom::share {

/// How much guessing is let through. The first `free` failures cost nothing; each one after doubles the wait, from
/// `first` up to `longest`; after `forgotten` without a failure the count begins anew.
struct Patience {
  int free = 0;
  std::chrono::seconds first{}, longest{}, forgotten{};
};

/// Slows down guessing of the passphrase, for each address and for all together (a guesser may have many addresses).
/// Pure: moments are passed in. Not thread-safe.
class Attempts {
 public:
  static constexpr Patience kEach{4, std::chrono::seconds{10}, std::chrono::minutes{15}, std::chrono::hours{24}};
  static constexpr Patience kAll{20, std::chrono::seconds{2}, std::chrono::seconds{60}, std::chrono::hours{1}};
  /// Addresses remembered at most; beyond it the one that failed longest ago is forgotten.
  static constexpr std::size_t kMostAddresses = 1000;

  /// How long `address` must wait before it may try; zero when it may try now.
  [[nodiscard]] std::chrono::seconds wait(const std::string& address, measure::Instant now) const;
  void failed(const std::string& address, measure::Instant now);
  /// Clears the address; what all others did still counts.
  void succeeded(const std::string& address);

 private:
  struct Tally {
    int failures = 0;
    measure::Instant last{};
  };
  static std::chrono::seconds left(const Patience& patience, const Tally& tally, measure::Instant now);
  static void count(const Patience& patience, Tally& tally, measure::Instant now);

  std::map<std::string, Tally> each_;
  Tally all_;
};

}  // namespace stillroom::share
