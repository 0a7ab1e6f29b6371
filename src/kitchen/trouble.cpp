#include "kitchen/trouble.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "almanac/csv.h"

namespace stillroom::kitchen {
namespace {

const std::vector<std::string> kKinds{"boiling_water", "pressure", "canned",     "acidified", "jellied",  "fermented",
                                      "frozen",        "dried",    "dried_meat", "broth",     "raw_meat", "hot"};
const std::vector<std::string> kOutcomes{"process_again", "chill", "discard", "keep_watch", "go_on"};
constexpr double kLongestMin = 60 * 24 * 365;

void one_of_each(almanac::RowReader& row, std::string_view column, const std::vector<std::string>& words,
                 const std::vector<std::string>& allowed) {
  if (words.empty()) row.fail(column, "is empty");
  for (const auto& word : words)
    if (std::ranges::find(allowed, word) == allowed.end()) row.fail(column, "\"" + word + "\" is no word for it");
}

Trouble trouble_row(almanac::RowReader& row) {
  Trouble t{.fault = row.text("fault"),
            .what = row.text("what"),
            .asks = row.text("asks"),
            .see = row.text("see"),
            .when = row.list("when"),
            .acid = std::nullopt,
            .from_min = row.number("from_min", 0, kLongestMin).value_or(0),
            .to_min = row.number("to_min", 0, kLongestMin),
            .then = row.text("do"),
            .outcomes = row.list("outcomes"),
            .source = row.text("source"),
            .checked = row.one_of("checked", {"yes", "derived", "partial", "derived_memory", "memory", "common"})};
  const std::string acid = row.one_of("acid", {"any", "acid", "low_acid"});
  if (acid != "any") t.acid = acid == "acid" ? AcidClass::acid : AcidClass::low_acid;
  one_of_each(row, "when", t.when, kKinds);
  one_of_each(row, "outcomes", t.outcomes, kOutcomes);
  if (t.fault.empty() || t.what.empty() || t.see.empty() || t.then.empty() || t.source.empty())
    row.fail("fault", "a cell is empty");
  if (t.to_min && *t.to_min <= t.from_min) row.fail("to_min", "does not lie after from_min");
  if (t.asks.empty() && (t.from_min > 0 || t.to_min)) row.fail("asks", "is empty although the time matters");
  return t;
}

void add_process_kinds(const process::Choice& c, std::set<std::string>& kinds) {
  kinds.insert({"canned", "hot", c.pressure_psi ? "pressure" : "boiling_water"});
  if (std::ranges::find(c.requirements, "acid_in_every_jar") != c.requirements.end()) kinds.insert("acidified");
}

/// A line of what to lay ready that stands on the fire.
bool is_hot(const std::string& line) {
  return line.ends_with("pot") || line.ends_with("pots") || line.ends_with("canner");
}

/// What kind of batch it is, in the words of the table.
std::set<std::string> kinds_of(const BatchCard& card) {
  std::set<std::string> kinds;
  if (card.process) {
    add_process_kinds(*card.process, kinds);
    if (card.process->form == "jam" || card.process->form == "jelly") kinds.insert("jellied");
  }
  if (card.store_in == "freezer") kinds.insert("frozen");
  const bool on_clock = std::ranges::any_of(card.steps, [](const Step& s) { return !s.hazard.empty(); });
  for (const Step& s : card.steps) {
    if (s.stage == "ferment") kinds.insert("fermented");
    // Half-dried meat has the two hours of cooked food; half-dried apples have a day.
    if (s.stage == "dry") kinds.insert(on_clock ? "dried_meat" : "dried");
    if (s.stage == "slow_cook") kinds.insert("broth");
    if (s.hazard.starts_with("raw_")) kinds.insert("raw_meat");
    if (s.stage == "slow_cook" || std::ranges::any_of(s.gather, is_hot)) kinds.insert("hot");
  }
  return kinds;
}

Trouble thrown_out(std::string_view fault, std::string what) {
  return {.fault = std::string(fault),
          .what = std::move(what),
          .asks = "",
          .see = "",
          .when = {},
          .acid = std::nullopt,
          .then = "Nothing published covers this: throw it out untasted, and keep it from animals.",
          .outcomes = {"discard"},
          .source = "the rule of every row: in doubt, throw it out",
          .checked = "common",
          .by_default = true};
}

}  // namespace

measure::Result<std::vector<Trouble>> load_troubles() {
  auto table = almanac::read_csv(
      "kitchen/trouble.csv", almanac::embedded_file("kitchen/trouble.csv"),
      {"fault", "what", "when", "asks", "see", "acid", "from_min", "to_min", "do", "outcomes", "source", "checked"});
  if (!table) return tl::unexpected(table.error());
  std::vector<Trouble> all;
  for (std::size_t i = 0; i < table->rows.size(); ++i) {
    almanac::RowReader row(*table, i);
    Trouble t = trouble_row(row);
    const auto first = std::ranges::find(all, t.fault, &Trouble::fault);
    if (first != all.end() && (first->what != t.what || first->asks != t.asks || first->when != t.when))
      row.fail("what", "differs from the first row of \"" + t.fault + "\"");
    all.push_back(std::move(t));
    if (row.error()) return tl::unexpected(*row.error());
  }
  return all;
}

const std::vector<Trouble>& troubles() {
  static const std::vector<Trouble> kAll = load_troubles().value_or(std::vector<Trouble>());
  return kAll;
}

std::vector<Trouble> troubles_for(const BatchCard& card) {
  std::vector<Trouble> all = troubles();
  const auto kinds = kinds_of(card);
  std::set<std::string> seen;
  std::erase_if(all, [&](const Trouble& t) {
    const bool fits = std::ranges::any_of(t.when, [&](const std::string& kind) { return kinds.contains(kind); });
    return !fits || !seen.insert(t.fault).second;
  });
  return all;
}

AcidClass acid_class_of(const BatchCard& card) {
  if (card.process) return card.process->method == "boiling_water" ? AcidClass::acid : AcidClass::low_acid;
  const bool ferments = std::ranges::find(card.steps, "ferment", &Step::stage) != card.steps.end();
  return ferments ? AcidClass::acid : AcidClass::low_acid;
}

Trouble what_now(const std::vector<Trouble>& table, std::string_view fault, AcidClass acid,
                 std::optional<double> elapsed_min) {
  const auto named = std::ranges::find(table, fault, &Trouble::fault);
  if (named == table.end()) return thrown_out(fault, "Something that no row names");
  const bool no_time = !elapsed_min || !std::isfinite(*elapsed_min) || *elapsed_min < 0;
  if (no_time && !named->asks.empty()) {
    Trouble t = thrown_out(fault, named->what);
    t.then = "Nobody knows how long: throw it out untasted, and keep it from animals.";
    return t;
  }
  const double minutes = no_time ? 0 : *elapsed_min;
  const Trouble* found = nullptr;
  for (const Trouble& t : table) {
    const bool fits =
        t.fault == fault && (!t.acid || *t.acid == acid) && minutes >= t.from_min && (!t.to_min || minutes < *t.to_min);
    if (fits && (found == nullptr || (t.acid && !found->acid))) found = &t;
  }
  return found == nullptr ? thrown_out(fault, named->what) : *found;
}

}  // namespace stillroom::kitchen
