#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "measure/result.h"

namespace stillroom::service::detail {

/// What is said when a body cannot be read.
[[nodiscard]] const measure::Refusal& bad_body();
/// The JSON object in a body; nothing when it is something else.
[[nodiscard]] std::optional<nlohmann::json> object_in(const std::string& body);
/// Text of a field; empty when absent, nothing when it is something else than text.
[[nodiscard]] std::optional<std::string> text_in(const nlohmann::json& object, const char* name);

}  // namespace stillroom::service::detail
