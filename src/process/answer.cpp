#include "process/answer.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <nlohmann/json.hpp>

#include "process/detail/choice_words.h"
#include "process/detail/refusals.h"

namespace stillroom::process {

namespace {

std::string underscored(std::string word) {
  std::ranges::transform(word, word.begin(), [](char c) {
    if (c == '-' || c == ' ') return '_';
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
  return word;
}

std::string canner_word(std::string typed) {
  auto word = underscored(std::move(typed));
  if (word == "water_bath" || word == "boiling_water_canner") return "boiling_water";
  if (word == "steam_canner" || word == "atmospheric_steam") return "steam";
  if (word == "dial_gauge") return "dial";
  if (word.starts_with("low_temperature") || word.starts_with("pasteuri")) return "low_temperature";
  return word == "weighted_gauge" ? "weighted" : word;
}

nlohmann::ordered_json number_or_null(const std::optional<double>& v) {
  return v ? nlohmann::ordered_json(*v) : nlohmann::ordered_json(nullptr);
}

/// The same in ready-made words, so that a page says what the card says.
nlohmann::ordered_json said_of(const almanac::ProcessTable& table, const Choice& c) {
  auto first = nlohmann::ordered_json::array();
  for (const auto& word : c.requirements) first.push_back(table.sentence_for(word));
  return {{"method", canner_words(c)},
          {"jar", detail::jar_in_words(c.jar)},
          {"time", fmt::format("{:g} minutes", c.time_min)},
          {"pressure", c.pressure_psi ? fmt::format("{:g} psi", *c.pressure_psi) : ""},
          {"headspace", detail::inches_in_words(c.headspace_in) + " in"},
          {"altitude", altitude_band(c)},
          {"first", std::move(first)}};
}

nlohmann::ordered_json json_of(const almanac::ProcessTable& table, const Choice& c) {
  return {{"id", c.id},
          {"food", c.food},
          {"form", c.form},
          {"style_of_pack", c.style_of_pack},
          {"jar", c.jar},
          {"method", c.method},
          {"time_min", c.time_min},
          {"pressure_psi", number_or_null(c.pressure_psi)},
          {"headspace_in", c.headspace_in},
          {"added_acid", c.added_acid},
          {"requires", c.requirements},
          {"altitude_over_ft", c.altitude_over_ft},
          {"altitude_to_ft", number_or_null(c.altitude_to_ft)},
          {"notes", c.notes},
          {"source", c.source},
          {"source_place", c.source_place},
          {"edition_read", c.edition_read},
          {"title", detail::title_in_words(c)},
          {"said", said_of(table, c)}};
}

}  // namespace

measure::Result<measure::Altitude> altitude_from_words(std::string_view typed) {
  std::string digits, unit;
  for (const char c : typed) {
    if (c == ',' || c == ' ' || c == '\t') continue;
    const bool number = (c >= '0' && c <= '9') || c == '.' || c == '-';
    (number && unit.empty() ? digits : unit) += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  }
  double value = 0;
  const auto* end = digits.data() + digits.size();
  const auto read = std::from_chars(digits.data(), end, value);
  const bool is_number = !digits.empty() && read.ec == std::errc{} && read.ptr == end;
  const auto unit_is = [&](std::initializer_list<std::string_view> list) {
    return std::ranges::find(list, unit) != list.end();
  };
  if (is_number && unit_is({"", "ft", "foot", "feet", "'"})) return measure::Altitude::feet(value);
  if (is_number && unit_is({"m", "metre", "metres", "meter", "meters"})) return measure::Altitude::metres(value);
  return measure::refuse("wrong_use", "\"" + std::string(typed) + "\" is no altitude.",
                         {"give it in feet or metres: 2900, \"2,900 ft\" or \"880 m\""});
}

measure::Result<Question> question_from_words(const QuestionWords& words) {
  Question q{.food = words.food,
             .form = words.form,
             .style_of_pack = underscored(words.pack),
             .jar = underscored(words.jar),
             .canner = canner_word(words.canner),
             .altitude = std::nullopt,
             .conditions = {},
             .id = words.id};
  if (!q.style_of_pack.empty() && q.style_of_pack != "hot" && q.style_of_pack != "raw")
    return measure::refuse("wrong_use", "\"" + words.pack + "\" is no style of pack.", {"say hot or raw"});
  if (words.altitude.empty()) return q;
  const auto altitude = altitude_from_words(words.altitude);
  if (!altitude) return tl::unexpected(altitude.error());
  q.altitude = *altitude;
  return q;
}

std::string to_json(const almanac::ProcessTable& table, const measure::Result<std::vector<Choice>>& answer) {
  nlohmann::ordered_json out{{"ok", answer.has_value()}};
  if (answer) {
    out["choices"] = nlohmann::ordered_json::array();
    for (const auto& c : *answer) out["choices"].push_back(json_of(table, c));
  } else {
    out["code"] = answer.error().code;
    out["message"] = answer.error().message;
    out["instead"] = answer.error().instead;
  }
  // What a person typed stands in messages; bytes that are no UTF-8 must not break the answer.
  return out.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace);
}

}  // namespace stillroom::process
