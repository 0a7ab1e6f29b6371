#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

/// The answers of recipe_sheet.h as lines for the terminal, from the same object that the pages get.
namespace stillroom::kitchen::detail {

[[nodiscard]] std::vector<std::string> recipe_lines(const nlohmann::ordered_json& sheet);
[[nodiscard]] std::vector<std::string> crop_lines(const nlohmann::ordered_json& sheet);
[[nodiscard]] std::vector<std::string> list_lines(const nlohmann::ordered_json& sheet);
[[nodiscard]] std::vector<std::string> brine_lines(const nlohmann::ordered_json& sheet);

}  // namespace stillroom::kitchen::detail
