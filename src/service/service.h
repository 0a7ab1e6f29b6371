#pragma once

#include <string>

#include "service/events.h"
#include "service/household.h"
#include "service/message.h"
#include "service/planner.h"

namespace stillroom::service {

/// Everything behind the socket: the household, its plan, what has changed, and the table of routes. Answers requests
/// as values, so that tests need no socket.
class Service {
 public:
  Service(app::House& house, Household::Clock clock, double plan_seconds);

  /// The answer to any request under /api/v1 (but the event stream, which is the socket's), any thread. A request that
  /// is not this machine's own (guard.h) is refused with 403 before anything is looked at.
  [[nodiscard]] Reply answer(const Request& request);

  Household household;
  Events events;
  Planner planner;
};

}  // namespace stillroom::service
