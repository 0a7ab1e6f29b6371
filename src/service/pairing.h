#pragma once

#include <optional>
#include <string_view>

#include "service/events.h"
#include "service/message.h"
#include "share/share.h"

/// Letting devices of the home network in, and no longer. `share` is null while the household is not shared.
namespace stillroom::service {

/// The paired device a request comes from: its secret is in a cookie, one for each kind of door. Nothing on loopback.
[[nodiscard]] std::optional<share::Device> device_of(share::Share* share, const Request& request);

/// What a device needs to know to be paired: whether it is, over what, and what to compare.
struct GetPairing {
  share::Share* share;
  Reply operator()(const Request& request) const;
};
/// {name, passphrase} or {name, code}: lets the device in and gives it its cookie.
struct PostPairing {
  share::Share* share;
  Reply operator()(const Request& request) const;
};
/// A code for one device, shown on the household's computer.
struct PostPairingCode {
  share::Share* share;
  Reply operator()(const Request& request) const;
};
/// The paired devices; on the household's computer also how to set up another.
struct GetDevices {
  share::Share* share;
  Reply operator()(const Request& request) const;
};
/// {id}: lets a device in no longer, and ends what it listens to.
struct PostWithdraw {
  share::Share* share;
  Events& events;
  Reply operator()(const Request& request) const;
};

}  // namespace stillroom::service
