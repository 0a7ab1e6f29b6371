#pragma once

#include <compare>

/// Strong physical quantities. SI inside; made only by unit (`kilograms(3)`), read only by unit (`m.in_kilograms()`).
/// A temperature is a point, a temperature difference is not; gauge and absolute pressure never mix;
/// mass and volume never convert without a named density.
namespace stillroom::measure {

/// One-dimensional linear quantity. `Tag` keeps kinds apart; arithmetic stays inside a kind.
template <class Tag>
class Quantity {
 public:
  constexpr Quantity() = default;
  /// From the SI value of this kind (kg, m3, s, Pa, K, m). Prefer the named makers below.
  static constexpr Quantity from_si(double si) { return Quantity(si); }
  [[nodiscard]] constexpr double si() const { return si_; }
  constexpr auto operator<=>(const Quantity&) const = default;
  constexpr Quantity& operator+=(Quantity o) {
    si_ += o.si_;
    return *this;
  }
  constexpr Quantity& operator-=(Quantity o) {
    si_ -= o.si_;
    return *this;
  }
  friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity(a.si_ + b.si_); }
  friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity(a.si_ - b.si_); }
  friend constexpr Quantity operator-(Quantity a) { return Quantity(-a.si_); }
  friend constexpr Quantity operator*(Quantity a, double k) { return Quantity(a.si_ * k); }
  friend constexpr Quantity operator*(double k, Quantity a) { return Quantity(a.si_ * k); }
  friend constexpr Quantity operator/(Quantity a, double k) { return Quantity(a.si_ / k); }
  friend constexpr double operator/(Quantity a, Quantity b) { return a.si_ / b.si_; }

 private:
  explicit constexpr Quantity(double si) : si_(si) {}
  double si_ = 0;
};

using Mass = Quantity<struct MassTag>;                                    // kg
using Volume = Quantity<struct VolumeTag>;                                // m3
using Duration = Quantity<struct DurationTag>;                            // s
using TemperatureDifference = Quantity<struct TemperatureDifferenceTag>;  // K
using GaugePressure = Quantity<struct GaugePressureTag>;                  // Pa above the air outside
using AbsolutePressure = Quantity<struct AbsolutePressureTag>;            // Pa
using Length = Quantity<struct LengthTag>;                                // m
using Density = Quantity<struct DensityTag>;                              // kg/m3

/// Height above mean sea level: a point, so that it is never added to a length by accident.
class Altitude {
 public:
  static constexpr Altitude feet(double ft) { return Altitude(ft * 0.3048); }
  static constexpr Altitude metres(double m) { return Altitude(m); }
  [[nodiscard]] constexpr double in_feet() const { return m_ / 0.3048; }
  [[nodiscard]] constexpr double in_metres() const { return m_; }
  constexpr auto operator<=>(const Altitude&) const = default;

 private:
  explicit constexpr Altitude(double m) : m_(m) {}
  double m_ = 0;
};

/// A temperature point.
class Temperature {
 public:
  static constexpr Temperature celsius(double c) { return Temperature(c + 273.15); }
  static constexpr Temperature fahrenheit(double f) { return Temperature((f - 32.0) / 1.8 + 273.15); }
  static constexpr Temperature kelvin(double k) { return Temperature(k); }
  constexpr Temperature() = default;
  [[nodiscard]] constexpr double in_celsius() const { return k_ - 273.15; }
  [[nodiscard]] constexpr double in_fahrenheit() const { return (k_ - 273.15) * 1.8 + 32.0; }
  [[nodiscard]] constexpr double in_kelvin() const { return k_; }
  constexpr auto operator<=>(const Temperature&) const = default;
  friend constexpr TemperatureDifference operator-(Temperature a, Temperature b) {
    return TemperatureDifference::from_si(a.k_ - b.k_);
  }
  friend constexpr Temperature operator+(Temperature a, TemperatureDifference d) { return Temperature(a.k_ + d.si()); }
  friend constexpr Temperature operator-(Temperature a, TemperatureDifference d) { return Temperature(a.k_ - d.si()); }

 private:
  explicit constexpr Temperature(double k) : k_(k) {}
  double k_ = 273.15;
};

// Exact definitions: international avoirdupois pound (1959), US liquid gallon 231 in3, inch 25.4 mm.
inline constexpr double kKilogramsPerPound = 0.45359237;
inline constexpr double kCubicMetresPerUsGallon = 0.003785411784;
inline constexpr double kPascalsPerPsi = 6894.757293168361;

constexpr Mass kilograms(double v) { return Mass::from_si(v); }
constexpr Mass grams(double v) { return Mass::from_si(v / 1000.0); }
constexpr Mass pounds(double v) { return Mass::from_si(v * kKilogramsPerPound); }
constexpr Mass ounces(double v) { return Mass::from_si(v * kKilogramsPerPound / 16.0); }
constexpr double in_kilograms(Mass m) { return m.si(); }
constexpr double in_grams(Mass m) { return m.si() * 1000.0; }
constexpr double in_pounds(Mass m) { return m.si() / kKilogramsPerPound; }
constexpr double in_ounces(Mass m) { return m.si() / kKilogramsPerPound * 16.0; }

constexpr Volume litres(double v) { return Volume::from_si(v / 1000.0); }
constexpr Volume us_gallons(double v) { return Volume::from_si(v * kCubicMetresPerUsGallon); }
constexpr Volume us_quarts(double v) { return Volume::from_si(v * kCubicMetresPerUsGallon / 4.0); }
constexpr Volume us_pints(double v) { return Volume::from_si(v * kCubicMetresPerUsGallon / 8.0); }
constexpr Volume us_cups(double v) { return Volume::from_si(v * kCubicMetresPerUsGallon / 16.0); }
constexpr Volume us_tablespoons(double v) { return Volume::from_si(v * kCubicMetresPerUsGallon / 256.0); }
constexpr double in_litres(Volume v) { return v.si() * 1000.0; }
constexpr double in_us_gallons(Volume v) { return v.si() / kCubicMetresPerUsGallon; }
constexpr double in_us_quarts(Volume v) { return in_us_gallons(v) * 4.0; }
constexpr double in_us_cups(Volume v) { return in_us_gallons(v) * 16.0; }

constexpr Duration seconds(double v) { return Duration::from_si(v); }
constexpr Duration minutes(double v) { return Duration::from_si(v * 60.0); }
constexpr Duration hours(double v) { return Duration::from_si(v * 3600.0); }
constexpr Duration days(double v) { return Duration::from_si(v * 86400.0); }
constexpr double in_minutes(Duration d) { return d.si() / 60.0; }
constexpr double in_hours(Duration d) { return d.si() / 3600.0; }
constexpr double in_days(Duration d) { return d.si() / 86400.0; }

constexpr Length inches(double v) { return Length::from_si(v * 0.0254); }
constexpr double in_inches(Length v) { return v.si() / 0.0254; }
constexpr GaugePressure psi_gauge(double v) { return GaugePressure::from_si(v * kPascalsPerPsi); }
constexpr double in_psi(GaugePressure p) { return p.si() / kPascalsPerPsi; }
constexpr TemperatureDifference kelvin_difference(double v) { return TemperatureDifference::from_si(v); }

}  // namespace stillroom::measure
