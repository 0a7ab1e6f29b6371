#pragma once

#include <optional>
#include <string>
#include <vector>

#include "measure/result.h"
#include "service/message.h"

namespace stillroom::service {

/// Keeps other web sites, and strangers from outside the home network, out of the household. A page elsewhere can make
/// a browser send requests here, and can rebind its own name to this address; so the host must be localhost, 127.0.0.1,
/// [::1] or, from the home network, one of `home_names` (any port); an origin, when one is sent, must be that same host
/// by the same scheme; and a POST must say application/json (which a page elsewhere cannot send without asking first).
/// From the home network the sender's address must be a private one. Returns the refusal, or nothing when the request
/// may pass.
[[nodiscard]] std::optional<measure::Refusal> barred(const Request& request,
                                                     const std::vector<std::string>& home_names = {});

}  // namespace stillroom::service
