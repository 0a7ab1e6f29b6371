#pragma once

#include <optional>

#include "measure/result.h"
#include "service/message.h"

namespace stillroom::service {

/// Keeps other web sites out of the household. A page elsewhere can make a browser send requests here, and can rebind
/// its own name to 127.0.0.1; so the host must be localhost, 127.0.0.1 or [::1] (any port), an origin, when one is
/// sent, must be that same host over http, and a POST must say application/json (which a page elsewhere cannot send
/// without asking first). Returns the refusal, or nothing when the request may pass.
[[nodiscard]] std::optional<measure::Refusal> barred(const Request& request);

}  // namespace stillroom::service
