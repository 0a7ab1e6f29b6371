#include "process/detail/denial.h"

#include <algorithm>
#include <array>

namespace stillroom::process::detail {

namespace {

using almanac::DenyRow;
using almanac::WordList;

constexpr std::array kKnownCanners{"",         "boiling_water",  "steam",    "dial",           "dial_gauge",
                                   "weighted", "weighted_gauge", "pressure", "low_temperature"};

bool any_stands(const almanac::ProcessTable& table, const std::vector<almanac::WordPattern>& patterns,
                const WordList& words) {
  return std::ranges::any_of(patterns, [&](const auto& p) { return almanac::matches(table.wording, p, words); });
}

bool speaks(const almanac::ProcessTable& table, const DenyRow& row, const WordList& words, const Phrase& phrase) {
  if (row.crops.empty() && row.triggers.empty()) return false;  // only asked for by key
  const bool names_crop = row.crops.empty() || std::ranges::any_of(row.crops, [&](const auto& key) {
                            return std::ranges::count(phrase.named, key) > 0;
                          });
  if (!names_crop) return false;
  if (!row.triggers.empty() && !any_stands(table, row.triggers, words)) return false;
  return !any_stands(table, row.lifts, words);
}

void append(WordList& to, const WordList& more) { to.insert(to.end(), more.begin(), more.end()); }

}  // namespace

bool is_known_canner(std::string_view canner) {
  return std::ranges::find(kKnownCanners, canner) != kKnownCanners.end();
}

const DenyRow* denied(const almanac::ProcessTable& table, const Question& q, const Phrase& phrase) {
  WordList words = phrase.words;
  append(words, table.wording.words(q.style_of_pack));
  append(words, table.wording.words(q.jar));
  if (!is_known_canner(q.canner)) append(words, table.wording.words(q.canner));
  const auto it =
      std::ranges::find_if(table.deny, [&](const DenyRow& row) { return speaks(table, row, words, phrase); });
  return it == table.deny.end() ? nullptr : &*it;
}

}  // namespace stillroom::process::detail
