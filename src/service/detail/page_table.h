#pragma once

#include <span>

#include "service/pages.h"

namespace stillroom::service::detail {

/// Every file of web/dist, written by tools/embed_pages.mjs during the build.
[[nodiscard]] std::span<const PageFile> page_table();

}  // namespace stillroom::service::detail
