#include "measure/line.h"

#include <algorithm>
#include <array>
#include <iterator>

#include "measure/detail/reading.h"
#include "measure/detail/tokens.h"

namespace stillroom::measure {

namespace {

using detail::Cursor;
using detail::Token;
using detail::TokenKind;

constexpr std::size_t kLongestLine = 1000;  // bytes

bool digit_at(std::string_view text, std::size_t at) { return at < text.size() && text[at] >= '0' && text[at] <= '9'; }

/// Cut at commas and semicolons; a comma between two digits belongs to the number (and is judged there).
std::vector<std::string_view> phrases_of(std::string_view line) {
  std::vector<std::string_view> out;
  std::size_t start = 0;
  for (std::size_t i = 0; i <= line.size(); ++i) {
    const bool comma = i < line.size() && line[i] == ',' && !(i > 0 && digit_at(line, i - 1) && digit_at(line, i + 1));
    if (i < line.size() && !comma && line[i] != ';' && line[i] != '\n') continue;
    const auto phrase = detail::trimmed(line.substr(start, i - start));
    if (!phrase.empty()) out.push_back(phrase);
    start = i + 1;
  }
  return out;
}

/// The text from a token on, without white space and a closing full stop.
std::string rest_from(std::string_view text, const Cursor& cursor) {
  if (cursor.done()) return {};
  std::string_view rest = detail::trimmed(text.substr(cursor.peek().begin));
  if (rest.ends_with('.')) rest.remove_suffix(1);
  return std::string(detail::trimmed(rest));
}

void skip_articles(Cursor& cursor) {
  for (const auto word : {"the", "a", "an", "my", "our"}) {
    if (cursor.take_word(word)) return;
  }
}

Phrase phrase_from(std::string_view text) {
  constexpr std::array<std::string_view, 5> kVerbs = {"put", "kept", "stored", "goes", "now"};
  constexpr std::array<std::string_view, 8> kLeads = {"in", "on", "at", "from", "to", "for", "under", "by"};
  const auto tokens = detail::tokens_of(text);
  Cursor cursor(tokens);
  Phrase out;
  const auto find_lead = [&](std::size_t ahead) {
    return std::find_if(kLeads.begin(), kLeads.end(),
                        [&](std::string_view lead) { return cursor.is_word(lead, ahead); });
  };
  for (const auto verb : kVerbs) {
    if (cursor.is_word(verb) && find_lead(1) != kLeads.end()) cursor.skip();
  }
  if (const auto lead = find_lead(0); lead != kLeads.end()) {
    out.lead = *lead;
    cursor.skip();
  }
  skip_articles(cursor);
  out.words = rest_from(text, cursor);
  return out;
}

bool is_produce(const Amount& amount) {
  return amount.kind == AmountKind::mass || amount.kind == AmountKind::volume || amount.kind == AmountKind::container ||
         amount.kind == AmountKind::count;
}

/// Amount at a token of `text`, moved behind; nothing when there is none or it is a temperature, a time, a height.
Result<std::optional<Amount>> amount_at(std::string_view text, Cursor& cursor) {
  Cursor here = cursor;
  auto amount = detail::read_amount(here);
  if (!amount || !*amount) return amount;
  if (!is_produce(**amount)) return std::nullopt;
  const std::size_t begin = cursor.peek().begin;
  (*amount)->said = std::string(text.substr(begin, here.end_of_last() - begin));
  cursor = here;
  return amount;
}

/// "pears 2 bu": an amount that closes the phrase and begins with a digit. Gives the words before it.
Result<std::optional<Amount>> closing_amount(std::string_view text, const std::vector<Token>& tokens,
                                             std::string& words_before) {
  for (std::size_t i = 1; i < tokens.size(); ++i) {
    if (tokens[i].kind != TokenKind::number && tokens[i].kind != TokenKind::fraction) continue;
    Cursor cursor(tokens, i);
    auto amount = amount_at(text, cursor);
    if (!amount) return amount;
    if (!*amount || !cursor.done()) continue;
    words_before = std::string(detail::trimmed(text.substr(0, tokens[i].begin)));
    return amount;
  }
  return std::nullopt;
}

/// First phrase: the amount, if it has one, and the thing.
Result<LineParts> first_phrase(std::string_view text) {
  const auto tokens = detail::tokens_of(text);
  Cursor cursor(tokens);
  LineParts out;
  auto amount = amount_at(text, cursor);
  if (!amount) return tl::unexpected(amount.error());
  if (*amount) {
    cursor.take_word("of");
    if (!cursor.take_word("some")) skip_articles(cursor);
    out.thing = rest_from(text, cursor);
    out.amount = *std::move(amount);
    return out;
  }
  std::string before;
  amount = closing_amount(text, tokens, before);
  if (!amount) return tl::unexpected(amount.error());
  out.amount = *std::move(amount);
  out.thing = out.amount ? std::move(before) : rest_from(text, cursor);
  return out;
}

}  // namespace

Result<LineParts> parse_line(std::string_view line) {
  if (line.size() > kLongestLine) {
    return refuse("too_long", "That is too long to be one line.", {"Write one lot on each line."});
  }
  const auto phrases = phrases_of(line);
  if (phrases.empty()) return refuse("no_words", "Nothing was written.", {"Write it like: 2 bu pears, firm, pantry."});
  auto out = first_phrase(phrases.front());
  if (!out) return out;
  for (auto phrase = std::next(phrases.begin()); phrase != phrases.end(); ++phrase) {
    const auto tokens = detail::tokens_of(*phrase);
    Cursor cursor(tokens);
    if (!out->amount) {
      const auto amount = amount_at(*phrase, cursor);
      if (!amount) return tl::unexpected(amount.error());
      if (*amount && cursor.done()) {
        out->amount = **amount;
        continue;
      }
    }
    Phrase read = phrase_from(*phrase);
    if (!read.words.empty()) out->phrases.push_back(std::move(read));
  }
  return out;
}

std::optional<std::pair<std::string, Phrase>> cut_at_place(std::string_view thing) {
  const auto tokens = detail::tokens_of(thing);
  for (std::size_t i = tokens.size(); i-- > 1;) {
    const Cursor cursor(tokens, i);
    const bool lead = cursor.is_word("in") || cursor.is_word("on") || cursor.is_word("at") || cursor.is_word("from");
    if (!lead || i + 1 == tokens.size()) continue;
    return std::pair(std::string(detail::trimmed(thing.substr(0, tokens[i].begin))),
                     phrase_from(thing.substr(tokens[i].begin)));
  }
  return std::nullopt;
}

}  // namespace stillroom::measure
