#include "almanac/crops.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <numeric>
#include <set>
#include <utility>

#include "almanac/csv.h"
#include "measure/text.h"

namespace stillroom::almanac {

namespace {

constexpr std::array<std::pair<Condition, std::string_view>, kConditions> kConditionWords{
    {{Condition::underripe, "underripe"},
     {Condition::firm, "firm"},
     {Condition::ripe, "ripe"},
     {Condition::soft, "soft"},
     {Condition::going_over, "going over"}}};

constexpr std::array<std::pair<CropKind, std::string_view>, 14> kKindWords{{{CropKind::fruit, "fruit"},
                                                                            {CropKind::vegetable, "vegetable"},
                                                                            {CropKind::root, "root"},
                                                                            {CropKind::leaf, "leaf"},
                                                                            {CropKind::herb, "herb"},
                                                                            {CropKind::legume, "legume"},
                                                                            {CropKind::nut, "nut"},
                                                                            {CropKind::mushroom, "mushroom"},
                                                                            {CropKind::poultry, "poultry"},
                                                                            {CropKind::meat, "meat"},
                                                                            {CropKind::fish, "fish"},
                                                                            {CropKind::egg, "egg"},
                                                                            {CropKind::dairy, "dairy"},
                                                                            {CropKind::other, "other"}}};

/// Lower case ASCII, '_' and '-' as blanks, runs of blanks as one.
std::string crop_fold(std::string_view typed) {
  std::string out;
  for (const char ch : typed) {
    const char c = ch >= 'A' && ch <= 'Z' ? static_cast<char>(ch - 'A' + 'a') : ch;
    const bool blank = c == ' ' || c == '\t' || c == '_' || c == '-';
    if (!blank) {
      out += c;
    } else if (!out.empty() && out.back() != ' ') {
      out += ' ';
    }
  }
  if (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

std::vector<std::string> crop_names(const Crop& c) {
  std::vector<std::string> names{crop_fold(c.key), crop_fold(c.name), crop_fold(c.plural)};
  for (const auto& a : c.aliases) names.push_back(crop_fold(a));
  return names;
}

/// Up to three names of different crops, nearest first.
std::vector<std::string> crop_near_names(const std::vector<Crop>& rows, const std::string& folded) {
  std::vector<std::pair<std::size_t, std::string>> near;
  const auto most = std::max<std::size_t>(2, folded.size() / 3);
  for (const auto& crop : rows) {
    std::size_t best = std::max(folded.size(), most + 1);
    for (const auto& n : crop_names(crop)) {
      const auto apart = n.size() > folded.size() ? n.size() - folded.size() : folded.size() - n.size();
      auto slips =
          apart > most
              ? apart
              : static_cast<std::size_t>(measure::edit_distance(folded, n));  // never fewer slips than letters too many
      if (folded.size() >= 3 && n.find(folded) != std::string::npos) slips = std::min<std::size_t>(slips, 2);
      best = std::min(best, slips);
    }
    if (best <= most) near.emplace_back(best, crop.name);
  }
  std::ranges::stable_sort(near, {}, &std::pair<std::size_t, std::string>::first);
  std::vector<std::string> out;
  for (const auto& n : near) {
    if (out.size() == 3) break;
    out.push_back(n.second);
  }
  return out;
}

bool crop_yes_no(RowReader& r, std::string_view column) { return r.one_of(column, {"yes", "no"}) == "yes"; }

Crop crop_of_row(RowReader& r) {
  Crop c;
  c.key = r.text("key");
  c.name = r.text("name");
  c.plural = r.text("plural");
  std::vector<std::string> kinds;
  for (const auto& k : kKindWords) kinds.emplace_back(k.second);
  const auto kind = r.one_of("kind", kinds);
  for (const auto& k : kKindWords) {
    if (k.second == kind) c.kind = k.first;
  }
  c.aliases = r.list("aliases");
  c.parent = r.text("parent");
  c.borrow_from = r.text("borrow_from");
  c.stands_for_parent = crop_yes_no(r, "stands_for_parent");
  c.foraged = crop_yes_no(r, "foraged");
  c.animal = crop_yes_no(r, "animal");
  c.density_kg_per_l = r.required_number("density_kg_per_l", 0.01, 2);
  c.source = r.text("source");
  for (const auto column : {"key", "name", "plural", "source"}) {
    if (r.text(column).empty()) r.fail(column, "the cell is empty");
  }
  return c;
}

/// True when following `step` from `start` comes back to a key already seen.
template <class Step>
bool crop_runs_in_circle(const Crops& crops, const Crop& start, Step step) {
  std::set<std::string, std::less<>> seen;
  for (const Crop* c = &start; c != nullptr; c = crops.find(step(*c))) {
    if (!seen.insert(c->key).second) return true;
  }
  return false;
}

/// Checks that need the whole list: every name means one crop, parents and borrowed rows exist and do not run in
/// circles.
void check_crop(const Crops& crops, const Crop& c, std::map<std::string, std::string>& owner, RowReader& r) {
  if (crops.find(c.key) != &c) r.fail("key", fmt::format("the key {} stands twice", c.key));
  for (const auto& n : crop_names(c)) {
    const auto [it, fresh] = owner.emplace(n, c.key);
    if (!fresh && it->second != c.key) r.fail("aliases", fmt::format("\"{}\" already means {}", n, it->second));
  }
  if (!c.parent.empty() && !crops.find(c.parent)) r.fail("parent", fmt::format("no crop has the key {}", c.parent));
  if (!c.borrow_from.empty() && !crops.find(c.borrow_from)) {
    r.fail("borrow_from", fmt::format("no crop has the key {}", c.borrow_from));
  }
  if (c.stands_for_parent && c.parent.empty()) r.fail("stands_for_parent", "it has no parent");
  if (crop_runs_in_circle(crops, c, [](const Crop& x) { return x.parent; }))
    r.fail("parent", "the parents run in a circle");
  if (crop_runs_in_circle(crops, c, [](const Crop& x) { return x.borrow_from; })) {
    r.fail("borrow_from", "the borrowed rows run in a circle");
  }
}

}  // namespace

std::string_view to_word(Condition c) { return kConditionWords[static_cast<std::size_t>(c)].second; }

std::optional<Condition> condition_from_word(std::string_view word) {
  const auto folded = crop_fold(word);
  for (const auto& [condition, w] : kConditionWords) {
    if (w == folded) return condition;
  }
  return std::nullopt;
}

std::string_view to_word(CropKind kind) { return kKindWords[static_cast<std::size_t>(kind)].second; }

Crops::Crops(std::vector<Crop> rows) : rows_(std::move(rows)), by_key_(rows_.size()) {
  std::iota(by_key_.begin(), by_key_.end(), std::size_t{0});
  std::ranges::stable_sort(by_key_, {}, [this](std::size_t i) -> const std::string& { return rows_[i].key; });
}

const Crop* Crops::find(std::string_view key) const {
  const auto key_of = [this](std::size_t i) -> std::string_view { return rows_[i].key; };
  const auto it = std::ranges::lower_bound(by_key_, key, {}, key_of);
  return it == by_key_.end() || key_of(*it) != key ? nullptr : &rows_[*it];
}

measure::Result<const Crop*> Crops::named(std::string_view typed) const {
  if (const Crop* c = find(typed)) return c;
  const auto folded = crop_fold(typed);
  for (const auto& c : rows_) {
    if (std::ranges::count(crop_names(c), folded) > 0) return &c;
  }
  return measure::refuse("unknown_crop", fmt::format("No crop is called \"{}\" here.", typed),
                         crop_near_names(rows_, folded));
}

bool Crops::is_a(std::string_view key, std::string_view ancestor) const {
  if (key == ancestor) return true;
  const Crop* c = find(key);
  // Bounded by the list's length, so that a household's own list that runs in a circle still ends.
  for (std::size_t n = 0; c != nullptr && n < rows_.size(); ++n) {
    if (c->key == ancestor) return true;
    if (c->parent.empty()) return false;
    c = find(c->parent);
  }
  return false;
}

measure::Result<Crops> read_crops(std::string file, std::string_view text) {
  const auto table = read_csv(std::move(file), text,
                              {"key", "name", "plural", "kind", "aliases", "parent", "borrow_from", "stands_for_parent",
                               "foraged", "animal", "density_kg_per_l", "source"});
  if (!table) return tl::unexpected(table.error());
  std::vector<Crop> rows;
  for (std::size_t i = 0; i < table->rows.size(); ++i) {
    RowReader r(*table, i);
    rows.push_back(crop_of_row(r));
    if (r.error()) return tl::unexpected(*r.error());
  }
  Crops crops(std::move(rows));
  std::map<std::string, std::string> owner;
  for (std::size_t i = 0; i < crops.all().size(); ++i) {
    RowReader r(*table, i);
    check_crop(crops, crops.all()[i], owner, r);
    if (r.error()) return tl::unexpected(*r.error());
  }
  return crops;
}

measure::Result<Crops> load_crops() { return read_crops("crops.csv", embedded_file("crops.csv")); }

}  // namespace stillroom::almanac
