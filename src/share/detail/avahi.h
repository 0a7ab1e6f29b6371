#pragma once

#include <optional>
#include <string>

namespace stillroom::share::detail {

/// What the Avahi daemon of this machine calls it ("kitchen", without ".local"): it answers multicast DNS questions for
/// that name by itself. Nothing when its library is not installed or the daemon does not run; the library is loaded at
/// run time, so that the program needs neither.
[[nodiscard]] std::optional<std::string> avahi_host();

}  // namespace stillroom::share::detail
