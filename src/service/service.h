#pragma once

#include <optional>
#include <string>

#include "service/events.h"
#include "service/household.h"
#include "service/message.h"
#include "service/planner.h"
#include "service/routes.h"
#include "share/share.h"

namespace stillroom::service {

/// Everything behind the socket: the household, its plan, what has changed, and the table of routes. Answers requests
/// as values, so that tests need no socket.
class Service {
 public:
  /// `share`, when the household is open to its home network, must outlive the service.
  Service(app::House& house, Household::Clock clock, double plan_seconds, share::Share* share = nullptr);

  /// The answer to any request under /api/v1 (but the event stream, which is the socket's), any thread. A request that
  /// the guard bars (guard.h) or whose device is not paired is refused before anything is looked at.
  [[nodiscard]] Reply answer(const Request& request);
  /// Why a request may not have what asks for `access`; nothing when it may. Any thread.
  [[nodiscard]] std::optional<measure::Refusal> kept_out(const Request& request, Access access) const;

  Household household;
  Events events;
  Planner planner;
  share::Share* share;
};

}  // namespace stillroom::service
