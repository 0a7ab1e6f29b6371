#include "process/detail/low_temperature.h"

#include <algorithm>

#include "process/detail/filters.h"

namespace stillroom::process::detail {

namespace {

const almanac::LowTemperature* treatment_for(const almanac::ProcessTable& table, const std::string& id) {
  const auto it = std::ranges::find_if(table.low_temperature, [&](const auto& row) {
    return row.status != almanac::RowStatus::recalled && holds(row.ids, id);
  });
  return it == table.low_temperature.end() ? nullptr : &*it;
}

Choice pasteurised_choice(const almanac::ProcessRow& row, const almanac::LowTemperature& low) {
  Choice c{.id = row.id,
           .food = row.food,
           .form = row.form,
           .style_of_pack = row.style_of_pack,
           .jar = row.jar,
           .method = "low_temperature",
           .time_min = low.time_min,
           .pressure_psi = std::nullopt,
           .headspace_in = row.headspace_in,
           .added_acid = row.added_acid,
           .requirements = {"low_temperature_pasteurising"},
           .altitude_over_ft = row.altitude_over_ft,
           .altitude_to_ft = row.altitude_to_ft,
           .notes = row.notes,
           .source = low.source,
           .source_place = low.source_place,
           .edition_read = low.edition_read};
  for (const auto& word : row.requirements) {
    // The time is 30 minutes whatever the boiling-water time would be.
    if (word != "sterilised_jars") c.requirements.push_back(word);
  }
  if (low.edition_read != "2015" && !holds(c.requirements, "compare_with_current_edition"))
    c.requirements.emplace_back("compare_with_current_edition");
  return c;
}

}  // namespace

measure::Result<std::vector<Choice>> pasteurised(const Asked& asked, RowRefs rows) {
  const auto& q = asked.question;
  std::erase_if(rows, [](const auto* row) { return row->method != "boiling_water"; });
  const RowRefs in_any_jar = rows;
  std::erase_if(rows, [&](const auto* row) {
    return row->status == almanac::RowStatus::recalled || !fits_jar(*row, q.jar, in_any_jar) ||
           !band_holds(*row, asked.altitude_ft);
  });
  put_in_order(rows);
  std::vector<Choice> choices;
  bool forbidden = false;
  for (const auto* row : rows) {
    forbidden = forbidden || holds(row->requirements, "no_low_temperature_pasteurisation");
    if (const auto* low = treatment_for(asked.almanac.processes, row->id))
      choices.push_back(pasteurised_choice(*row, *low));
  }
  if (!choices.empty()) return choices;
  return tl::unexpected(no_row(asked, in_any_jar,
                               forbidden ? "pickles with reduced salt are never pasteurised at low temperature"
                                         : "its recipe does not name pasteurising at low temperature"));
}

}  // namespace stillroom::process::detail
