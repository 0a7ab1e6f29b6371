#pragma once

#include "service/service.h"

namespace httplib {
class Server;
}

namespace stillroom::service::detail {

/// Connects a service to an HTTP server that is one of its doors: API, event stream, pages, and the settings of
/// docs/api (threads, limits, what headers go out). The service must outlive the server.
void connect(httplib::Server& server, Service& service, Door door);

}  // namespace stillroom::service::detail
