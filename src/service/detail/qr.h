#pragma once

#include <string>

namespace stillroom::service::detail {

/// A QR code (ISO/IEC 18004, medium error correction) as a drawing: an SVG path in squares of one, with the quiet zone
/// of four squares around it counted in `size`.
struct Qr {
  int size = 0;
  std::string path;
};
[[nodiscard]] Qr qr_of(const std::string& text);

}  // namespace stillroom::service::detail
