#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "almanac/almanac.h"

namespace stillroom::almanac {

/// One thing known of a crop, in words, with where it comes from and how surely.
struct AboutFact {
  std::string what;    ///< "best kept at"
  std::string value;   ///< "30 to 32 degF (-1 to 0 degC), 90 to 95 % humidity, for 60 to 90 days"
  std::string from;    ///< whose row it is: "for Bartlett pear, taken for pear in general"
  std::string source;  ///< as in the table
  Sureness checked = Sureness::common_practice;
};

/// Facts of one subject. An empty part says so in `none`.
struct AboutPart {
  std::string key;    ///< "keeping", "canning", ...
  std::string title;  ///< "Keeping fresh"
  std::vector<AboutFact> facts;
  std::string none;  ///< what to say when there is no fact; empty = leave the part out
};

/// Everything on file about a crop. Heat processes are named by form and id only: their times are shown nowhere but
/// where a process is chosen for an altitude (process/).
struct About {
  std::string crop, name, plural, kind;
  std::vector<std::string> also_called, varieties;
  std::vector<std::string> cautions;  ///< "be certain what it is", ...
  std::vector<AboutPart> parts;
};

/// By anything a person types. Refuses as Crops::named does.
[[nodiscard]] measure::Result<About> about(const Almanac& almanac, std::string_view typed);
/// For people: indented text, US units first, metric beside them.
[[nodiscard]] std::string to_text(const About& about);
/// One JSON object with the same facts; `checked` by its code ("yes", "memory", ...).
[[nodiscard]] std::string to_json(const About& about);

}  // namespace stillroom::almanac
