#pragma once

#include "almanac/tables.h"

namespace stillroom::almanac {

/// The compiled-in crops and tables, read once for a test program.
struct Published {
  Crops crops = load_crops().value();
  Tables tables = load_tables(crops).value();
};
inline const Published& published() {
  static const Published all;
  return all;
}

}  // namespace stillroom::almanac
