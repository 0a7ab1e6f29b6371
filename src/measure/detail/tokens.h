#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

/// Inside of the amount reader: text cut into numbers, words and signs, each knowing where it stood.
namespace stillroom::measure::detail {

enum class TokenKind { number, fraction, word, sign };

struct Token {
  TokenKind kind = TokenKind::sign;
  std::string text;       ///< lower case; a number keeps its commas and point; dashes of all lengths are "-"
  double value = 0;       ///< of a fraction sign such as ½
  std::size_t begin = 0;  ///< bytes in the text
  std::size_t end = 0;
  bool capital = false;  ///< first letter was upper case: "C" is Celsius, "c" may be cups
  bool spaced = false;   ///< white space stood before it
};

[[nodiscard]] std::vector<Token> tokens_of(std::string_view text);

/// A place in a token list. All tests are safe past the end.
class Cursor {
 public:
  explicit Cursor(const std::vector<Token>& tokens, std::size_t at = 0) : tokens_(&tokens), at_(at) {}
  [[nodiscard]] std::size_t at() const { return at_; }
  [[nodiscard]] bool done() const { return at_ >= tokens_->size(); }
  [[nodiscard]] const Token& peek(std::size_t ahead = 0) const;
  [[nodiscard]] bool is_word(std::string_view word, std::size_t ahead = 0) const;
  [[nodiscard]] bool is_sign(std::string_view sign, std::size_t ahead = 0) const;
  [[nodiscard]] bool is_kind(TokenKind kind, std::size_t ahead = 0) const;
  /// Moves on and says true when the word (sign) is here.
  bool take_word(std::string_view word);
  bool take_sign(std::string_view sign);
  void skip(std::size_t n = 1) { at_ += n; }
  [[nodiscard]] std::size_t end_of_last() const;  ///< byte offset after the token before this place

 private:
  const std::vector<Token>* tokens_;
  std::size_t at_;
};

/// Text without white space (also no-break and thin spaces) at both ends.
[[nodiscard]] std::string_view trimmed(std::string_view text);

}  // namespace stillroom::measure::detail
