#pragma once

namespace stillroom::almanac {
struct Tables {};
}  // namespace stillroom::almanac
