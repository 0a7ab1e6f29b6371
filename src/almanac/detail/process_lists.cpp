#include "almanac/detail/process_lists.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "almanac/csv.h"

namespace stillroom::almanac::detail {

namespace {

/// Reads `text` and hands each row to `take`; stops at the first fault.
template <class Take>
ReadFault each_row(const char* file, std::string_view text, const std::vector<std::string>& columns, Take take) {
  const auto table = read_csv(file, text, columns);
  if (!table) return table.error();
  for (std::size_t i = 0; i < table->rows.size(); ++i) {
    RowReader r(*table, i);
    take(r);
    if (r.error()) return r.error();
  }
  return std::nullopt;
}

void check_known_crops(RowReader& r, const std::vector<std::string>& keys, const Crops& crops) {
  for (const auto& key : keys) {
    if (crops.find(key) == nullptr) r.fail("crops", fmt::format("no crop has the key \"{}\"", key));
  }
}

void check_filled(RowReader& r, std::initializer_list<const char*> columns) {
  for (const auto* column : columns) {
    if (r.text(column).empty()) r.fail(column, "the cell is empty");
  }
}

std::vector<WordPattern> patterns_of(RowReader& r, const char* column, const std::vector<std::string>& written,
                                     const Wording& wording) {
  std::vector<WordPattern> out;
  for (const auto& w : written) {
    out.push_back(word_pattern(wording, w));
    if (out.back().parts.empty()) r.fail(column, fmt::format("\"{}\" holds no word", w));
  }
  return out;
}

void check_low_to_high(RowReader& r, const FreshQuantity& q) {
  if (q.yield_qt_per_bushel_low.has_value() != q.yield_qt_per_bushel_high.has_value())
    r.fail("yield_qt_per_bushel_high", "a yield needs both its ends");
  if (q.yield_qt_per_bushel_low && *q.yield_qt_per_bushel_low > *q.yield_qt_per_bushel_high)
    r.fail("yield_qt_per_bushel_high", "the low end is above the high end");
}

std::set<std::string, std::less<>> process_ids(const ProcessTable& table) {
  std::set<std::string, std::less<>> ids;
  for (const auto& row : table.rows) ids.insert(row.id);
  return ids;
}

bool longer(const WordList& a, const WordList& b) { return a.size() > b.size(); }

/// The row's own words always ask for it: its form as a whole, and each word of its food.
void add_printed_words(ProcessTable& into) {
  for (const auto& row : into.rows) {
    auto& words = into.forms.find(row.id)->second.words;
    const auto add = [&](WordList w) {
      if (!w.empty() && std::ranges::count(words, w) == 0) words.push_back(std::move(w));
    };
    add(into.wording.words(row.form));
    for (auto& w : into.wording.words(row.food)) add({std::move(w)});
  }
  for (auto& [id, form] : into.forms) std::ranges::stable_sort(form.words, longer);
}

/// Folds a list of words, putting the words of a named group ("@liquids") in its place.
std::vector<WordList> folded_words(RowReader& r, const std::vector<std::string>& written, const Wording& wording,
                                   const std::map<std::string, std::vector<WordList>>& groups) {
  std::vector<WordList> out;
  for (const auto& w : written) {
    if (w.starts_with('@')) {
      const auto group = groups.find(w);
      if (group == groups.end()) return r.fail("words", fmt::format("no group is called {}", w)), out;
      out.insert(out.end(), group->second.begin(), group->second.end());
    } else if (auto words = wording.words(w); !words.empty()) {
      out.push_back(std::move(words));
    }
  }
  std::ranges::stable_sort(out, longer);
  return out;
}

void add_crop_names(const Crop& crop, const Wording& wording, std::vector<NamePhrase>& into) {
  std::set<WordList> seen;
  const auto add = [&](const std::string& name) {
    auto words = wording.words(name);
    if (!words.empty() && seen.insert(words).second) into.push_back({std::move(words), crop.key, {}});
  };
  add(crop.key);
  add(crop.name);
  add(crop.plural);
  for (const auto& alias : crop.aliases) add(alias);
}

}  // namespace

ReadFault read_wordings(std::string_view text, ProcessTable& into) {
  return each_row("canning/wordings.csv", text, {"word", "also"}, [&](RowReader& r) {
    const auto word = r.text("word");
    check_filled(r, {"word"});
    for (const auto& also : r.list("also")) {
      if (word == "@free") {
        into.wording.free.insert(also);
      } else if (!into.wording.same.emplace(also, word).second) {
        r.fail("also", fmt::format("\"{}\" stands for two words", also));
      }
    }
  });
}

ReadFault read_requirements(std::string_view text, ProcessTable& into) {
  return each_row("canning/requirements.csv", text, {"word", "sentence", "source"}, [&](RowReader& r) {
    const Requirement q{r.text("word"), r.text("sentence"), r.text("source")};
    check_filled(r, {"word", "sentence", "source"});
    if (!into.requirements.emplace(q.word, q).second) r.fail("word", fmt::format("\"{}\" is there twice", q.word));
  });
}

ReadFault read_deny_list(std::string_view text, const Crops& crops, ProcessTable& into) {
  return each_row("canning/not_safe_to_can.csv", text,
                  {"key", "what", "why", "instead", "crops", "words", "unless", "source"}, [&](RowReader& r) {
                    DenyRow row{r.text("key"),
                                r.text("what"),
                                r.text("why"),
                                r.text("instead"),
                                r.text("source"),
                                r.list("crops"),
                                r.list("words"),
                                r.list("unless"),
                                {},
                                {}};
                    check_filled(r, {"what", "why", "instead", "source"});
                    check_known_crops(r, row.crops, crops);
                    row.triggers = patterns_of(r, "words", row.words, into.wording);
                    row.lifts = patterns_of(r, "unless", row.unless, into.wording);
                    if (row.key.empty() && row.crops.empty() && row.words.empty())
                      r.fail("words", "a row without key, crops and words would never speak");
                    into.deny.push_back(std::move(row));
                  });
}

ReadFault read_fresh_quantities(std::string_view text, const Crops& crops, ProcessTable& into) {
  return each_row("canning/fresh_quantity.csv", text,
                  {"food", "form", "crops", "lb_per_7qt", "lb_per_9pt", "lb_per_qt", "bushel_or_crate_lb",
                   "yield_qt_per_bushel_low", "yield_qt_per_bushel_high", "source"},
                  [&](RowReader& r) {
                    FreshQuantity q{r.text("food"),
                                    r.text("form"),
                                    r.list("crops"),
                                    r.number("lb_per_7qt", 1, 100),
                                    r.number("lb_per_9pt", 1, 100),
                                    r.number("lb_per_qt", 0.1, 20),
                                    r.number("bushel_or_crate_lb", 5, 100),
                                    r.number("yield_qt_per_bushel_low", 1, 60),
                                    r.number("yield_qt_per_bushel_high", 1, 60),
                                    r.text("source")};
                    check_filled(r, {"food", "form", "source"});
                    check_known_crops(r, q.crops, crops);
                    check_low_to_high(r, q);
                    into.fresh_quantities.push_back(std::move(q));
                  });
}

ReadFault read_forms(std::string_view text, ProcessTable& into) {
  const auto ids = process_ids(into);
  std::map<std::string, std::vector<WordList>> groups;
  auto fault = each_row("canning/forms.csv", text, {"ids", "words", "said", "takes_frozen"}, [&](RowReader& r) {
    FormWords form;
    form.words = folded_words(r, r.list("words"), into.wording, groups);
    form.said = folded_words(r, r.list("said"), into.wording, {});
    form.takes_frozen = r.one_of("takes_frozen", {"yes", "no"}) == "yes";
    check_filled(r, {"ids"});
    for (const auto& id : r.list("ids")) {
      if (id.starts_with('@')) {
        groups[id] = form.words;
        continue;
      }
      if (!ids.contains(id)) r.fail("ids", fmt::format("no process is called \"{}\"", id));
      if (!into.forms.emplace(id, form).second) r.fail("ids", fmt::format("\"{}\" is there twice", id));
    }
  });
  if (fault) return fault;
  for (const auto& id : ids) {
    if (!into.forms.contains(id))
      return measure::Refusal{"bad_table",
                              fmt::format("canning/forms.csv: column ids: no row for process {}.", id),
                              {"add the words by which it may be asked for"}};
  }
  add_printed_words(into);
  return std::nullopt;
}

ReadFault read_low_temperature(std::string_view text, ProcessTable& into) {
  const auto ids = process_ids(into);
  return each_row("canning/low_temperature.csv", text,
                  {"ids", "start_low_f", "start_high_f", "hold_low_f", "hold_high_f", "time_min", "water_over_lids_in",
                   "source", "source_place", "edition_read", "status"},
                  [&](RowReader& r) {
                    LowTemperature row{.ids = r.list("ids"),
                                       .start_low_f = r.required_number("start_low_f", 100, 160),
                                       .start_high_f = r.required_number("start_high_f", 100, 160),
                                       .hold_low_f = r.required_number("hold_low_f", 180, 185),
                                       .hold_high_f = r.required_number("hold_high_f", 180, 185),
                                       .time_min = r.required_number("time_min", 30, 60),
                                       .water_over_lids_in = r.required_number("water_over_lids_in", 1, 3),
                                       .source = r.text("source"),
                                       .source_place = r.text("source_place"),
                                       .edition_read = r.text("edition_read"),
                                       .status = RowStatus::recalled};
                    const auto status = r.one_of("status", {"verified2", "verified", "recalled"});
                    if (status != "recalled")
                      row.status = status == "verified" ? RowStatus::verified : RowStatus::verified2;
                    check_filled(r, {"ids", "source", "source_place", "edition_read"});
                    if (row.hold_low_f >= row.hold_high_f)
                      r.fail("hold_high_f", "the low end is not below the high end");
                    for (const auto& id : row.ids) {
                      if (!ids.contains(id)) r.fail("ids", fmt::format("no process is called \"{}\"", id));
                      const bool forbidden = std::ranges::any_of(into.rows, [&](const auto& p) {
                        return p.id == id &&
                               std::ranges::count(p.requirements, "no_low_temperature_pasteurisation") > 0;
                      });
                      if (forbidden) r.fail("ids", fmt::format("the rows of \"{}\" forbid it", id));
                    }
                    into.low_temperature.push_back(std::move(row));
                  });
}

void collect_known_words(ProcessTable& into) {
  const auto add = [&](const WordList& words) { into.known_words.insert(words.begin(), words.end()); };
  for (const auto& name : into.names) add(name.words);
  for (const auto& row : into.deny) {
    for (const auto* patterns : {&row.triggers, &row.lifts})
      for (const auto& pattern : *patterns)
        for (const auto& part : pattern.parts) add(part);
  }
  for (const auto& [id, form] : into.forms) {
    for (const auto& words : form.words) add(words);
    for (const auto& words : form.said) add(words);
  }
  for (const auto& [also, word] : into.wording.same) add({also, word});
  into.known_words.insert(into.wording.free.begin(), into.wording.free.end());
}

ReadFault read_names(std::string_view text, const Crops& crops, ProcessTable& into) {
  auto fault = each_row("canning/names.csv", text, {"names", "ids"}, [&](RowReader& r) {
    const auto ids = r.list("ids");
    check_filled(r, {"names", "ids"});
    for (const auto& id : ids) {
      if (!into.forms.contains(id)) r.fail("ids", fmt::format("no process is called \"{}\"", id));
    }
    for (const auto& name : r.list("names")) into.names.push_back({into.wording.words(name), "", ids});
  });
  if (fault) return fault;
  // A dish and a crop of the same name: the dish says more, so it stands first (the sort keeps this order).
  for (const auto& crop : crops.all()) add_crop_names(crop, into.wording, into.names);
  std::ranges::stable_sort(into.names, longer, &NamePhrase::words);
  for (std::size_t i = 0; i < into.names.size(); ++i)
    into.names_by_first_word[into.names[i].words.front()].push_back(i);
  return std::nullopt;
}

}  // namespace stillroom::almanac::detail
