#pragma once

#include "almanac/about.h"

/// The parts of `about CROP`, one function per subject. Each asks the typed look-ups and puts the rows into words.
namespace stillroom::almanac {

[[nodiscard]] AboutPart about_keeping(const Almanac& almanac, const Crop& crop);
[[nodiscard]] AboutPart about_rooms(const Almanac& almanac, const Crop& crop);
[[nodiscard]] AboutPart about_ripening(const Almanac& almanac, const Crop& crop);
[[nodiscard]] AboutPart about_limits(const Almanac& almanac, const Crop& crop);
[[nodiscard]] AboutPart about_curing(const Almanac& almanac, const Crop& crop);
[[nodiscard]] AboutPart about_freezing(const Almanac& almanac, const Crop& crop);
[[nodiscard]] AboutPart about_drying(const Almanac& almanac, const Crop& crop);
[[nodiscard]] AboutPart about_canning(const Almanac& almanac, const Crop& crop);
[[nodiscard]] AboutPart about_routes(const Almanac& almanac, const Crop& crop);
[[nodiscard]] AboutPart about_weights(const Almanac& almanac, const Crop& crop);
[[nodiscard]] AboutPart about_yields(const Almanac& almanac, const Crop& crop);
[[nodiscard]] AboutPart about_carcass(const Almanac& almanac, const Crop& crop);
[[nodiscard]] AboutPart about_labour(const Almanac& almanac, const Crop& crop);
[[nodiscard]] AboutPart about_growing(const Almanac& almanac, const Crop& crop);
[[nodiscard]] AboutPart about_eating(const Almanac& almanac, const Crop& crop);

/// "3", "3 to 5", "0.75": a range as a person would say it.
[[nodiscard]] std::string said(Span s);
/// "32 to 36 degF (0 to 2 degC)".
[[nodiscard]] std::string said_temperature(Span celsius);
/// "12 to 21 days", "3 to 6 months", "a few hours": the unit that fits.
[[nodiscard]] std::string said_days(Span days);

}  // namespace stillroom::almanac
