#include "service/detail/body.h"

namespace stillroom::service::detail {

const measure::Refusal& bad_body() {
  static const measure::Refusal kBadBody{"bad_request",
                                         "What was sent is not the JSON object asked for here.",
                                         {"docs/api/openapi.yaml lists the fields."}};
  return kBadBody;
}

std::optional<nlohmann::json> object_in(const std::string& body) {
  nlohmann::json parsed = nlohmann::json::parse(body, nullptr, false);
  if (!parsed.is_object()) return std::nullopt;
  return parsed;
}

std::optional<std::string> text_in(const nlohmann::json& object, const char* name) {
  const auto it = object.find(name);
  if (it == object.end()) return std::string();
  if (!it->is_string()) return std::nullopt;
  return it->get<std::string>();
}

}  // namespace stillroom::service::detail
