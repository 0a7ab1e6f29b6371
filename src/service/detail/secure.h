#pragma once

#include <memory>

#include "share/share.h"

namespace httplib {
class Server;
}

namespace stillroom::service::detail {

/// A TLS server (1.2 or newer) that shows `share`'s certificate as it is at each handshake, so that one renewed
/// meanwhile is shown from then on. The share must outlive it.
[[nodiscard]] std::unique_ptr<httplib::Server> secure_server(const share::Share& share);

}  // namespace stillroom::service::detail
