#include "process/detail/refusals.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

namespace stillroom::process::detail {

namespace {

using almanac::DenyRow;
using almanac::ProcessRow;

/// The food and form as the person said them.
std::string said(const Question& q) { return q.form.empty() ? q.food : q.food + ", " + q.form; }

std::string begun(std::string sentence) {
  if (!sentence.empty() && sentence.front() >= 'a' && sentence.front() <= 'z')
    sentence.front() = static_cast<char>(sentence.front() - 'a' + 'A');
  return sentence;
}

bool is_animal(const Asked& asked) {
  const auto& crops = asked.almanac.crops;
  return std::ranges::any_of(asked.phrase.named, [&](const auto& key) {
    const auto* crop = crops.find(key);
    return crop != nullptr && crop->animal;
  });
}

/// The way on that needs no heat process.
std::string cold_way(const Asked& asked) {
  if (is_animal(asked)) return "freeze it, or keep it at 40 degF or below and eat it within its fridge days";
  return "keep it in the fridge, freeze it, or dry it";
}

std::string extension_way() { return "ask the local extension service for a tested process"; }

void add_once(std::vector<std::string>& list, std::string item) {
  if (std::ranges::count(list, item) == 0) list.push_back(std::move(item));
}

std::string joined(const std::vector<std::string>& list) { return fmt::format("{}", fmt::join(list, ", ")); }

/// "halves or slices, hot pack, pint and quart, boiling-water canner; ..." of the rows that may be offered.
std::vector<std::string> published_ways(const RowRefs& rows) {
  std::vector<std::string> keys, lines;
  for (const auto* row : rows) {
    if (row->status == almanac::RowStatus::recalled) continue;
    add_once(keys, fmt::format("{}: {}, {} pack, {}", plain_words(row->food), plain_words(row->form),
                               row->style_of_pack, method_in_words(row->method)));
  }
  for (const auto& key : keys) {
    std::vector<std::string> jars;
    for (const auto* row : rows) {
      if (row->status != almanac::RowStatus::recalled &&
          key == fmt::format("{}: {}, {} pack, {}", plain_words(row->food), plain_words(row->form), row->style_of_pack,
                             method_in_words(row->method)))
        add_once(jars, jar_in_words(row->jar));
    }
    lines.push_back(fmt::format("published for {}, {} jars", key, joined(jars)));
  }
  constexpr std::size_t kEnough = 6;
  if (lines.size() > kEnough) lines.resize(kEnough);
  return lines;
}

/// Forms a denied food is published in all the same ("pickle"), by the words that lift the denial.
std::vector<std::string> lifting_words(const almanac::DenyRow& row) {
  std::vector<std::string> words;
  std::ranges::copy_if(row.unless, std::back_inserter(words), [](const auto& w) { return w.find('+') == w.npos; });
  return words;
}

/// The crop in the person's own terms: the name of the first crop named.
std::string crop_name(const Asked& asked) {
  for (const auto& head : asked.phrase.heads) {
    if (const auto* crop = asked.almanac.crops.find(head.crop)) return crop->plural;
  }
  return asked.question.food;
}

/// What some row speaks for that is a kind of what was named: varieties ("cherry" -> "sweet cherry"), or the crops of a
/// row whose food goes by that name ("berries" -> "blackberry", ...).
std::vector<std::string> covered_relatives(const Asked& asked) {
  const auto& crops = asked.almanac.crops;
  const auto& table = asked.almanac.processes;
  std::vector<std::string> names;
  const ProcessRow* before = nullptr;
  for (const auto& row : table.rows) {
    if (row.status == almanac::RowStatus::recalled) continue;
    const bool told = before != nullptr && before->food == row.food && before->covers == row.covers;
    before = &row;
    if (told) continue;  // the next jar or band of the same recipe
    const bool by_name = table.wording.words(row.food) == asked.phrase.words;
    for (const auto& key : row.covers) {
      const bool kin = by_name || std::ranges::any_of(asked.phrase.heads, [&](const auto& head) {
                         return !head.crop.empty() && key != head.crop && crops.is_a(key, head.crop);
                       });
      if (kin) add_once(names, crops.find(key)->name);
    }
  }
  return names;
}

}  // namespace

std::string method_in_words(std::string_view method) {
  if (method == "boiling_water") return "boiling-water canner";
  if (method == "low_temperature") return "low-temperature pasteurising";
  return method == "dial_gauge" ? "dial-gauge pressure canner" : "weighted-gauge pressure canner";
}

std::string jar_in_words(std::string_view jar) {
  std::string out(jar);
  std::ranges::replace(out, '_', '-');
  return out;
}

std::string feet_in_words(double feet) {
  auto digits = fmt::format("{}", std::lround(feet));
  for (auto at = static_cast<std::ptrdiff_t>(digits.size()) - 3;
       at > 0 && digits[static_cast<std::size_t>(at) - 1] != '-'; at -= 3)
    digits.insert(static_cast<std::size_t>(at), ",");
  return digits + " ft";
}

std::string plain_words(std::string_view table_word) {
  std::string out(table_word);
  std::ranges::replace(out, '_', ' ');
  return out;
}

measure::Refusal altitude_missing(const Asked& asked) {
  return {"altitude_missing",
          fmt::format("The altitude is not known, so no heat process for {} can be shown.", said(asked.question)),
          {"give the altitude of the kitchen in feet; a map or the local extension service has it",
           "until then, " + cold_way(asked)}};
}

measure::Refusal unknown_food(const Asked& asked) {
  measure::Refusal refusal{
      "unknown_food", fmt::format("No food called \"{}\" is in the tables.", said(asked.question)), {}};
  if (const auto near = asked.almanac.crops.named(asked.question.food); !near) {
    for (const auto& name : near.error().instead) refusal.instead.push_back(fmt::format("did you mean {}?", name));
  }
  refusal.instead.emplace_back("without a published process, keep it in the fridge or freeze it");
  return refusal;
}

measure::Refusal not_safe_to_can(const Asked& asked, const almanac::DenyRow& row) {
  measure::Refusal refusal{"not_safe_to_can",
                           fmt::format("There is no home heat process for {} ({}): {} ({}).", said(asked.question),
                                       row.what, row.why, row.source),
                           {row.instead}};
  const auto& q = asked.question;
  const auto lifts = lifting_words(row);
  const bool form_given = !q.form.empty();
  if (!lifts.empty() && !row.crops.empty() && !form_given)
    refusal.instead.push_back(fmt::format("if it is to be one of these, ask again and say so: {}", joined(lifts)));
  refusal.instead.push_back(cold_way(asked));
  return refusal;
}

measure::Refusal near_not_safe(const Asked& asked, const NearDenial& near) {
  const auto& row = *near.row;
  const auto which = row.what == near.meant ? std::string() : fmt::format(" ({})", row.what);
  return {row.key == "makers_leaflet" ? "makers_leaflet" : "not_safe_to_can",
          fmt::format("\"{}\" is not in the tables. If {} is meant: there is no home heat process for it{}: {} ({}).",
                      said(asked.question), near.meant, which, row.why, row.source),
          {row.instead, "if something else is meant, ask again by its name", cold_way(asked)}};
}

measure::Refusal makers_leaflet(const Asked& asked, const DenyRow& row) {
  return {"makers_leaflet",
          fmt::format("No heat process is published for {} ({}): {} ({}).", said(asked.question), row.what, row.why,
                      row.source),
          {row.instead, "or keep it in the fridge and eat it soon, or freeze it"}};
}

measure::Refusal not_covered(const Asked& asked) {
  measure::Refusal refusal{
      "not_covered", fmt::format("No published heat process speaks for {}.", crop_name(asked)), {cold_way(asked)}};
  if (const auto kin = covered_relatives(asked); !kin.empty())
    refusal.instead.insert(refusal.instead.begin(), fmt::format("say which kind it is: {}", joined(kin)));
  refusal.instead.push_back(extension_way());
  return refusal;
}

measure::Refusal no_row(const Asked& asked, const RowRefs& there, const std::string& what) {
  measure::Refusal refusal{
      "no_row", fmt::format("No published heat process fits {}: {}.", said(asked.question), what), {}};
  refusal.instead = published_ways(there);
  refusal.instead.push_back(cold_way(asked));
  return refusal;
}

measure::Refusal condition_bars(const Asked& asked, const std::string& why, const std::string& way) {
  return {"condition_bars", begun(fmt::format("{}: {}.", said(asked.question), why)), {way}};
}

measure::Refusal altitude_outside(const Asked& asked, const RowRefs& there, const RowRefs& elsewhere) {
  double top = 0;
  for (const auto* row : there) top = std::max(top, row->altitude_to_ft.value_or(0));
  const auto where = feet_in_words(asked.altitude_ft);
  measure::Refusal refusal{
      "altitude_outside",
      asked.altitude_ft < 0 ? fmt::format("{} lies below the sea, and the published tables begin at sea level.", where)
                            : fmt::format("{} is above the published table for {}, which ends at {}.", where,
                                          said(asked.question), feet_in_words(top)),
      published_ways(elsewhere)};
  refusal.instead.push_back(extension_way());
  refusal.instead.push_back(cold_way(asked));
  return refusal;
}

measure::Refusal recalled_only(const Asked& asked, const ProcessRow& row) {
  return {"recalled_only",
          fmt::format("A process for {} is published in {} ({}), but its figures were not read again for this "
                      "collection, so they are not shown.",
                      said(asked.question), row.source, row.source_place),
          {fmt::format("look it up there: {}, {}, current edition (2015)", row.source, row.source_place),
           extension_way(), cold_way(asked)}};
}

}  // namespace stillroom::process::detail
