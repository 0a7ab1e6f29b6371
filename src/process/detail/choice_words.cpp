#include "process/detail/choice_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "process/detail/refusals.h"

namespace stillroom::process {

std::string canner_key(const Choice& c) {
  if (c.method == "dial_gauge") return "dial";
  if (c.method == "weighted_gauge") return "weighted";
  return std::ranges::find(c.requirements, "steam_canner_not_over_45_min") != c.requirements.end() ? "steam" : c.method;
}

std::string canner_words(const Choice& c) {
  return canner_key(c) == "steam" ? "steam canner" : detail::method_in_words(c.method);
}

std::string altitude_band(const Choice& c) {
  if (!c.altitude_to_ft) return "above " + detail::feet_in_words(c.altitude_over_ft);
  // Tables print a band above 1,000 ft as beginning at 1,001.
  auto low = detail::feet_in_words(c.altitude_over_ft == 0 ? 0 : c.altitude_over_ft + 1);
  low.resize(low.size() - std::string_view(" ft").size());
  return fmt::format("{} to {}", low, detail::feet_in_words(*c.altitude_to_ft));
}

}  // namespace stillroom::process

namespace stillroom::process::detail {

std::string inches_in_words(double inches) {
  constexpr std::array<std::pair<double, const char*>, 8> kEighths{{{0.125, "1/8"},
                                                                    {0.25, "1/4"},
                                                                    {0.375, "3/8"},
                                                                    {0.5, "1/2"},
                                                                    {0.75, "3/4"},
                                                                    {1.0, "1"},
                                                                    {1.25, "1-1/4"},
                                                                    {1.5, "1-1/2"}}};
  for (const auto& [value, word] : kEighths) {
    if (value == inches) return word;
  }
  return fmt::format("{:g}", inches);
}

std::string title_in_words(const Choice& c) {
  auto title = fmt::format("{}, {} ({} pack)", plain_words(c.food), plain_words(c.form), c.style_of_pack);
  if (title.front() >= 'a' && title.front() <= 'z') title.front() = static_cast<char>(title.front() - 'a' + 'A');
  return title;
}

}  // namespace stillroom::process::detail
