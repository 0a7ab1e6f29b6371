#pragma once

#include <functional>
#include <stop_token>

#include "app/app.h"
#include "measure/result.h"
#include "measure/time.h"
#include "share/share.h"

/// The door for pages: HTTP on this machine, and when asked for also on its home network. No rule of the trade lives
/// here: it parses, calls app, sends JSON.
namespace stillroom::service {

struct ServeOptions {
  int port = 8137;                            ///< first port to try, 1..65535; the next free one of twenty is taken
  std::function<measure::Instant()> clock{};  ///< the household's now; empty = the machine's clock
  double plan_seconds = 1.0;                  ///< how long each plan may take, in the background
  std::function<void(int port)> listening{};  ///< called once when it answers; empty = print the addresses
  share::Share* share = nullptr;              ///< opens the household to its home network; must outlive the call
  std::stop_token stop{};                     ///< ends it as a signal would
};

/// Serves `house` on 127.0.0.1, and with `share` over TLS (and, unless its plain port is 0, without) to paired devices
/// of the home network, until SIGTERM, SIGINT or `stop`. It takes those signals for itself (both are blocked in
/// the calling thread meanwhile). Returns when every connection is closed. Refuses (code "no_port") when no port could
/// be had; those of `share` are exactly the ones it names, since phones know the household by them. The house belongs
/// to the server until it returns: nothing else may touch it.
[[nodiscard]] measure::Result<void> serve(app::House& house, const ServeOptions& options);

}  // namespace stillroom::service
