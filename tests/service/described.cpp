#include "service/described.h"

#include <algorithm>
#include <fstream>
#include <sstream>
#include <vector>

namespace stillroom::service {
namespace {

/// "name" of a line such as "    name:" or "        name: {...}" that stands exactly `indent` in; empty otherwise.
std::string name_at(const std::string& line, std::size_t indent) {
  if (line.find_first_not_of(' ') != indent) return "";
  const auto end = line.find(':', indent);
  return end == std::string::npos ? "" : line.substr(indent, end - indent);
}

/// The names in "[one, two,": a list may go on over several lines.
void add_listed(const std::string& text, Names& to) {
  std::string name;
  for (const char c : text + ",") {
    if (c == ',' || c == ']') {
      if (!name.empty()) to.insert(name);
      name.clear();
    } else if (c != ' ' && c != '[') {
      name += c;
    }
  }
}

void read_path(const std::string& line, std::string& path, std::string& method, Description& d) {
  if (const std::string name = name_at(line, 2); !name.empty()) path = name;
  if (const std::string name = name_at(line, 4); !name.empty()) {
    method = name == "get" ? "GET" : "POST";
    d.methods[path].insert(method);
  }
  if (const std::string name = name_at(line, 8); name.starts_with('\'') && name.size() == 5)
    d.statuses[method + " " + path].insert(name.substr(1, 3));
}

struct InSchema {
  std::string name;
  bool properties = false, required = false;
};

void read_schema(const std::string& line, InSchema& in, Description& d) {
  if (const std::string name = name_at(line, 4); !name.empty()) in = {.name = name};
  if (const std::string name = name_at(line, 6); !name.empty()) {
    in.properties = name == "properties";
    in.required = name == "required";
  }
  if (const std::string name = name_at(line, 8); in.properties && !name.empty()) d.fields[in.name].insert(name);
  if (!in.required) return;
  const auto list = line.find("required:") == std::string::npos ? line : line.substr(line.find(':') + 1);
  add_listed(list, d.required[in.name]);
}

Description read() {
  std::ifstream file(std::string(STILLROOM_SOURCE_DIR) + "/docs/api/openapi.yaml");
  Description d;
  InSchema schema;
  std::string part, path, method, line;  // part: "paths", "schemas" or something else
  while (std::getline(file, line)) {
    if (const std::string name = name_at(line, 0); !name.empty()) part = name;
    if (name_at(line, 2) == "schemas") part = "schemas";
    if (part == "paths") read_path(line, path, method, d);
    if (part == "schemas") read_schema(line, schema, d);
  }
  return d;
}

std::vector<std::string> parts_of(std::string_view path) {
  std::vector<std::string> parts;
  std::istringstream stream{std::string(path)};
  for (std::string part; std::getline(stream, part, '/');) parts.push_back(part);
  return parts;
}

bool fits(const std::string& pattern, std::string_view path) {
  const auto wanted = parts_of(pattern), there = parts_of(path);
  if (wanted.size() != there.size()) return false;
  for (std::size_t i = 0; i < wanted.size(); ++i)
    if (wanted[i] != there[i] && !wanted[i].starts_with('{')) return false;
  return true;
}

}  // namespace

const Description& described() {
  static const Description kDescription = read();
  return kDescription;
}

bool is_described(std::string_view method, std::string_view path, int status) {
  const Names* said = nullptr;
  std::size_t holes = 0;
  for (const auto& [key, statuses] : described().statuses) {
    const auto space = key.find(' ');
    if (key.substr(0, space) != method || !fits(key.substr(space + 1), path)) continue;
    const auto open = static_cast<std::size_t>(std::ranges::count(key, '{'));
    if (said == nullptr || open < holes) said = &statuses, holes = open;  // "/batches/draft" before "/batches/{id}"
  }
  return said == nullptr || said->contains(std::to_string(status));
}

}  // namespace stillroom::service
