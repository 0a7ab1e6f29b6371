#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "almanac/detail/about_parts.h"

namespace stillroom::almanac {

namespace {

template <class Row>
AboutFact yield_fact(const Found<Row>& found, const Row& row, std::string what, std::string value) {
  return {std::move(what), std::move(value), found.from, row.from.source, row.from.checked};
}

std::string with_blanks(std::string text) {
  for (auto& c : text) {
    if (c == '_') c = ' ';
  }
  return text;
}

std::string money_words(Span usd) {
  return usd.low == usd.high ? fmt::format("{:.2f}", usd.low) : fmt::format("{:.2f} to {:.2f}", usd.low, usd.high);
}

std::string method_words(std::string_view method) { return method == "prep" ? "prepared" : std::string(method); }

std::string unit_words(std::string_view unit) {
  if (unit == "lb_dried") return "lb dried";
  if (unit == "lb_cured") return "lb cured";
  return with_blanks(std::string(unit));
}

/// Whether a published process speaks for the crop; excluded crops and rows from memory are not offered.
bool process_speaks_for(const Crops& crops, const ProcessRow& row, std::string_view crop) {
  const auto is_one_of = [&](const std::vector<std::string>& keys) {
    for (const auto& key : keys) {
      if (crops.is_a(crop, key)) return true;
    }
    return false;
  };
  return row.status != RowStatus::recalled && is_one_of(row.covers) && !is_one_of(row.excludes);
}

void add_share(std::string& text, std::string_view name, const std::optional<double>& share) {
  if (share) text += fmt::format("{}{} {:.0f} %", text.empty() ? "" : ", ", name, *share * 100);
}

std::string carcass_words(const PoultryYield& row) {
  std::string parts;
  add_share(parts, "breast", row.breast);
  add_share(parts, "thigh", row.thigh);
  add_share(parts, "drumstick", row.drumstick);
  add_share(parts, "wing", row.wing);
  add_share(parts, "hind leg", row.hind_leg);
  add_share(parts, "loin", row.loin);
  add_share(parts, "foreleg", row.foreleg);
  add_share(parts, "back and neck", row.back_neck_carcass);
  add_share(parts, "neck and rib", row.neck_rib);
  add_share(parts, "giblets", row.giblets);
  add_share(parts, "skin and fat", row.skin_fat);
  add_share(parts, "edible meat", row.edible_meat);
  add_share(parts, "bone", row.bone);
  std::string out;
  add_share(out, "dresses to", row.carcass_fraction);
  if (!parts.empty()) {
    out += (out.empty() ? "" : "; ") + (row.parts_basis.empty() ? parts : row.parts_basis + ": " + parts);
  }
  if (row.broth_quarts) out += fmt::format("{}{} quarts of broth", out.empty() ? "" : "; ", said(*row.broth_quarts));
  return out;
}

}  // namespace

AboutPart about_canning(const Almanac& almanac, const Crop& crop) {
  AboutPart part{.key = "canning",
                 .title = "Canned, by a published process",
                 .facts = {},
                 .none = "No published heat process covers it: refrigerate, freeze or dry it."};
  std::set<std::string> seen;
  for (const auto& row : almanac.processes.rows) {
    if (!process_speaks_for(almanac.crops, row, crop.key) || !seen.insert(row.id).second) continue;
    part.facts.push_back(
        {with_blanks(row.food + ", " + row.form),
         fmt::format("{} pack, {}; ask for the process at your altitude ({})", row.style_of_pack,
                     row.acid_class == "low_acid" ? "pressure canner only" : with_blanks(row.acid_class), row.id),
         "", row.source + ", edition read " + row.edition_read, Sureness::read});
  }
  for (const auto& row : almanac.processes.deny) {
    const bool speaks =
        std::ranges::any_of(row.crops, [&](const std::string& key) { return almanac.crops.is_a(crop.key, key); });
    if (speaks)
      part.facts.push_back(
          {"never: " + row.what, row.why + "; instead: " + row.instead, "", row.source, Sureness::read});
  }
  return part;
}

AboutPart about_weights(const Almanac& almanac, const Crop& crop) {
  AboutPart part{.key = "weights", .title = "By the container", .facts = {}, .none = {}};
  const auto found = almanac.tables.container_weights(almanac.crops, crop.key);
  if (found) {
    for (const auto* row : found->rows) {
      part.facts.push_back(
          yield_fact(*found, *row, with_blanks(row->container),
                     said(row->range_lb) + " lb" + (row->as_weighed.empty() ? "" : ", " + row->as_weighed)));
    }
  }
  part.facts.push_back({"heaped, a litre weighs", fmt::format("{:.2g} kg", crop.density_kg_per_l), "", crop.source,
                        Sureness::common_practice});
  return part;
}

AboutPart about_yields(const Almanac& almanac, const Crop& crop) {
  AboutPart part{.key = "yields", .title = "What it puts up", .facts = {}, .none = {}};
  const auto found = almanac.tables.put_up_yields(almanac.crops, crop.key);
  if (!found) return part;
  for (const auto* row : found->rows) {
    part.facts.push_back(yield_fact(*found, *row, fmt::format("{}, {}", method_words(row->method), row->form),
                                    fmt::format("{} lb to the {}", said(row->range_lb), unit_words(row->unit))));
  }
  return part;
}

AboutPart about_carcass(const Almanac& almanac, const Crop& crop) {
  AboutPart part{.key = "carcass", .title = "From the live animal", .facts = {}, .none = {}};
  const auto found = almanac.tables.poultry_yield(almanac.crops, crop.key);
  if (!crop.animal || !found) return part;
  for (const auto* row : found->rows)
    part.facts.push_back(yield_fact(*found, *row, row->class_note, carcass_words(*row)));
  return part;
}

AboutPart about_labour(const Almanac& almanac, const Crop& crop) {
  AboutPart part{.key = "labour", .title = "Work", .facts = {}, .none = {}};
  const auto found = almanac.tables.labour(almanac.crops, crop.key);
  if (!found) return part;
  for (const auto* row : found->rows) {
    part.facts.push_back(
        yield_fact(*found, *row, row->with.empty() ? row->task : row->task + ", " + row->with,
                   fmt::format("{} minutes to the {}, {} to set up, {}", said(row->minutes), row->per,
                               said({row->setup_min, row->setup_min}),
                               row->least_age >= 18 ? "adults only" : fmt::format("from age {}", row->least_age))));
  }
  return part;
}

AboutPart about_growing(const Almanac& almanac, const Crop& crop) {
  AboutPart part{.key = "growing", .title = "Grown and raised", .facts = {}, .none = {}};
  if (const auto found = almanac.tables.garden(almanac.crops, crop.key)) {
    for (const auto* row : found->rows) {
      part.facts.push_back(yield_fact(*found, *row, row->as_grown,
                                      fmt::format("{} lb from 100 ft of row; {} days; {}", said(row->lb_per_100ft),
                                                  said(row->days_to_maturity), with_blanks(row->frost_hardiness))));
    }
  }
  if (const auto found = almanac.tables.orchard(almanac.crops, crop.key)) {
    for (const auto* row : found->rows) {
      part.facts.push_back(
          yield_fact(*found, *row, with_blanks(row->size),
                     fmt::format("{} lb {}, from {} years", said(row->lb),
                                 row->unit == "lb_per_ft" ? "a foot of row" : "a year", said(row->years_to_bear))));
    }
  }
  if (const auto found = almanac.tables.livestock(almanac.crops, crop.key)) {
    for (const auto* row : found->rows) {
      part.facts.push_back(yield_fact(*found, *row, with_blanks(row->stock + ", " + row->measure),
                                      fmt::format("{} {}", said(row->value), with_blanks(row->unit))));
    }
  }
  return part;
}

AboutPart about_eating(const Almanac& almanac, const Crop& crop) {
  AboutPart part{.key = "eating", .title = "Eaten and bought", .facts = {}, .none = {}};
  if (const auto found = almanac.tables.need(almanac.crops, crop.key)) {
    for (const auto* row : found->rows) {
      part.facts.push_back(
          yield_fact(*found, *row, row->food,
                     fmt::format("{} {}, {}", said(row->amount), with_blanks(row->unit), with_blanks(row->measure))));
    }
  }
  if (const auto found = almanac.tables.nutrients(almanac.crops, crop.key)) {
    for (const auto* row : found->rows) {
      part.facts.push_back(
          yield_fact(*found, *row, row->food + ", " + row->form, fmt::format("{:.0f} kcal in 100 g", row->kcal)));
    }
  }
  if (const auto found = almanac.tables.prices(almanac.crops, crop.key)) {
    for (const auto* row : found->rows) {
      part.facts.push_back(yield_fact(*found, *row, "bought, " + row->food + ", " + row->form,
                                      fmt::format("{} USD a {}, {}", money_words(row->usd), row->unit, row->year)));
    }
  }
  return part;
}

}  // namespace stillroom::almanac
