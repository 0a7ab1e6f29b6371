#include "measure/detail/tokens.h"

#include <algorithm>
#include <array>
#include <optional>
#include <utility>

#include "measure/text.h"

namespace stillroom::measure::detail {

namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
bool is_upper(char c) { return c >= 'A' && c <= 'Z'; }

constexpr std::array<std::string_view, 7> kSpaces = {" ", "\t", "\n", "\r", "\u00a0", "\u2009", "\u202f"};

struct Sign {
  std::string_view bytes;
  std::string_view text;
};
// Signs with several shapes on keyboards and phones, and what they count as.
constexpr std::array<Sign, 9> kSigns = {{{"\u2212", "-"},
                                         {"\u2013", "-"},
                                         {"\u2014", "-"},
                                         {"\u2010", "-"},
                                         {"\u2011", "-"},
                                         {"\u2044", "/"},
                                         {"\u00b0", "°"},
                                         {"\u00ba", "°"},
                                         {"\u2248", "~"}}};

struct FractionSign {
  std::string_view bytes;
  double value;
};
constexpr std::array<FractionSign, 9> kFractions = {{{"¼", 0.25},
                                                     {"½", 0.5},
                                                     {"¾", 0.75},
                                                     {"⅓", 1.0 / 3.0},
                                                     {"⅔", 2.0 / 3.0},
                                                     {"⅛", 0.125},
                                                     {"⅜", 0.375},
                                                     {"⅝", 0.625},
                                                     {"⅞", 0.875}}};

/// Bytes of white space at the front of `text`.
std::size_t space_length(std::string_view text) {
  for (const auto space : kSpaces) {
    if (text.starts_with(space)) return space.size();
  }
  return 0;
}

/// Digits, with commas and points that have a digit behind them.
std::size_t number_length(std::string_view text) {
  std::size_t n = 0;
  while (n < text.size()) {
    const bool mark = text[n] == '.' || text[n] == ',';
    if (!is_digit(text[n]) && !(mark && n + 1 < text.size() && is_digit(text[n + 1]))) break;
    ++n;
  }
  return n;
}

std::optional<Token> special_at(std::string_view text) {
  for (const auto& f : kFractions) {
    if (text.starts_with(f.bytes)) {
      return Token{.kind = TokenKind::fraction, .text = std::string(f.bytes), .value = f.value, .end = f.bytes.size()};
    }
  }
  for (const auto& s : kSigns) {
    if (text.starts_with(s.bytes)) return Token{.text = std::string(s.text), .end = s.bytes.size()};
  }
  return std::nullopt;
}

/// Letters, apostrophes inside, and any other script's bytes; stops at a special sign.
std::size_t word_length(std::string_view text) {
  std::size_t n = 0;
  while (n < text.size()) {
    const bool other_script = (static_cast<unsigned char>(text[n]) & 0x80U) != 0;
    const bool inner = n > 0 && text[n] == '\'' && n + 1 < text.size() && is_letter(text[n + 1]);
    if (!is_letter(text[n]) && !other_script && !inner) break;
    if (other_script && (special_at(text.substr(n)) || space_length(text.substr(n)) > 0)) break;
    ++n;
  }
  return n;
}

/// The token at the front of `text`, with `end` as its length.
Token token_at(std::string_view text) {
  const bool point_first = text.size() > 1 && text[0] == '.' && is_digit(text[1]);
  if (is_digit(text[0]) || point_first) {
    const std::size_t n = number_length(text);
    return {.kind = TokenKind::number, .text = std::string(text.substr(0, n)), .end = n};
  }
  if (auto special = special_at(text)) return *std::move(special);
  if (const std::size_t n = word_length(text); n > 0) {
    return {.kind = TokenKind::word, .text = lowered(text.substr(0, n)), .end = n, .capital = is_upper(text[0])};
  }
  return {.text = std::string(text.substr(0, 1)), .end = 1};
}

}  // namespace

std::vector<Token> tokens_of(std::string_view text) {
  std::vector<Token> out;
  bool spaced = false;
  for (std::size_t at = 0; at < text.size();) {
    if (const std::size_t n = space_length(text.substr(at)); n > 0) {
      at += n;
      spaced = true;
      continue;
    }
    Token token = token_at(text.substr(at));
    token.begin = at;
    token.end += at;
    token.spaced = spaced;
    at = token.end;
    spaced = false;
    out.push_back(std::move(token));
  }
  return out;
}

const Token& Cursor::peek(std::size_t ahead) const {
  static const Token kNone;
  return at_ + ahead < tokens_->size() ? (*tokens_)[at_ + ahead] : kNone;
}

bool Cursor::is_word(std::string_view word, std::size_t ahead) const {
  return is_kind(TokenKind::word, ahead) && peek(ahead).text == word;
}

bool Cursor::is_sign(std::string_view sign, std::size_t ahead) const {
  return is_kind(TokenKind::sign, ahead) && peek(ahead).text == sign;
}

bool Cursor::is_kind(TokenKind kind, std::size_t ahead) const {
  return at_ + ahead < tokens_->size() && peek(ahead).kind == kind;
}

bool Cursor::take_word(std::string_view word) {
  if (!is_word(word)) return false;
  ++at_;
  return true;
}

bool Cursor::take_sign(std::string_view sign) {
  if (!is_sign(sign)) return false;
  ++at_;
  return true;
}

std::size_t Cursor::end_of_last() const { return at_ == 0 ? 0 : (*tokens_)[at_ - 1].end; }

std::string_view trimmed(std::string_view text) {
  while (!text.empty()) {
    const std::size_t n = space_length(text);
    if (n == 0) break;
    text.remove_prefix(n);
  }
  for (bool again = true; again;) {
    again = false;
    for (const auto space : kSpaces) {
      if (text.ends_with(space)) {
        text.remove_suffix(space.size());
        again = true;
      }
    }
  }
  return text;
}

}  // namespace stillroom::measure::detail
