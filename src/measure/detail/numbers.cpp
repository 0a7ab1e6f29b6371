#include "measure/detail/numbers.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <system_error>

namespace stillroom::measure::detail {

namespace {

constexpr std::array<std::string_view, 19> kSmallWords = {
    "one",    "two",    "three",    "four",     "five",    "six",     "seven",     "eight",    "nine",    "ten",
    "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"};
constexpr std::array<std::string_view, 8> kTens = {"twenty", "thirty",  "forty",  "fifty",
                                                   "sixty",  "seventy", "eighty", "ninety"};
constexpr std::array<std::string_view, 9> kAbout = {"about", "approx", "approximately", "around", "roughly",
                                                    "some",  "nearly", "almost",        "say"};

tl::unexpected<Refusal> bad_number(std::string_view text, std::string why) {
  return refuse("bad_number", fmt::format("'{}' cannot be read as a number: {}.", text.substr(0, 30), why),
                {"Write 2.5, 2 1/2 or 2,900: a point before tenths, commas only between thousands."});
}

/// The parts between commas must be one to three digits, then exactly three each; "0,500" is a decimal comma.
bool thousands_are_right(std::string_view whole) {
  std::size_t start = 0;
  for (std::size_t part = 0; start <= whole.size(); ++part) {
    const std::size_t stop = std::min(whole.find(',', start), whole.size());
    const std::size_t length = stop - start;
    if (part == 0 ? length < 1 || length > 3 || whole[0] == '0' : length != 3) return false;
    start = stop + 1;
  }
  return true;
}

/// Whole number token, without comma or point, or nothing.
std::optional<double> whole_number(const Token& token) {
  if (token.kind != TokenKind::number || token.text.find_first_of(".,") != std::string::npos) return std::nullopt;
  const auto value = digits_value(token.text);
  return value ? std::optional(*value) : std::nullopt;
}

/// "1/2" of two whole numbers at the cursor, offset by `ahead`.
std::optional<double> slash_fraction(const Cursor& cursor, std::size_t ahead) {
  if (!cursor.is_kind(TokenKind::number, ahead) || !cursor.is_sign("/", ahead + 1) ||
      !cursor.is_kind(TokenKind::number, ahead + 2)) {
    return std::nullopt;
  }
  const auto over = whole_number(cursor.peek(ahead));
  const auto under = whole_number(cursor.peek(ahead + 2));
  if (!over || !under || *under == 0) return std::nullopt;
  return *over / *under;
}

bool is_part(const Cursor& cursor, std::string_view singular, std::size_t ahead) {
  return cursor.is_word(singular, ahead) || cursor.is_word(std::string(singular) + "s", ahead);
}

/// The size of "half", "third", "quarter" at the cursor; 0 when none stands there.
double named_part(const Cursor& cursor, std::size_t ahead) {
  if (cursor.is_word("half", ahead)) return 0.5;
  if (is_part(cursor, "third", ahead)) return 1.0 / 3.0;
  if (is_part(cursor, "quarter", ahead)) return 0.25;
  return 0;
}

/// "half of a", "half a", "1/2 a": the words between a fraction and its unit.
void skip_of_a(Cursor& cursor) {
  cursor.take_word("of");
  if (!cursor.take_word("an")) cursor.take_word("a");
}

/// Digits at the cursor: 2 | 2.5 | 2,900 | 1/2 | 1 1/2 | 1-1/2 | 1½.
Result<double> read_digits(Cursor& cursor) {
  if (cursor.is_sign("/", 1) && cursor.is_kind(TokenKind::number, 2)) {
    const auto fraction = slash_fraction(cursor, 0);
    if (!fraction) return bad_number(cursor.peek().text + "/" + cursor.peek(2).text, "it is not a fraction");
    cursor.skip(3);
    skip_of_a(cursor);
    return *fraction;
  }
  const auto value = digits_value(cursor.peek().text);
  if (!value) return tl::unexpected(value.error());
  const bool whole = cursor.peek().text.find('.') == std::string::npos;
  cursor.skip();
  if (whole && cursor.is_kind(TokenKind::fraction)) {
    const double part = cursor.peek().value;
    cursor.skip();
    return *value + part;
  }
  const std::size_t dash = cursor.is_sign("-") ? 1 : 0;
  const auto part = slash_fraction(cursor, dash);
  if (whole && part && *part < 1) {
    cursor.skip(dash + 3);
    return *value + *part;
  }
  return *value;
}

/// "three", "twenty-five", "a hundred", "half", "a half", "three quarters"; nothing and unmoved when not a number.
std::optional<NumberRead> read_words(Cursor& cursor) {
  if (const auto fraction = read_fraction(cursor)) {
    skip_of_a(cursor);
    return NumberRead{.value = *fraction};
  }
  if (cursor.is_word("a") || cursor.is_word("an")) {
    cursor.skip();
    return NumberRead{.value = 1, .article = true};
  }
  for (const auto word : {"dozen", "couple"}) {
    if (cursor.is_word(word)) return NumberRead{.value = 1};
  }
  const auto first = number_word(cursor.peek().text);
  if (!cursor.is_kind(TokenKind::word) || !first) return std::nullopt;
  cursor.skip();
  const std::size_t dash = cursor.is_sign("-") ? 1 : 0;
  const auto second = cursor.is_kind(TokenKind::word, dash) ? number_word(cursor.peek(dash).text) : std::nullopt;
  if (*first >= 20 && second && *second < 10) {
    cursor.skip(dash + 1);
    return NumberRead{.value = static_cast<double>(*first + *second)};
  }
  return NumberRead{.value = static_cast<double>(*first)};
}

/// "2 dozen", "a couple of", "three hundred", "two and a half".
void read_multiple(Cursor& cursor, NumberRead& number) {
  double times = 1;
  if (cursor.take_word("dozen"))
    times = 12;
  else if (cursor.take_word("couple"))
    times = 2;
  else if (cursor.take_word("hundred"))
    times = 100;
  if (times > 1) {
    number.value *= times;
    number.article = false;
    if (times < 100) cursor.take_word("of");
    return;
  }
  if (number.article || !cursor.is_word("and")) return;
  Cursor after = cursor;
  after.skip();
  if (const auto fraction = read_fraction(after)) {
    number.value += *fraction;
    cursor = after;
  }
}

/// "-12", "to 12", "or 12" right behind a number.
std::optional<double> range_end(const Cursor& cursor) {
  if (!cursor.is_sign("-") && !cursor.is_word("to") && !cursor.is_word("or")) return std::nullopt;
  if (cursor.is_kind(TokenKind::number, 1)) {
    const auto value = digits_value(cursor.peek(1).text);
    if (value) return *value;
  }
  if (cursor.is_kind(TokenKind::word, 1)) {
    if (const auto value = number_word(cursor.peek(1).text)) return *value;
  }
  return std::nullopt;
}

}  // namespace

Result<double> digits_value(std::string_view text) {
  if (std::count(text.begin(), text.end(), '.') > 1) return bad_number(text, "it has two points");
  const std::size_t point = std::min(text.find('.'), text.size());
  const std::string_view whole = text.substr(0, point);
  if (text.substr(point).find(',') != std::string_view::npos) return bad_number(text, "a comma stands after the point");
  if (whole.find(',') != std::string_view::npos && !thousands_are_right(whole)) {
    return bad_number(text, "its comma does not part thousands");
  }
  std::string plain;
  std::copy_if(text.begin(), text.end(), std::back_inserter(plain), [](char c) { return c != ','; });
  if (plain.size() > 12) return bad_number(text, "it has too many digits");
  if (plain.starts_with('.')) plain.insert(plain.begin(), '0');
  double value = 0;
  const auto [end, error] = std::from_chars(plain.data(), plain.data() + plain.size(), value);
  if (error != std::errc{} || end != plain.data() + plain.size()) return bad_number(text, "it is not a plain number");
  return value;
}

std::optional<int> number_word(std::string_view word) {
  for (std::size_t i = 0; i < kSmallWords.size(); ++i) {
    if (kSmallWords[i] == word) return static_cast<int>(i) + 1;
  }
  for (std::size_t i = 0; i < kTens.size(); ++i) {
    if (kTens[i] == word) return static_cast<int>(i + 2) * 10;
  }
  return std::nullopt;
}

std::optional<double> read_fraction(Cursor& cursor) {
  if (cursor.is_kind(TokenKind::fraction)) {
    const double value = cursor.peek().value;
    cursor.skip();
    return value;
  }
  if (const auto fraction = slash_fraction(cursor, 0); fraction && *fraction < 1) {
    cursor.skip(3);
    return fraction;
  }
  if (const double part = named_part(cursor, 0); part > 0) {
    cursor.skip();
    return part;
  }
  const double part = named_part(cursor, cursor.is_sign("-", 1) ? 2 : 1);
  if (part <= 0 || !cursor.is_kind(TokenKind::word)) return std::nullopt;
  const bool article = cursor.is_word("a") || cursor.is_word("an");
  const int times = article ? 1 : number_word(cursor.peek().text).value_or(0);
  // "two half bushels" counts half-bushel baskets: only "one half" is a fraction.
  if (times == 0 || times * part >= 1) return std::nullopt;
  cursor.skip(cursor.is_sign("-", 1) ? 3 : 2);
  return times * part;
}

Result<std::optional<NumberRead>> read_number(Cursor& cursor) {
  Cursor here = cursor;
  bool about = here.take_sign("~");
  for (const auto word : kAbout) about = here.take_word(word) || about;
  const bool negative = here.take_sign("-") || here.take_word("minus");
  std::optional<NumberRead> number;
  if (here.is_kind(TokenKind::number)) {
    const auto value = read_digits(here);
    if (!value) return tl::unexpected(value.error());
    number = NumberRead{.value = *value};
  } else {
    number = read_words(here);
  }
  if (!number) return std::nullopt;
  read_multiple(here, *number);
  if (const auto other = range_end(here)) {
    return refuse("amount_range", "Two amounts stand there, from one to another.",
                  {fmt::format("Write one amount, such as about {:g}.", (number->value + *other) / 2)});
  }
  number->about = about;
  number->negative = negative;
  if (negative) number->value = -number->value;
  cursor = here;
  return number;
}

}  // namespace stillroom::measure::detail
