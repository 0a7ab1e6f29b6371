#include "share/network.h"

#include <arpa/inet.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <netinet/in.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <memory>

#include "share/detail/avahi.h"

namespace stillroom::share {
namespace {

enum class Kind { elsewhere, home, link, machine };

Kind kind_of_v4(std::uint32_t a) {  // host byte order
  if (a >> 24 == 127) return Kind::machine;
  if (a >> 24 == 10 || a >> 20 == 0xAC1 || a >> 16 == 0xC0A8) return Kind::home;
  return a >> 16 == 0xA9FE ? Kind::link : Kind::elsewhere;
}

Kind kind_of_v6(const in6_addr& a) {
  if (IN6_IS_ADDR_LOOPBACK(&a)) return Kind::machine;
  if (IN6_IS_ADDR_LINKLOCAL(&a)) return Kind::link;
  return (a.s6_addr[0] & 0xFEU) == 0xFC ? Kind::home : Kind::elsewhere;
}

/// Without the scope of a link-local address ("fe80::1%eth0").
Kind kind_of_address(std::string_view address) {
  const std::string text = plain_address(address.substr(0, address.find('%')));
  in_addr v4{};
  if (inet_pton(AF_INET, text.c_str(), &v4) == 1) return kind_of_v4(ntohl(v4.s_addr));
  in6_addr v6{};
  if (inet_pton(AF_INET6, text.c_str(), &v6) == 1) return kind_of_v6(v6);
  return Kind::elsewhere;
}

std::string text_of_address(const sockaddr* address) {
  std::array<char, INET6_ADDRSTRLEN> text{};
  const void* bytes = nullptr;
  if (address->sa_family == AF_INET) {
    bytes = &reinterpret_cast<const sockaddr_in*>(address)->sin_addr;
  } else if (address->sa_family == AF_INET6) {
    bytes = &reinterpret_cast<const sockaddr_in6*>(address)->sin6_addr;
  }
  if (bytes == nullptr || inet_ntop(address->sa_family, bytes, text.data(), text.size()) == nullptr) return {};
  return text.data();
}

/// The first part of a name, as far as it fits a DNS label; it goes into a certificate, so nothing else may be in it.
std::string as_label(std::string_view name) {
  std::string out;
  for (const char c : name.substr(0, name.find('.'))) {
    const int lower = std::tolower(static_cast<unsigned char>(c));
    const bool plain = (lower >= 'a' && lower <= 'z') || (lower >= '0' && lower <= '9');
    if (plain || (lower == '-' && !out.empty())) out += static_cast<char>(lower);
  }
  out = out.substr(0, 63);
  while (!out.empty() && out.back() == '-') out.pop_back();
  return out.empty() ? "stillroom" : out;
}

std::string machine_name() {
  std::array<char, 256> buffer{};
  return gethostname(buffer.data(), buffer.size() - 1) == 0 ? buffer.data() : "";
}

}  // namespace

bool is_private(std::string_view address) { return kind_of_address(address) != Kind::elsewhere; }

std::string plain_address(std::string_view address) {
  constexpr std::string_view kMapped = "::ffff:";
  if (address.starts_with(kMapped) && address.find('.') != std::string_view::npos)
    address.remove_prefix(kMapped.size());
  return std::string(address);
}

Network look_at_network() {
  Network out;
  const auto announced = detail::avahi_host();
  out.announced = announced.has_value();
  out.host = as_label(announced.value_or(machine_name()));
  ifaddrs* first = nullptr;
  if (getifaddrs(&first) != 0) return out;
  const std::unique_ptr<ifaddrs, decltype(&freeifaddrs)> all(first, &freeifaddrs);
  for (const ifaddrs* one = first; one != nullptr; one = one->ifa_next) {
    if (one->ifa_addr == nullptr || (one->ifa_flags & IFF_UP) == 0) continue;
    const std::string text = text_of_address(one->ifa_addr);
    if (!text.empty() && kind_of_address(text) == Kind::home) out.addresses.push_back(text);
  }
  std::sort(out.addresses.begin(), out.addresses.end());
  out.addresses.erase(std::unique(out.addresses.begin(), out.addresses.end()), out.addresses.end());
  std::stable_partition(out.addresses.begin(), out.addresses.end(),
                        [](const std::string& a) { return a.find(':') == std::string::npos; });
  return out;
}

}  // namespace stillroom::share
