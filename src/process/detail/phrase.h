#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "almanac/crops.h"
#include "almanac/process_table.h"

namespace stillroom::process::detail {

/// One reading of what is to be canned: a crop, or a dish that stands for some process ids, and the words beside it.
struct Head {
  std::string crop;                  ///< crop key, or empty
  std::vector<std::string> ids;      ///< process ids of a dish, or empty
  std::vector<std::string> lineage;  ///< the crop and its ancestors, nearest first
  almanac::WordList beside;          ///< the words that are not the name
};

/// What was typed as food and form, folded and read in every way it can be.
struct Phrase {
  almanac::WordList words;
  std::vector<Head> heads;         ///< empty when no known food is named
  std::vector<std::string> named;  ///< keys of all crops named, or standing behind a dish named, with their ancestors
};

[[nodiscard]] Phrase read_phrase(const almanac::Crops& crops, const almanac::ProcessTable& table, std::string_view food,
                                 std::string_view form);

/// True when every word beside the name is one the process is asked for by, or carries no meaning ("canned", "of").
[[nodiscard]] bool words_fit(const almanac::ProcessTable& table, const almanac::FormWords& form,
                             const almanac::WordList& beside);

/// True when nothing need be said, or one of the words that must be said was.
[[nodiscard]] bool said_enough(const almanac::FormWords& form, const almanac::WordList& words);

}  // namespace stillroom::process::detail
