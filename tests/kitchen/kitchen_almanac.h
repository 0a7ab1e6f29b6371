#pragma once

#include "almanac/almanac.h"
#include "kitchen/batch.h"

/// The compiled-in almanac, read once for a test program, and questions put to it.
namespace stillroom::kitchen {

inline const almanac::Almanac& the_almanac() {
  static const almanac::Almanac all = almanac::load_almanac().value();
  return all;
}
inline const almanac::Route& route(std::string_view key) {
  const auto* found = the_almanac().routes.find(key);
  if (found == nullptr) throw std::runtime_error("no route " + std::string(key));
  return *found;
}
inline process::Question at(double feet, std::string canner = {}) {
  process::Question q;
  q.altitude = measure::Altitude::feet(feet);
  q.canner = std::move(canner);
  return q;
}
inline const Step* step_of(const BatchCard& card, std::string_view stage) {
  for (const Step& s : card.steps)
    if (s.stage == stage) return &s;
  return nullptr;
}

}  // namespace stillroom::kitchen
