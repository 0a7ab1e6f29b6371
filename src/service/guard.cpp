#include "service/guard.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <string>
#include <string_view>

#include "measure/text.h"
#include "share/network.h"

namespace stillroom::service {
namespace {

/// "localhost:8137" is called localhost; "localhost.example" and "localhost:80@example" are not.
bool is_called(std::string_view host, std::string_view name) {
  if (!host.starts_with(name)) return false;
  const std::string_view rest = host.substr(name.size());
  if (rest.empty()) return true;
  return rest.size() >= 2 && rest.size() <= 6 && rest.front() == ':' &&
         std::all_of(rest.begin() + 1, rest.end(), [](unsigned char c) { return std::isdigit(c) != 0; });
}

bool is_this_machine(std::string_view host) {
  static constexpr std::array<std::string_view, 3> kNames = {"localhost", "127.0.0.1", "[::1]"};
  return std::any_of(kNames.begin(), kNames.end(), [&](std::string_view name) { return is_called(host, name); });
}

bool is_json(std::string_view content_type) {
  const std::string type = measure::lowered(content_type.substr(0, content_type.find(';')));
  return type.substr(0, type.find_last_not_of(' ') + 1) == "application/json";
}

}  // namespace

std::optional<measure::Refusal> barred(const Request& request, const std::vector<std::string>& home_names) {
  const std::string host = measure::lowered(request.host);
  const bool from_home = request.door != Door::loopback;
  if (from_home && !share::is_private(request.peer))
    return measure::Refusal{"forbidden", "Only devices on the home network may speak with the household.", {}};
  const bool home_name = from_home && std::any_of(home_names.begin(), home_names.end(),
                                                  [&](const std::string& name) { return is_called(host, name); });
  if (!home_name && !is_this_machine(host)) {
    return measure::Refusal{"forbidden",
                            from_home ? "The household's computer is not known by that name."
                                      : "Only pages on this machine may speak with the household.",
                            {"Open the address that the program printed when it started."}};
  }
  const std::string origin = (request.door == Door::secure ? "https://" : "http://") + host;
  const bool other_origin = !request.origin.empty() && measure::lowered(request.origin) != origin;
  const bool other_site =
      !request.fetch_site.empty() && request.fetch_site != "same-origin" && request.fetch_site != "none";
  if (other_origin || other_site) {
    return measure::Refusal{"forbidden", "Another web page tried to speak with the household.", {}};
  }
  if (request.method == "POST" && !is_json(request.content_type)) {
    return measure::Refusal{
        "not_json", "What is sent here must be JSON.", {"Send the header Content-Type: application/json."}};
  }
  return std::nullopt;
}

}  // namespace stillroom::service
