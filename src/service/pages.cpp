#include "service/pages.h"

#include <algorithm>

#include "service/detail/page_table.h"

namespace stillroom::service {
namespace {

/// True when `name` stands in a comma list and is not switched off with q=0.
bool accepts(std::string_view list, std::string_view name) {
  while (!list.empty()) {
    const auto comma = list.find(',');
    std::string_view one = list.substr(0, comma);
    list = comma == std::string_view::npos ? std::string_view() : list.substr(comma + 1);
    one.remove_prefix(std::min(one.find_first_not_of(' '), one.size()));
    const std::string_view given = one.substr(0, one.find_first_of("; "));
    if (given == name) return one.find("q=0") == std::string_view::npos || one.find("q=0.") != std::string_view::npos;
  }
  return false;
}

}  // namespace

const PageFile* page_at(std::string_view path) {
  const bool own_address = path.find('.') == std::string_view::npos;
  const std::string_view wanted = own_address ? "/" : path;
  const auto files = detail::page_table();
  const auto it = std::find_if(files.begin(), files.end(), [&](const PageFile& f) { return f.path == wanted; });
  return it == files.end() ? nullptr : &*it;
}

std::string_view encoding_for(const PageFile& file, std::string_view accepted) {
  if (!file.brotli.empty() && accepts(accepted, "br")) return "br";
  if (!file.gzip.empty() && accepts(accepted, "gzip")) return "gzip";
  return {};
}

}  // namespace stillroom::service
