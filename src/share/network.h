#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace stillroom::share {

/// What this machine is called on its home network.
struct Network {
  std::string host;                    ///< "kitchen"; lower-case letters, digits and hyphens
  std::vector<std::string> addresses;  ///< of interfaces that are up, private ones only; IPv4 first
  bool announced = false;              ///< the machine answers to host + ".local" (multicast DNS, RFC 6762)
  bool operator==(const Network&) const = default;
};

/// True for an address that only a home network or this machine can have: RFC 1918, RFC 4193, link-local, loopback. An
/// IPv4 address may be written as IPv6 ("::ffff:10.0.0.7").
[[nodiscard]] bool is_private(std::string_view address);
/// "::ffff:10.0.0.7" as "10.0.0.7"; all else as it is.
[[nodiscard]] std::string plain_address(std::string_view address);

/// Asks the system. Link-local and loopback addresses are left out: browsers cannot open the first, and the second is
/// no way in from elsewhere.
[[nodiscard]] Network look_at_network();

}  // namespace stillroom::share
