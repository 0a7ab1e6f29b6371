#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <numeric>
#include <utility>

#include "measure/detail/tokens.h"
#include "measure/text.h"

namespace stillroom::measure {

namespace {

bool vowel(char c) { return std::string_view("aeiou").find(c) != std::string_view::npos; }

std::string plural_word(std::string_view word) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 9> kIrregular = {{{"loaf", "loaves"},
                                                                                        {"half", "halves"},
                                                                                        {"leaf", "leaves"},
                                                                                        {"knife", "knives"},
                                                                                        {"foot", "feet"},
                                                                                        {"tomato", "tomatoes"},
                                                                                        {"potato", "potatoes"},
                                                                                        {"person", "people"},
                                                                                        {"child", "children"}}};
  for (const auto& [one, many] : kIrregular) {
    if (word.ends_with(one)) return std::string(word.substr(0, word.size() - one.size())) + std::string(many);
  }
  std::string out(word);
  if (out.empty()) return out;
  const bool hisses = out.ends_with("s") || out.ends_with("x") || out.ends_with("ch") || out.ends_with("sh");
  if (out.ends_with('y') && out.size() > 1 && !vowel(out[out.size() - 2])) return out.substr(0, out.size() - 1) + "ies";
  return out + (hisses ? "es" : "s");
}

struct Near {
  int distance = 0;
  std::size_t place = 0;
  auto operator<=>(const Near&) const = default;
};

/// edit_distance of words already in lower case. Three rows of the usual table are enough.
int lower_distance(std::string_view x, std::string_view y) {
  std::vector<int> before_last(y.size() + 1);
  std::vector<int> last(y.size() + 1);
  std::vector<int> row(y.size() + 1);
  std::iota(last.begin(), last.end(), 0);
  for (std::size_t i = 1; i <= x.size(); ++i) {
    row[0] = static_cast<int>(i);
    for (std::size_t j = 1; j <= y.size(); ++j) {
      const int change = x[i - 1] == y[j - 1] ? 0 : 1;
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + change});
      if (i > 1 && j > 1 && x[i - 1] == y[j - 2] && x[i - 2] == y[j - 1]) {
        row[j] = std::min(row[j], before_last[j - 2] + 1);
      }
    }
    before_last.swap(last);
    last.swap(row);
  }
  return last[y.size()];
}

}  // namespace

std::string plural(std::string_view noun) {
  for (const std::string_view link : {" of ", " with ", " in "}) {
    if (const std::size_t at = noun.find(link); at != std::string_view::npos) {
      return plural(noun.substr(0, at)) + std::string(noun.substr(at));
    }
  }
  const std::size_t space = noun.rfind(' ');
  if (space == std::string_view::npos) return plural_word(noun);
  return std::string(noun.substr(0, space + 1)) + plural_word(noun.substr(space + 1));
}

std::string_view say_weekday(Date day) {
  constexpr std::array<std::string_view, 7> kDays = {"Sunday",   "Monday", "Tuesday", "Wednesday",
                                                     "Thursday", "Friday", "Saturday"};
  return kDays[std::chrono::weekday(day).c_encoding()];
}

std::string say_day(Date day, Date today) {
  constexpr std::array<std::string_view, 12> kMonths = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                        "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  const auto away = (day - today).count();
  if (away == 0) return "today";
  if (away == 1) return "tomorrow";
  if (away == -1) return "yesterday";
  const std::string_view weekday = say_weekday(day);
  if (away > 1 && away <= 6) return std::string(weekday);
  const std::chrono::year_month_day ymd{day};
  std::string out = fmt::format("{} {} {}", weekday.substr(0, 3), static_cast<unsigned>(ymd.day()),
                                kMonths[static_cast<unsigned>(ymd.month()) - 1]);
  if (ymd.year() != std::chrono::year_month_day(today).year()) out += fmt::format(" {}", static_cast<int>(ymd.year()));
  return out;
}

std::string say_clock(LocalTime t, Units units) {
  const auto of_day = (t - std::chrono::floor<std::chrono::days>(t)).count();
  const auto h = of_day / 3600;
  const auto min = of_day / 60 % 60;
  if (units == Units::metric) return fmt::format("{:02}:{:02}", h, min);
  return fmt::format("{}:{:02} {}", (h + 11) % 12 + 1, min, h < 12 ? "am" : "pm");
}

std::string say_list(const std::vector<std::string>& words) {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) out += i + 1 == words.size() ? " and " : ", ";
    out += words[i];
  }
  return out;
}

int edit_distance(std::string_view a, std::string_view b) { return lower_distance(lowered(a), lowered(b)); }

std::vector<std::string> suggest(std::string_view typed, const std::vector<std::string>& candidates, std::size_t most) {
  const std::string word = lowered(detail::trimmed(typed));
  if (word.empty() || word.size() > 64) return {};  // longer text is no mistyped name, and the cost is quadratic
  std::vector<Near> near;
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    const std::string candidate = lowered(candidates[i]);
    if (candidate == word) return {candidates[i]};
    const auto [shorter, longer] = std::minmax({word.size(), candidate.size()});
    const int allowed = std::max(1, static_cast<int>(longer) / 3);
    // No word is nearer than the difference of the lengths.
    const int apart = static_cast<int>(longer - shorter);
    const int distance = apart > allowed ? apart : lower_distance(word, candidate);
    const bool begins =
        word.size() >= 3 && (candidate.starts_with(word) || word.starts_with(candidate)) && candidate.size() >= 3;
    // A shared beginning ranks behind the nearest misspellings but before distant ones.
    if (distance <= allowed)
      near.push_back({distance, i});
    else if (begins)
      near.push_back({allowed + 1, i});
  }
  std::sort(near.begin(), near.end());
  std::vector<std::string> out;
  for (const auto& n : near) {
    if (out.size() == most) break;
    if (std::find(out.begin(), out.end(), candidates[n.place]) == out.end()) out.push_back(candidates[n.place]);
  }
  return out;
}

}  // namespace stillroom::measure
