#pragma once

#include <chrono>
#include <string>
#include <vector>

#include "measure/result.h"
#include "measure/time.h"
#include "share/entropy.h"

/// The household's own certificate authority and the certificate its server shows (X.509, RFC 5280; P-256 keys).
/// Phones withhold offline work from a server whose certificate no authority they know has signed.
namespace stillroom::share {

constexpr std::chrono::days kAuthorityLasts{3650};
/// The longest a browser takes for a server (CA/Browser Forum baseline requirements: 398 days).
constexpr std::chrono::days kLeafLasts{397};
/// A leaf with less than this left is renewed.
constexpr std::chrono::days kRenewBefore{30};
/// Clocks of phones differ: certificates begin this long before they are made.
constexpr std::chrono::days kBegunBefore{1};

/// A certificate and its private key, both PEM.
struct Signed {
  std::string certificate, key;
};

/// What a server is called: DNS names ("kitchen.local", "localhost") and addresses ("192.168.1.5", "fd00::2").
struct ServerNames {
  std::vector<std::string> dns, addresses;
  bool operator==(const ServerNames&) const = default;
};

/// An authority that may sign servers and no further authority, and only servers named `localhost` or under `local`, or
/// by a private address: whoever stole its key could not pass for a site of the internet. `host` goes into its name.
[[nodiscard]] Signed make_authority(const std::string& host, measure::Instant now, const Entropy& entropy);

/// A certificate for a server. Refuses "bad_certificate" when the authority's files cannot be used.
[[nodiscard]] measure::Result<Signed> make_leaf(const Signed& authority, const ServerNames& names, measure::Instant now,
                                                const Entropy& entropy);

/// True when the leaf is signed by the authority, has exactly these names, fits its key, and is good for kRenewBefore
/// more. False: make another.
[[nodiscard]] bool still_serves(const Signed& leaf, const Signed& authority, const ServerNames& names,
                                measure::Instant now);
/// True when the authority can be read and its key fits.
[[nodiscard]] bool can_sign(const Signed& authority);

/// SHA-256 of a certificate as phones show it: "AB:12:...", empty when it cannot be read.
[[nodiscard]] std::string fingerprint(const std::string& certificate);
/// Last moment of a certificate; the epoch when it cannot be read.
[[nodiscard]] measure::Instant valid_until(const std::string& certificate);

}  // namespace stillroom::share
