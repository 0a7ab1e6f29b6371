#pragma once

#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "measure/result.h"

/// A request and its answer as plain values.
namespace stillroom::service {

/// The way in a request came by.
enum class Door {
  loopback,  ///< this machine, without TLS: needs no pairing
  plain,     ///< the home network, without TLS
  secure,    ///< the home network, over TLS
};

struct Request {
  std::string method = "GET";
  std::string path;                          ///< below /api/v1, decoded: "/lots/7f3a"
  std::map<std::string, std::string> query;  ///< decoded
  std::string body;
  std::string host, origin, fetch_site, content_type;  ///< headers as sent; empty = not sent
  std::string cookie;                                  ///< header as sent
  Door door = Door::loopback;
  std::string peer;  ///< address it came from
  std::string id;    ///< what stands for {id} in the route; filled by the route table

  /// A query value, or empty.
  [[nodiscard]] std::string asked(const std::string& name) const {
    const auto it = query.find(name);
    return it == query.end() ? std::string() : it->second;
  }
};

/// Always JSON.
struct Reply {
  int status = 200;
  std::string body;
  std::vector<std::pair<std::string, std::string>> headers{};
};

/// HTTP status of a refusal, by its code: 400 what was sent cannot be read, 401 this device is not paired, 403 not from
/// here or not with that secret, 404 there is no such thing, 409 it does not fit what is there now, 422
/// everything else a person can put right, 429 too many tries.
[[nodiscard]] int status_of(std::string_view code);
[[nodiscard]] Reply refusal(const measure::Refusal& r);

}  // namespace stillroom::service
