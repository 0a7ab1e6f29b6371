#include "almanac/process_words.h"

#include <algorithm>
#include <array>
#include <utility>

namespace stillroom::almanac {

namespace {

/// UTF-8 second bytes after 0xC3 (Latin-1 letters) that matter in kitchen words: e and a with accents, n with tilde...
constexpr std::array<std::pair<unsigned char, char>, 22> kAccents{
    {{0x80, 'a'}, {0x81, 'a'}, {0x82, 'a'}, {0x84, 'a'}, {0x87, 'c'}, {0x88, 'e'}, {0x89, 'e'}, {0x8A, 'e'},
     {0x91, 'n'}, {0x96, 'o'}, {0x9C, 'u'}, {0xA0, 'a'}, {0xA1, 'a'}, {0xA2, 'a'}, {0xA4, 'a'}, {0xA7, 'c'},
     {0xA8, 'e'}, {0xA9, 'e'}, {0xAA, 'e'}, {0xB1, 'n'}, {0xB6, 'o'}, {0xBC, 'u'}}};

char letter_without_accent(unsigned char second) {
  const auto* it = std::ranges::find(kAccents, second, &std::pair<unsigned char, char>::first);
  return it == kAccents.end() ? '\0' : it->second;
}

bool word_ends(std::string_view word, std::string_view tail) { return word.ends_with(tail); }

/// One cut is enough here: both the table's words and the person's go through it.
std::string singular(std::string word) {
  if (word.size() <= 3 || !word_ends(word, "s") || word_ends(word, "ss") || word_ends(word, "us")) return word;
  if (word.size() > 4 && word_ends(word, "ies")) return word.substr(0, word.size() - 3) + "y";
  for (const auto* tail : {"ches", "shes", "xes", "sses", "oes"}) {
    if (word_ends(word, tail)) return word.substr(0, word.size() - 2);
  }
  return word.substr(0, word.size() - 1);
}

/// Splits at everything that is neither letter nor digit, folding case and accents. Apostrophes vanish ("cow's").
WordList raw_words(std::string_view text) {
  WordList out;
  std::string word;
  const auto flush = [&] {
    if (!word.empty()) out.push_back(std::exchange(word, {}));
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto c = static_cast<unsigned char>(text[i]);
    if (c == 0xC3 && i + 1 < text.size()) {
      if (const char letter = letter_without_accent(static_cast<unsigned char>(text[++i]))) word += letter;
    } else if (c == 0xCC && i + 1 < text.size()) {
      ++i;  // a combining accent, written after its letter
    } else if (c >= 'A' && c <= 'Z') {
      word += static_cast<char>(c - 'A' + 'a');
    } else if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) {
      word += static_cast<char>(c);
    } else if (c != '\'') {
      flush();
    }
  }
  flush();
  return out;
}

bool stands_anywhere(const WordList& words, const WordList& part) {
  for (std::size_t at = 0; at + part.size() <= words.size(); ++at) {
    if (stands_at(words, at, part)) return true;
  }
  return false;
}

}  // namespace

WordList Wording::words(std::string_view text) const {
  WordList out = raw_words(text);
  for (auto& w : out) {
    if (const auto it = same.find(w); it != same.end()) {
      w = it->second;
      continue;
    }
    w = singular(std::move(w));
    if (const auto it = same.find(w); it != same.end()) w = it->second;
  }
  return out;
}

WordList Wording::weighty(const WordList& words) const {
  WordList out;
  std::ranges::copy_if(words, std::back_inserter(out), [this](const auto& w) { return !free.contains(w); });
  return out;
}

WordPattern word_pattern(const Wording& wording, std::string_view written) {
  WordPattern pattern;
  if (written.starts_with('=')) {
    pattern.whole = true;
    written.remove_prefix(1);
  }
  while (true) {
    const auto cut = written.find('+');
    if (auto part = wording.words(written.substr(0, cut)); !part.empty()) pattern.parts.push_back(std::move(part));
    if (cut == std::string_view::npos) return pattern;
    written.remove_prefix(cut + 1);
  }
}

bool matches(const Wording& wording, const WordPattern& pattern, const WordList& words) {
  if (pattern.parts.empty()) return false;
  if (pattern.whole) return wording.weighty(words) == pattern.parts.front();
  return std::ranges::all_of(pattern.parts, [&](const auto& part) { return stands_anywhere(words, part); });
}

bool stands_at(const WordList& words, std::size_t at, const WordList& part) {
  if (part.empty() || at + part.size() > words.size()) return false;
  return std::equal(part.begin(), part.end(), words.begin() + static_cast<std::ptrdiff_t>(at));
}

}  // namespace stillroom::almanac
