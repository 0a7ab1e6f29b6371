#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "measure/amount.h"

/// Taking apart what a person types in one go, without knowing crops, conditions or places.
namespace stillroom::measure {

/// One comma-separated remark. "in the Pantry" is {lead "in", words "Pantry"}; "firm" is {lead "", words "firm"}.
struct Phrase {
  std::string lead;   ///< in, on, at, from, to, for, under, by, lower case; or empty
  std::string words;  ///< the rest, without a leading the/a/an/my/our, as typed
  bool operator==(const Phrase&) const = default;
};

/// "half a basket of quinces, soft, cellar": amount, "quinces", {"soft"}, {"cellar"}.
struct LineParts {
  std::optional<Amount> amount;  ///< none when the line has none
  std::string thing;             ///< what it is an amount of; may be empty ("2 bu")
  std::vector<Phrase> phrases;   ///< in the order typed, empty ones dropped
  bool operator==(const LineParts&) const = default;
};

/// The amount may stand first ("2 bu pears, firm"), last in the first phrase ("pears 2 bu, firm") or as a phrase of
/// its own ("pears, 2 bu, firm"). Only mass, volume, container and count are taken as the amount; "2 days ago" stays a
/// phrase. A thousands comma does not end a phrase.
/// Refusals: those of parse_amount that speak of the number itself, "too_long" (1,000 bytes) and "no_words".
[[nodiscard]] Result<LineParts> parse_line(std::string_view line);

/// For a thing that nothing knows, such as "pears in the pantry": cuts it at its last "in|on|at|from ... ".
/// Nothing when there is no such word inside.
[[nodiscard]] std::optional<std::pair<std::string, Phrase>> cut_at_place(std::string_view thing);

}  // namespace stillroom::measure
