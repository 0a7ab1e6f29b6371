#include "almanac/detail/route_words.h"

#include <charconv>
#include <cmath>
#include <optional>

namespace stillroom::almanac::detail {
namespace {

bool name_start(char c) { return (c >= 'a' && c <= 'z') || c == '_'; }
bool digit(char c) { return c >= '0' && c <= '9'; }

std::optional<double> as_number(std::string_view cell) {
  double value = 0;
  const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  if (error != std::errc{} || end != cell.data() + cell.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

/// Recursive descent over + - * / ( ). Stops at the first thing it cannot read and remembers why.
class Formula {
 public:
  Formula(std::string_view text, const std::map<std::string, double>& numbers) : text_(text), numbers_(numbers) {}

  measure::Result<double> value() {
    const double v = sum();
    skip_blanks();
    if (why_.empty() && at_ != text_.size()) why_ = "unexpected \"" + std::string(text_.substr(at_)) + "\"";
    if (why_.empty() && !std::isfinite(v)) why_ = "no finite number comes out";
    if (why_.empty()) return v;
    return measure::refuse("bad_formula", "formula \"" + std::string(text_) + "\": " + why_);
  }

 private:
  static constexpr int kDeepest = 50;  // brackets within brackets; a hostile file must not exhaust the stack

  void skip_blanks() {
    while (at_ < text_.size() && text_[at_] == ' ') ++at_;
  }
  bool take(char c) {
    skip_blanks();
    if (at_ >= text_.size() || text_[at_] != c) return false;
    ++at_;
    return true;
  }
  double sum() {
    double v = product();
    while (why_.empty()) {
      if (take('+')) {
        v += product();
      } else if (take('-')) {
        v -= product();
      } else {
        break;
      }
    }
    return v;
  }
  double product() {
    double v = factor();
    while (why_.empty()) {
      if (take('*')) {
        v *= factor();
      } else if (take('/')) {
        const double d = factor();
        if (d == 0 && why_.empty()) why_ = "division by zero";
        v /= d;
      } else {
        break;
      }
    }
    return v;
  }
  double factor() {
    if (take('(')) {
      if (++depth_ > kDeepest) return fail("too many brackets");
      const double v = sum();
      --depth_;
      return take(')') || !why_.empty() ? v : fail("a bracket is not closed");
    }
    skip_blanks();
    const std::size_t from = at_;
    if (at_ < text_.size() && name_start(text_[at_])) {
      while (at_ < text_.size() && (name_start(text_[at_]) || digit(text_[at_]))) ++at_;
      return named(std::string(text_.substr(from, at_ - from)));
    }
    while (at_ < text_.size() && (digit(text_[at_]) || text_[at_] == '.')) ++at_;
    if (const auto v = as_number(text_.substr(from, at_ - from))) return *v;
    return fail("a number or a name is missing");
  }
  double named(const std::string& name) {
    const auto found = numbers_.find(name);
    return found != numbers_.end() ? found->second : fail("\"" + name + "\" is no number of this row or template");
  }
  double fail(std::string why) {
    if (why_.empty()) why_ = std::move(why);
    return 0;
  }

  std::string_view text_;
  const std::map<std::string, double>& numbers_;
  std::size_t at_ = 0;
  int depth_ = 0;
  std::string why_;
};

/// One blank between words and none at the ends, so that an empty column leaves no hole in a sentence.
std::string tidy_blanks(const std::string& text) {
  std::string out;
  for (const char c : text)
    if (c != ' ' || (!out.empty() && out.back() != ' ')) out += c;
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

}  // namespace

void RouteWords::set(std::string name, std::string text) {
  if (text.empty()) {
    numbers_[name] = 0;
  } else if (const auto v = as_number(text)) {
    numbers_[name] = *v;
  } else {
    numbers_.erase(name);
  }
  texts_[std::move(name)] = std::move(text);
}

void RouteWords::set(std::string name, double value) { numbers_[std::move(name)] = value; }

measure::Result<double> RouteWords::number(std::string_view formula) const {
  return Formula(formula, numbers_).value();
}

measure::Result<std::string> RouteWords::fill(std::string_view text) const {
  std::string out;
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t open = text.find('<', at);
    out += text.substr(at, open - at);
    if (open == std::string_view::npos) break;
    const std::size_t close = text.find('>', open);
    const std::string name(text.substr(open + 1, close == std::string_view::npos ? close : close - open - 1));
    const auto found = texts_.find(name);
    if (close == std::string_view::npos || found == texts_.end())
      return measure::refuse("bad_text", "placeholder <" + name + "> is no column of the table");
    out += found->second;
    at = close + 1;
  }
  return tidy_blanks(out);
}

std::vector<std::string> names_between(std::string_view text, char open, char close) {
  std::vector<std::string> names;
  for (std::size_t at = text.find(open); at != std::string_view::npos; at = text.find(open, at + 1)) {
    const std::size_t end = text.find(close, at);
    names.emplace_back(text.substr(at + 1, end == std::string_view::npos ? end : end - at - 1));
    if (end == std::string_view::npos) break;
  }
  return names;
}

}  // namespace stillroom::almanac::detail
