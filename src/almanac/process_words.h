#pragma once

#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace stillroom::almanac {

/// Words of a phrase, each folded: lower case, no accents, singular, one spelling per meaning ("pureed" is "puree").
using WordList = std::vector<std::string>;

/// How typed words are folded so that wording, case, plurals and spelling do not decide what is canned.
/// `same` maps a word to the one that stands for it; `free` words carry no meaning here ("canned", "of", "ripe").
struct Wording {
  std::map<std::string, std::string, std::less<>> same;
  std::set<std::string, std::less<>> free;

  /// "Pureed PUMPKINS" -> {"puree", "pumpkin"}. Anything that is neither letter nor digit parts words.
  [[nodiscard]] WordList words(std::string_view text) const;
  /// The same without the free words.
  [[nodiscard]] WordList weighty(const WordList& words) const;
};

/// What a deny row listens for, as written in the table: parts joined by '+' may stand anywhere, words inside a part
/// stand in sequence, a leading '=' means the whole phrase and nothing else.
struct WordPattern {
  std::vector<WordList> parts;
  bool whole = false;
  bool operator==(const WordPattern&) const = default;
};

[[nodiscard]] WordPattern word_pattern(const Wording& wording, std::string_view written);
[[nodiscard]] bool matches(const Wording& wording, const WordPattern& pattern, const WordList& words);

/// True when `part` stands in `words` in sequence, starting at `at`.
[[nodiscard]] bool stands_at(const WordList& words, std::size_t at, const WordList& part);

}  // namespace stillroom::almanac
