#include "process/detail/conditions.h"

#include <fmt/format.h>

#include <algorithm>

#include "process/detail/filters.h"

namespace stillroom::process::detail {

namespace {

enum class Barring { decay, own_recipe, frost_killed_vine, frozen_raw, unknown };

std::string folded_condition(std::string word) {
  std::ranges::transform(word, word.begin(), [](char c) {
    if (c == ' ' || c == '-') return '_';
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
  return word;
}

Barring barring_of(const std::string& condition) {
  const auto word = folded_condition(condition);
  const auto is = [&](std::initializer_list<std::string_view> words) {
    return std::ranges::find(words, word) != words.end();
  };
  if (is({"mould", "mold", "mouldy", "moldy", "decay", "decayed", "rot", "rotten"})) return Barring::decay;
  if (is({"own_recipe"})) return Barring::own_recipe;
  if (is({"frost_killed_vine", "frost_killed", "dead_vine"})) return Barring::frost_killed_vine;
  return is({"frozen_raw", "frozen"}) ? Barring::frozen_raw : Barring::unknown;
}

bool is_tomato(const Asked& asked) {
  return holds(asked.phrase.named, "tomato") || holds(asked.phrase.named, "tomatillo") || asked.phrase.named.empty();
}

}  // namespace

bool was_frozen(const Question& q) {
  return std::ranges::any_of(q.conditions, [](const auto& c) { return barring_of(c) == Barring::frozen_raw; });
}

std::optional<measure::Refusal> barred(const Asked& asked) {
  for (const auto& condition : asked.question.conditions) {
    switch (barring_of(condition)) {
      case Barring::decay:
        return condition_bars(asked, "no preserving takes food with mould or decay",
                              "let it go: compost it or throw it away, and preserve only sound food");
      case Barring::own_recipe:
        return condition_bars(asked, "a household's own recipe has no published heat process",
                              "keep it in the fridge or the freezer, or cook a tested recipe");
      case Barring::frost_killed_vine:
        if (!is_tomato(asked)) break;
        return condition_bars(asked, "tomatoes from dead or frost-killed vines have lost acid and are not canned",
                              "eat them fresh, freeze them or dry them");
      case Barring::unknown:
        return condition_bars(asked, fmt::format("no published process speaks for the condition \"{}\"", condition),
                              "keep it in the fridge or the freezer");
      case Barring::frozen_raw:
        break;  // weighed row by row
    }
  }
  return std::nullopt;
}

}  // namespace stillroom::process::detail
