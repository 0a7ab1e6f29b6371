#pragma once

#include <functional>
#include <string_view>
#include <vector>

#include "service/message.h"

namespace stillroom::service {

class Service;
using Endpoint = std::function<Reply(const Request&)>;

/// Who may use a route; who may one may also those above it.
enum class Access {
  everyone,  ///< whoever reaches the server from the home network
  paired,    ///< a paired device
  trusted,   ///< a device paired over TLS
  computer,  ///< the household's own computer
};

struct Route {
  std::string_view method, pattern;        ///< "/lots/{id}/why"
  Endpoint (*endpoint)(Service& service);  ///< given what it needs of the service
  Access access = Access::paired;
};

/// Every route there is, in one table; docs/api/openapi.yaml describes the same list.
[[nodiscard]] const std::vector<Route>& routes();
/// True when `path` fits `pattern`; what stands for {id} goes to `id`.
[[nodiscard]] bool fits(std::string_view pattern, std::string_view path, std::string& id);

}  // namespace stillroom::service
