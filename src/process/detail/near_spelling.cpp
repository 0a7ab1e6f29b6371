#include "process/detail/near_spelling.h"

#include <algorithm>
#include <cstdlib>

#include "measure/text.h"
#include "process/detail/denial.h"

namespace stillroom::process::detail {

namespace {

constexpr std::size_t kShortestWord = 4;  // "bean" and "beet" apart; three letters are near to everything
constexpr std::size_t kMostReadings = 32;

/// The known words nearest to `word`, all at the same distance; empty when none is near.
std::vector<std::string> nearest(const almanac::ProcessTable& table, const std::string& word) {
  std::vector<std::string> best;
  if (word.size() < kShortestWord) return best;
  int least = static_cast<int>(word.size());
  for (const auto& known : table.known_words) {
    if (known.size() < kShortestWord) continue;
    const int limit = std::min(least, static_cast<int>(std::max(word.size(), known.size()) / 3));
    if (std::abs(static_cast<int>(known.size()) - static_cast<int>(word.size())) > limit) continue;
    const int d = measure::edit_distance(word, known);
    if (d > limit) continue;
    if (d < least) best.clear();
    least = d;
    best.push_back(known);
  }
  return best;
}

/// Every way to read the words, the unknown ones as something near. One reading when all are known.
std::vector<almanac::WordList> readings(const almanac::ProcessTable& table, const almanac::WordList& words) {
  std::vector<almanac::WordList> all(1);
  for (const auto& word : words) {
    auto ways = table.known_words.contains(word) ? std::vector<std::string>{word} : nearest(table, word);
    if (ways.empty()) ways = {word};
    std::vector<almanac::WordList> next;
    for (const auto& reading : all) {
      for (const auto& way : ways) {
        if (next.size() == kMostReadings) break;
        next.push_back(reading);
        next.back().push_back(way);
      }
    }
    all = std::move(next);
  }
  return all;
}

std::string spaced(const almanac::WordList& words) {
  std::string out;
  for (const auto& word : words) out += (out.empty() ? "" : " ") + word;
  return out;
}

}  // namespace

std::optional<NearDenial> near_denial(const almanac::Almanac& almanac, const Question& q, const Phrase& phrase) {
  const auto& table = almanac.processes;
  if (std::ranges::all_of(phrase.words, [&](const auto& w) { return table.known_words.contains(w); })) return {};
  for (const auto& reading : readings(table, phrase.words)) {
    const auto meant = spaced(reading);
    const auto read = read_phrase(almanac.crops, table, meant, "");
    if (const auto* row = denied(table, q, read)) return NearDenial{row, meant};
  }
  return {};
}

}  // namespace stillroom::process::detail
