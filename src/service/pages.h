#pragma once

#include <optional>
#include <string_view>

/// The pages built from web/, compiled in: each file as it is, gzipped and in brotli. Nothing is read at run time.
namespace stillroom::service {

struct PageFile {
  std::string_view path;               ///< "/", "/assets/index-1a2b3c.js"
  std::string_view type;               ///< content type
  std::string_view etag;               ///< quoted, first 16 hex digits of SHA-256
  bool immutable = false;              ///< its name changes with its contents
  std::string_view raw, gzip, brotli;  ///< gzip and brotli empty where they would not be smaller
};

/// The file at a path. Any path without a dot is one of the pages' own addresses and yields "/" (they route
/// themselves).
[[nodiscard]] const PageFile* page_at(std::string_view path);

/// The best form for an Accept-Encoding header: "br", "gzip" or empty for as it is.
[[nodiscard]] std::string_view encoding_for(const PageFile& file, std::string_view accepted);

}  // namespace stillroom::service
