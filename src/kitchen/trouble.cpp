#include "kitchen/trouble.h"

#include <algorithm>
#include <set>

#include "almanac/csv.h"

namespace stillroom::kitchen {
namespace {

const std::vector<std::string> kKinds{"boiling_water", "pressure", "canned", "acidified", "jellied", "fermented",
                                      "frozen",        "dried",    "broth",  "raw_meat",  "hot"};

Trouble trouble_row(almanac::RowReader& row) {
  Trouble t{.key = row.text("key"),
            .what = row.text("what"),
            .then = row.text("then"),
            .in_doubt = row.text("in_doubt"),
            .when = row.list("when"),
            .source = row.text("source"),
            .checked = row.one_of("checked", {"yes", "derived", "partial", "derived_memory", "memory", "common"})};
  for (const auto& kind : t.when)
    if (std::ranges::find(kKinds, kind) == kKinds.end()) row.fail("when", "\"" + kind + "\" is no kind of batch");
  if (t.key.empty() || t.what.empty() || t.then.empty() || t.in_doubt.empty() || t.source.empty() || t.when.empty())
    row.fail("key", "a cell is empty");
  return t;
}

void add_process_kinds(const process::Choice& c, std::set<std::string>& kinds) {
  kinds.insert({"canned", "hot", c.pressure_psi ? "pressure" : "boiling_water"});
  if (std::ranges::find(c.requirements, "acid_in_every_jar") != c.requirements.end()) kinds.insert("acidified");
}

/// What kind of batch it is, in the words of the table.
std::set<std::string> kinds_of(const BatchCard& card) {
  std::set<std::string> kinds;
  if (card.process) {
    add_process_kinds(*card.process, kinds);
    if (card.process->form == "jam" || card.process->form == "jelly") kinds.insert("jellied");
  }
  if (card.store_in == "freezer") kinds.insert("frozen");
  for (const Step& s : card.steps) {
    if (s.stage == "ferment") kinds.insert("fermented");
    if (s.stage == "dry") kinds.insert("dried");
    if (s.stage == "slow_cook") kinds.insert("broth");
    if (s.hazard.starts_with("raw_")) kinds.insert("raw_meat");
    if (!s.caution.empty() && s.least_age >= almanac::age_floor("heat")) kinds.insert("hot");
  }
  return kinds;
}

}  // namespace

measure::Result<std::vector<Trouble>> load_troubles() {
  auto table = almanac::read_csv("kitchen/trouble.csv", almanac::embedded_file("kitchen/trouble.csv"),
                                 {"key", "when", "what", "then", "in_doubt", "source", "checked"});
  if (!table) return tl::unexpected(table.error());
  std::vector<Trouble> all;
  for (std::size_t i = 0; i < table->rows.size(); ++i) {
    almanac::RowReader row(*table, i);
    all.push_back(trouble_row(row));
    if (row.error()) return tl::unexpected(*row.error());
  }
  return all;
}

std::vector<Trouble> troubles_for(const BatchCard& card) {
  auto all = load_troubles();  // the table is compiled in and held by tests: a fault here is ours
  if (!all) return {};
  const auto kinds = kinds_of(card);
  std::erase_if(*all, [&](const Trouble& t) {
    return std::ranges::none_of(t.when, [&](const std::string& kind) { return kinds.contains(kind); });
  });
  return std::move(*all);
}

}  // namespace stillroom::kitchen
