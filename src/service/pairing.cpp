#include "service/pairing.h"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "service/detail/body.h"
#include "service/detail/qr.h"

namespace stillroom::service {
namespace {

using nlohmann::json;

/// `__Host-` keeps it to TLS and to this very host (RFC 6265bis, 4.1.3.2): a page without TLS cannot plant one.
constexpr std::string_view kSecureCookie = "__Host-stillroom";
constexpr std::string_view kPlainCookie = "stillroom";
constexpr const char* kCookieLasts = "34560000";  // seconds; browsers hold none longer than 400 days

std::string_view cookie_name(Door door) { return door == Door::secure ? kSecureCookie : kPlainCookie; }

std::string_view cookie_value(std::string_view header, std::string_view name) {
  while (!header.empty()) {
    const auto end = header.find(';');
    std::string_view one = header.substr(0, end);
    header = end == std::string_view::npos ? std::string_view() : header.substr(end + 1);
    one.remove_prefix(std::min(one.find_first_not_of(' '), one.size()));
    if (one.size() > name.size() && one.starts_with(name) && one[name.size()] == '=')
      return one.substr(name.size() + 1);
  }
  return {};
}

measure::Refusal not_shared() {
  return {"not_shared",
          "The household is not open to the home network.",
          {"On its computer, start it with `stillroom serve --share`."}};
}

std::string address_of(const std::string& host, bool secure, int port) {
  return (secure ? "https://" : "http://") + host + ":" + std::to_string(port);
}

/// "192.168.1.5" of "192.168.1.5:8643".
std::string host_alone(const std::string& host) {
  const auto colon = host.rfind(':');
  const bool port = colon != std::string::npos && host.find(']', colon) == std::string::npos;
  return port ? host.substr(0, colon) : host;
}

json qr_json(const std::string& text) {
  const detail::Qr qr = detail::qr_of(text);
  return {{"size", qr.size}, {"path", qr.path}};
}

json set_up_json(const share::Share& share) {
  const share::Network here = share.network();
  json ways = json::array(), live = json::array();
  const std::vector<std::string> hosts = share.host_names();  // the name first, then the numbers
  const auto add = [&](const std::string& host, bool by_name) {
    const std::string address = address_of(host, true, share.secure_port()) + "/pair";
    ways.push_back({{"address", address},
                    {"by_name", by_name},
                    {"announced", !by_name || here.announced},
                    {"qr", qr_json(address)}});
    if (share.plain_port() != 0) live.push_back(address_of(host, false, share.plain_port()) + "/pair");
  };
  for (std::size_t i = 1; i < hosts.size(); ++i) add(hosts[i], false);
  add(hosts.front(), true);
  json certificate = nullptr;
  if (share.plain_port() != 0) {
    const std::string host = hosts.size() > 1 ? hosts[1] : hosts.front();
    const std::string address = address_of(host, false, share.plain_port()) + "/ca.crt";
    certificate = {{"address", address}, {"qr", qr_json(address)}};
  }
  return {{"fingerprint", share::fingerprint(share.authority_certificate())},
          {"until", measure::to_iso(share::valid_until(share.authority_certificate()))},
          {"certificate", certificate},
          {"ways", ways},
          {"live", live}};
}

}  // namespace

std::optional<share::Device> device_of(share::Share* share, const Request& request) {
  if (share == nullptr || request.door == Door::loopback) return std::nullopt;
  const std::string_view token = cookie_value(request.cookie, cookie_name(request.door));
  return share->devices().holder_of(token, request.door == Door::secure, share->now());
}

Reply GetPairing::operator()(const Request& request) const {
  if (share == nullptr) {
    return {200, json{{"shared", false},
                      {"secure", false},
                      {"paired", true},
                      {"device", ""},
                      {"secure_address", ""},
                      {"fingerprint", ""}}
                     .dump()};
  }
  const auto device = device_of(share, request);
  return {200, json{{"shared", true},
                    {"secure", request.door == Door::secure},
                    {"paired", device.has_value() || request.door == Door::loopback},
                    {"device", device ? device->name : ""},
                    {"secure_address", address_of(host_alone(request.host), true, share->secure_port()) + "/pair"},
                    {"fingerprint", share::fingerprint(share->authority_certificate())}}
                   .dump()};
}

Reply PostPairing::operator()(const Request& request) const {
  if (share == nullptr) return refusal(not_shared());
  if (request.door == Door::loopback) {
    return refusal({"not_from_here", "This is the household's own computer: it needs no pairing.", {}});
  }
  const auto body = detail::object_in(request.body);
  const auto name = body ? detail::text_in(*body, "name") : std::nullopt;
  const auto passphrase = body ? detail::text_in(*body, "passphrase") : std::nullopt;
  const auto code = body ? detail::text_in(*body, "code") : std::nullopt;
  if (!name || !passphrase || !code) return refusal(detail::bad_body());
  std::chrono::seconds wait{};
  const bool secure = request.door == Door::secure;
  const auto added = share->let_in({request.peer, secure, *passphrase, *code, *name}, wait);
  if (!added) {
    Reply no = refusal(added.error());
    if (wait.count() > 0) no.headers.emplace_back("Retry-After", std::to_string(wait.count()));
    return no;
  }
  Reply yes{200, json{{"ok", true}, {"id", added->device.id}, {"name", added->device.name}}.dump()};
  yes.headers.emplace_back("Set-Cookie", std::string(cookie_name(request.door)) + "=" + added->token +
                                             "; Path=/; Max-Age=" + kCookieLasts + "; HttpOnly; SameSite=Strict" +
                                             (secure ? "; Secure" : ""));
  return yes;
}

Reply PostPairingCode::operator()(const Request& /*request*/) const {
  if (share == nullptr) return refusal(not_shared());
  const auto code = share->new_code();
  return {200, json{{"code", code.digits}, {"seconds", (code.until - share->now()).count()}}.dump()};
}

Reply GetDevices::operator()(const Request& request) const {
  json out{{"shared", share != nullptr}, {"this_device", ""}, {"devices", json::array()}, {"set_up", nullptr}};
  if (share == nullptr) return {200, out.dump()};
  if (const auto device = device_of(share, request)) out["this_device"] = device->id;
  out["devices"] = json::parse(share::to_json(share->devices().all()));
  if (request.door == Door::loopback) out["set_up"] = set_up_json(*share);
  return {200, out.dump()};
}

Reply PostWithdraw::operator()(const Request& request) const {
  if (share == nullptr) return refusal(not_shared());
  const auto body = detail::object_in(request.body);
  const auto id = body ? detail::text_in(*body, "id") : std::nullopt;
  if (!id || id->empty()) return refusal(detail::bad_body());
  const auto gone = share->devices().withdraw(*id);
  if (!gone) return refusal(gone.error());
  events.nudge();
  return {200, json{{"ok", true}, {"id", gone->id}}.dump()};
}

}  // namespace stillroom::service
