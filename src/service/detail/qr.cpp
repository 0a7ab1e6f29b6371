#include "service/detail/qr.h"

#include <qrcodegen.hpp>

namespace stillroom::service::detail {

Qr qr_of(const std::string& text) {
  constexpr int kQuiet = 4;
  const qrcodegen::QrCode code = qrcodegen::QrCode::encodeText(text.c_str(), qrcodegen::QrCode::Ecc::MEDIUM);
  Qr out{code.getSize() + 2 * kQuiet, ""};
  // Dark squares beside each other are one piece: drawn one by one, hairlines show between them.
  for (int y = 0; y < code.getSize(); ++y) {
    for (int x = 0; x < code.getSize();) {
      int run = 0;
      while (x + run < code.getSize() && code.getModule(x + run, y)) ++run;
      if (run > 0) {
        out.path += "M" + std::to_string(x + kQuiet) + " " + std::to_string(y + kQuiet) + "h" + std::to_string(run) +
                    "v1h-" + std::to_string(run) + "z";
      }
      x += run > 0 ? run : 1;
    }
  }
  return out;
}

}  // namespace stillroom::service::detail
