#include "process/detail/filters.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

namespace stillroom::process::detail {

using almanac::ProcessRow;

namespace {

constexpr double kSteamCannerMinutes = 45;

/// The nearest of the crop and its ancestors that the row names decides: an excluded variety is not covered by its
/// parent, and a covered variety is not shut out by it.
bool covers(const ProcessRow& row, const std::vector<std::string>& lineage) {
  for (const auto& key : lineage) {
    if (holds(row.excludes, key)) return false;
    if (holds(row.covers, key)) return true;
  }
  return false;
}

bool speaks_for(const ProcessRow& row, const Head& head) {
  return head.ids.empty() ? covers(row, head.lineage) : holds(head.ids, row.id);
}

bool answers(const Asked& asked, const ProcessRow& row, const Head& head) {
  const auto& table = asked.almanac.processes;
  if (!speaks_for(row, head)) return false;
  const auto& form = table.forms.find(row.id)->second;
  if (!words_fit(table, form, head.beside)) return false;
  return !asked.question.id.empty() || said_enough(form, asked.phrase.words);
}

int rank(std::string_view word, std::initializer_list<std::string_view> order) {
  return static_cast<int>(std::ranges::find(order, word) - order.begin());
}

}  // namespace

bool holds(const std::vector<std::string>& list, std::string_view item) { return std::ranges::count(list, item) > 0; }

RowRefs rows_for_food(const Asked& asked) {
  RowRefs out;
  for (const auto& row : asked.almanac.processes.rows) {
    if (std::ranges::any_of(asked.phrase.heads, [&](const auto& h) { return speaks_for(row, h); })) out.push_back(&row);
  }
  return out;
}

bool fits_form(const Asked& asked, const ProcessRow& row) {
  return std::ranges::any_of(asked.phrase.heads, [&](const auto& h) { return answers(asked, row, h); });
}

bool has_id(const ProcessRow& row, std::string_view id) { return id.empty() || almanac::is_of_process(row.id, id); }

std::string style_asked(const Asked& asked) {
  const auto& q = asked.question;
  if (!q.style_of_pack.empty()) return q.style_of_pack;
  for (const auto& head : asked.phrase.heads) {
    const bool hot = holds(head.beside, "hot"), raw = holds(head.beside, "raw");
    if (hot != raw) return hot ? "hot" : "raw";
  }
  return {};
}

bool fits_canner(const ProcessRow& row, std::string_view canner) {
  if (canner.empty()) return true;
  if (canner == "boiling_water" || canner == "steam") return row.method == "boiling_water";
  if (canner == "pressure") return row.method != "boiling_water";
  return row.method == canner || row.method == fmt::format("{}_gauge", canner);
}

bool fits_jar(const ProcessRow& row, std::string_view jar, const RowRefs& rows) {
  if (jar.empty() || row.jar == jar) return true;
  if (jar != "half_pint" || row.jar != "pint") return false;
  return std::ranges::none_of(rows, [&](const auto* other) {
    return other->id == row.id && other->method == row.method && other->jar == "half_pint";
  });
}

bool band_holds(const ProcessRow& row, double feet) {
  const bool above = feet > row.altitude_over_ft || (row.altitude_over_ft == 0 && feet == 0);
  return above && (!row.altitude_to_ft || feet <= *row.altitude_to_ft);
}

bool fits_steam(const ProcessRow& row) {
  return row.acid_class != "low_acid" && row.time_min <= kSteamCannerMinutes &&
         !holds(row.requirements, "no_steam_canner");
}

bool takes_frozen(const Asked& asked, const ProcessRow& row) {
  return row.style_of_pack == "hot" && asked.almanac.processes.forms.find(row.id)->second.takes_frozen &&
         !holds(row.requirements, "fresh_fruit_not_frozen");
}

void put_in_order(RowRefs& rows) {
  std::vector<std::pair<std::string, std::string>> groups;
  for (const auto* row : rows) {
    if (std::ranges::count(groups, std::pair(row->food, row->form)) == 0) groups.emplace_back(row->food, row->form);
  }
  std::ranges::stable_sort(rows, {}, [&](const ProcessRow* row) {
    return std::tuple(std::ranges::find(groups, std::pair(row->food, row->form)) - groups.begin(),
                      rank(row->style_of_pack, {"hot", "raw"}),
                      rank(row->method, {"boiling_water", "dial_gauge", "weighted_gauge"}),
                      rank(row->jar, {"half_pint", "pint", "quart", "half_gallon"}), row->pressure_psi.value_or(0));
  });
}

}  // namespace stillroom::process::detail
