#pragma once

#include <map>
#include <set>
#include <string>
#include <string_view>

namespace stillroom::service {

using Names = std::set<std::string>;

/// docs/api/openapi.yaml, read by its layout: paths stand two spaces in, schemas four, their properties eight.
struct Description {
  std::map<std::string, Names> methods;   ///< by path
  std::map<std::string, Names> statuses;  ///< by method and path: "GET /recipes"
  std::map<std::string, Names> fields;    ///< by schema
  std::map<std::string, Names> required;  ///< by schema: those that are always there
};

/// Read once.
[[nodiscard]] const Description& described();
/// Whether the description of the path says that it may answer so; true for a path that it does not have.
[[nodiscard]] bool is_described(std::string_view method, std::string_view path, int status);

}  // namespace stillroom::service
