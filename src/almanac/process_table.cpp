#include "almanac/process_table.h"

#include <algorithm>
#include <array>
#include <set>

#include "almanac/crops.h"
#include "almanac/csv.h"
#include "almanac/detail/process_lists.h"
#include "almanac/detail/process_rows.h"

namespace stillroom::almanac {

namespace {

/// In the order in which answers list them.
constexpr std::array kProcessFiles{"fruit.csv", "tomato.csv", "pickle.csv", "jelly.csv", "vegetable.csv", "meat.csv"};

std::string_view embedded_canning_file(std::string_view name) {
  return embedded_file(std::string("canning/").append(name));
}

detail::ReadFault read_all_rows(const Crops& crops, const CanningFile& file, ProcessTable& into) {
  std::set<std::string> words;
  for (const auto& [word, requirement] : into.requirements) words.insert(word);
  std::set<std::string> ids;
  for (const auto* name : kProcessFiles) {
    auto rows = detail::read_process_rows(std::string("canning/").append(name), file(name), {crops, words});
    if (!rows) return rows.error();
    for (const auto& row : *rows) {
      // Bands are checked within one file, so an id may not go on in the next.
      if (ids.contains(row.id))
        return measure::Refusal{
            "bad_table",
            std::string("canning/") + name + ": column id: " + row.id + " stands in another file as well.",
            {"give it an id of its own"}};
    }
    for (const auto& row : *rows) ids.insert(row.id);
    into.rows.insert(into.rows.end(), std::make_move_iterator(rows->begin()), std::make_move_iterator(rows->end()));
  }
  return std::nullopt;
}

}  // namespace

const DenyRow* ProcessTable::deny_by_key(std::string_view key) const {
  const auto it = std::ranges::find(deny, key, &DenyRow::key);
  return it == deny.end() || key.empty() ? nullptr : &*it;
}

std::string ProcessTable::sentence_for(std::string_view requirement) const {
  const auto found = requirements.find(requirement);
  if (found != requirements.end()) return found->second.sentence;
  std::string plain(requirement);
  std::ranges::replace(plain, '_', ' ');
  return plain + ".";
}

bool is_of_process(std::string_view row_id, std::string_view id) {
  return row_id == id || (row_id.starts_with(id) && row_id.substr(id.size()).starts_with("_opt_"));
}

measure::Result<ProcessTable> read_process_table(const Crops& crops, const CanningFile& file) {
  ProcessTable table;
  auto fault = detail::read_wordings(file("wordings.csv"), table);
  if (!fault) fault = detail::read_requirements(file("requirements.csv"), table);
  if (!fault) fault = detail::read_deny_list(file("not_safe_to_can.csv"), crops, table);
  if (!fault) fault = detail::read_fresh_quantities(file("fresh_quantity.csv"), crops, table);
  if (!fault) fault = read_all_rows(crops, file, table);
  if (!fault) fault = detail::read_forms(file("forms.csv"), table);
  if (!fault) fault = detail::read_low_temperature(file("low_temperature.csv"), table);
  if (!fault) fault = detail::read_names(file("names.csv"), crops, table);
  if (fault) return tl::unexpected(std::move(*fault));
  detail::collect_known_words(table);
  return table;
}

measure::Result<ProcessTable> load_process_table(const Crops& crops) {
  return read_process_table(crops, embedded_canning_file);
}

}  // namespace stillroom::almanac
