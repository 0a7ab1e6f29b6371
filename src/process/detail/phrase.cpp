#include "process/detail/phrase.h"

#include <algorithm>
#include <optional>

namespace stillroom::process::detail {

namespace {

using almanac::NamePhrase;
using almanac::WordList;

/// A name found in the phrase, from word `begin`.
struct Found {
  const NamePhrase* name;
  std::size_t begin;
};

/// The longest name that starts at word `at`. Dishes stand before crops of the same name.
const NamePhrase* longest_name_at(const almanac::ProcessTable& table, const WordList& words, std::size_t at) {
  const auto names = table.names_by_first_word.find(words[at]);
  if (names == table.names_by_first_word.end()) return nullptr;
  for (const auto i : names->second) {
    if (almanac::stands_at(words, at, table.names[i].words)) return &table.names[i];
  }
  return nullptr;
}

std::vector<Found> find_names(const almanac::ProcessTable& table, const WordList& words) {
  std::vector<Found> found;
  for (std::size_t at = 0; at < words.size();) {
    const auto* name = longest_name_at(table, words, at);
    if (name != nullptr) found.push_back({name, at});
    at += name != nullptr ? name->words.size() : 1;
  }
  return found;
}

std::vector<std::string> lineage_of(const almanac::Crops& crops, const std::string& key) {
  std::vector<std::string> out;
  const auto* crop = crops.find(key);
  while (crop != nullptr && std::ranges::count(out, crop->key) == 0) {
    out.push_back(crop->key);
    crop = crop->parent.empty() ? nullptr : crops.find(crop->parent);
  }
  return out;
}

Head head_of(const almanac::Crops& crops, const WordList& words, const Found& found) {
  Head head{found.name->crop, found.name->ids, lineage_of(crops, found.name->crop), {}};
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i < found.begin || i >= found.begin + found.name->words.size()) head.beside.push_back(words[i]);
  }
  return head;
}

/// What a dish is made of, by the crops its rows speak for, so that the deny list sees them under the dish's name.
std::vector<std::string> crops_of_dish(const almanac::Crops& crops, const almanac::ProcessTable& table,
                                       const std::vector<std::string>& ids) {
  std::vector<std::string> out;
  for (const auto& row : table.rows) {
    if (std::ranges::count(ids, row.id) == 0) continue;
    for (const auto& key : row.covers) {
      if (std::ranges::count(out, key) > 0) continue;
      const auto lineage = lineage_of(crops, key);
      out.insert(out.end(), lineage.begin(), lineage.end());
    }
  }
  return out;
}

/// The longest of the form's wordings that starts at word `at`; 0 when none does.
std::size_t longest_wording_at(const almanac::FormWords& form, const WordList& words, std::size_t at) {
  for (const auto& wording : form.words) {
    if (almanac::stands_at(words, at, wording)) return wording.size();
  }
  return 0;
}

}  // namespace

Phrase read_phrase(const almanac::Crops& crops, const almanac::ProcessTable& table, std::string_view food,
                   std::string_view form) {
  Phrase phrase;
  phrase.words = table.wording.words(std::string(food).append(" ").append(form));
  for (const auto& found : find_names(table, phrase.words)) {
    phrase.heads.push_back(head_of(crops, phrase.words, found));
    const auto& head = phrase.heads.back();
    const auto keys = head.ids.empty() ? head.lineage : crops_of_dish(crops, table, head.ids);
    phrase.named.insert(phrase.named.end(), keys.begin(), keys.end());
  }
  return phrase;
}

bool words_fit(const almanac::ProcessTable& table, const almanac::FormWords& form, const almanac::WordList& beside) {
  for (std::size_t at = 0; at < beside.size();) {
    const auto taken = longest_wording_at(form, beside, at);
    if (taken == 0 && !table.wording.free.contains(beside[at])) return false;
    at += std::max<std::size_t>(taken, 1);
  }
  return true;
}

bool said_enough(const almanac::FormWords& form, const almanac::WordList& words) {
  if (form.said.empty()) return true;
  return std::ranges::any_of(form.said, [&](const auto& said) {
    for (std::size_t at = 0; at < words.size(); ++at) {
      if (almanac::stands_at(words, at, said)) return true;
    }
    return false;
  });
}

}  // namespace stillroom::process::detail
