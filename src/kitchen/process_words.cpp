#include "kitchen/process_words.h"

#include <fmt/format.h>

#include <algorithm>

#include "measure/text.h"

namespace stillroom::kitchen {
std::vector<std::string> requirement_sentences(const almanac::ProcessTable& table, const process::Choice& c) {
  std::vector<std::string> sentences;
  for (const std::string& word : c.requirements) sentences.push_back(table.sentence_for(word));
  return sentences;
}

bool is_published(const almanac::ProcessTable& table, const process::Choice& c) {
  return std::ranges::any_of(table.rows, [&](const almanac::ProcessRow& row) {
    const bool jar = row.jar == c.jar || (c.jar == "half_pint" && row.jar == "pint");
    return row.status != almanac::RowStatus::recalled && row.id == c.id && jar && row.method == c.method &&
           row.time_min == c.time_min && row.pressure_psi == c.pressure_psi &&
           row.altitude_over_ft == c.altitude_over_ft && row.altitude_to_ft == c.altitude_to_ft;
  });
}

std::string processed_sentence(const process::Choice& c) {
  std::string jar = c.jar;
  std::ranges::replace(jar, '_', '-');
  std::string s = "Processed as published in " + c.source;
  if (!c.source_place.empty()) s += ", " + c.source_place;
  if (!c.edition_read.empty()) s += " (edition read: " + c.edition_read + ")";
  s += fmt::format(": {} jars in a {}, {}", jar, canner_words(c), measure::say_minutes(measure::minutes(c.time_min)));
  if (c.pressure_psi) s += fmt::format(" at {} lb", measure::say_number(*c.pressure_psi));
  return s + ", for " + altitude_band(c) + ".";
}

std::string processed_sentence(std::string_view process_json) {
  const auto process = process_from_json(process_json);
  return process ? processed_sentence(*process) : std::string();
}

}  // namespace stillroom::kitchen
