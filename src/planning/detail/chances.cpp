#include "planning/detail/chances.h"

#include <cmath>
#include <numbers>

namespace stillroom::planning::detail {
namespace {

std::uint64_t mixed(std::uint64_t state, std::uint64_t more) { return measure::Random(state ^ more).next(); }

}  // namespace

measure::Random Luck::stream(Chance kind, std::string_view about, int a, int b) const {
  std::uint64_t name = 0xCBF29CE484222325ULL;  // FNV-1a
  for (const char c : about) name = (name ^ static_cast<unsigned char>(c)) * 0x100000001B3ULL;
  std::uint64_t state = mixed(base_, static_cast<std::uint64_t>(kind) + 1);
  state = mixed(state, name);
  state = mixed(state, static_cast<std::uint64_t>(a));
  return measure::Random(mixed(state, static_cast<std::uint64_t>(b)));
}

double normal_of(measure::Random& random) {  // Box and Muller
  const double u = 1 - random.uniform(), v = random.uniform();
  return std::sqrt(-2 * std::log(u)) * std::cos(2 * std::numbers::pi * v);
}

double Luck::normal(Chance kind, std::string_view about, int a, int b) const {
  measure::Random random = stream(kind, about, a, b);
  return normal_of(random);
}

double Luck::factor(double cv, Chance kind, std::string_view about, int a, int b) const {
  if (cv <= 0) return 1;
  const double variance = std::log1p(cv * cv);
  return std::exp(std::sqrt(variance) * normal(kind, about, a, b) - variance / 2);
}

}  // namespace stillroom::planning::detail
