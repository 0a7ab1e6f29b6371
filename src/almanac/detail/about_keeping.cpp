#include <fmt/format.h>

#include "almanac/detail/about_parts.h"

namespace stillroom::almanac {

namespace {

template <class Row>
AboutFact about_fact(const Found<Row>& found, const Row& row, std::string what, std::string value) {
  return {std::move(what), std::move(value), found.from, row.from.source, row.from.checked};
}

std::string place_words(std::string_view place) {
  if (place == "counter") return "on the counter";
  if (place == "cool_room") return "in a cool room";
  if (place == "cellar") return "in a cellar";
  return "in the refrigerator";
}

std::string state_words(std::string_view state) {
  std::string out(state);
  for (auto& c : out) {
    if (c == '_') c = ' ';
  }
  return out;
}

std::string ethylene_words(const FreshStorage& row) {
  std::string gives = row.ethylene_producer == "high"  ? "gives off much ethylene: keep it from what ethylene harms"
                      : row.ethylene_producer == "med" ? "gives off some ethylene"
                                                       : "gives off little ethylene";
  if (row.ethylene_sensitivity == "high") return gives + "; harmed by it";
  return gives + (row.ethylene_sensitivity == "med" ? "; somewhat harmed by it" : "; hardly harmed by it");
}

std::string cure_words(const Curing& row) {
  std::string out = !row.temp_c
                        ? "do not cure"
                        : fmt::format("{}{} for {} days", said_temperature(*row.temp_c),
                                      row.humidity_pct ? fmt::format(", {} % humidity", said(*row.humidity_pct)) : "",
                                      said(row.days));
  out += fmt::format("; then {}, {} % humidity, for {} months", said_temperature(row.then_temp_c),
                     said(row.then_humidity_pct), said(row.then_months));
  return row.notes.empty() ? out : out + "; " + row.notes;
}

}  // namespace

AboutPart about_keeping(const Almanac& almanac, const Crop& crop) {
  AboutPart part{.key = "keeping", .title = "Keeping fresh", .facts = {}, .none = {}};
  const auto found = almanac.tables.fresh_storage(almanac.crops, crop.key);
  if (!found) {
    if (!crop.animal) part.none = found.error().message;
    return part;
  }
  for (const auto* row : found->rows) {
    part.facts.push_back(about_fact(*found, *row, "best kept at",
                                    fmt::format("{}, {} % humidity, for {}", said_temperature(row->temp_c),
                                                said(row->humidity_pct), said_days(row->life_days))));
    if (row->chilling_below_c) {
      const auto limit = said_temperature({*row->chilling_below_c, *row->chilling_below_c});
      part.facts.push_back(about_fact(*found, *row, "harmed by cold", "below " + limit));
    }
    part.facts.push_back(about_fact(*found, *row, "ethylene", ethylene_words(*row)));
  }
  return part;
}

AboutPart about_rooms(const Almanac& almanac, const Crop& crop) {
  AboutPart part{.key = "rooms", .title = "In the house", .facts = {}, .none = {}};
  const auto found = almanac.tables.room_life(almanac.crops, crop.key);
  if (!found) return part;
  for (const auto* row : found->rows) {
    part.facts.push_back(
        about_fact(*found, *row, state_words(row->state) + ", " + place_words(row->place),
                   said_days(row->life_days) + (row->sign.empty() ? "" : "; watch for: " + row->sign)));
  }
  return part;
}

AboutPart about_ripening(const Almanac& almanac, const Crop& crop) {
  AboutPart part{.key = "ripening", .title = "Ripening off the plant, at 68 °F (20 °C)", .facts = {}, .none = {}};
  const auto found = almanac.tables.ripening(almanac.crops, crop.key);
  if (!found) return part;
  const auto& row = found->first();
  for (std::size_t c = 0; c + 1 < row.days_at_20c.size(); ++c) {
    const double days = row.days_at_20c[c];
    part.facts.push_back(
        about_fact(*found, row, fmt::format("stays {}", to_word(static_cast<Condition>(c))), said_days({days, days})));
  }
  return part;
}

AboutPart about_limits(const Almanac& almanac, const Crop& crop) {
  AboutPart part{.key = "limits", .title = "Time limits, raw", .facts = {}, .none = {}};
  if (!crop.animal) return part;
  const Crop* c = &crop;
  for (std::size_t hops = 0; c != nullptr && hops < almanac.crops.all().size(); ++hops) {
    for (const auto& row : almanac.tables.keeping.hazards) {
      if (!speaks_of(row.crops, c->key)) continue;
      part.facts.push_back(
          {row.name,
           fmt::format("{} in the refrigerator at 40 °F or colder; {} hours in all out of the cold, half "
                       "of that above 90 °F",
                       said_days(row.fridge_days), said({row.room_hours, row.room_hours})),
           "", row.from.source, row.from.checked});
      return part;
    }
    c = c->parent.empty() ? nullptr : almanac.crops.find(c->parent);
  }
  return part;
}

AboutPart about_curing(const Almanac& almanac, const Crop& crop) {
  AboutPart part{.key = "curing", .title = "Curing", .facts = {}, .none = {}};
  const auto found = almanac.tables.curing(almanac.crops, crop.key);
  if (!found) return part;
  for (const auto* row : found->rows) {
    part.facts.push_back(about_fact(*found, *row, row->way.empty() ? "cure at" : row->way, cure_words(*row)));
  }
  return part;
}

AboutPart about_freezing(const Almanac& almanac, const Crop& crop) {
  AboutPart part{.key = "freezing", .title = "Frozen, at 0 °F (-18 °C)", .facts = {}, .none = {}};
  const auto found = almanac.tables.frozen(almanac.crops, crop.key);
  if (!found) return part;
  for (const auto* row : found->rows) {
    std::string value = fmt::format("good for {} months", said(row->months));
    if (row->blanch_min)
      value += fmt::format("; blanch {} min in boiling water", said({*row->blanch_min, *row->blanch_min}));
    if (row->steam_blanch_min) {
      value += fmt::format("{} {} min in steam", row->blanch_min ? " or" : "; blanch",
                           said({*row->steam_blanch_min, *row->steam_blanch_min}));
    }
    part.facts.push_back(about_fact(*found, *row, row->form, value));
  }
  return part;
}

AboutPart about_drying(const Almanac& almanac, const Crop& crop) {
  AboutPart part{.key = "drying", .title = "Dried", .facts = {}, .none = {}};
  if (const auto found = almanac.tables.drying(almanac.crops, crop.key)) {
    for (const auto* row : found->rows) {
      part.facts.push_back(
          about_fact(*found, *row, row->form,
                     fmt::format("{} for {} hours; {} lb trimmed make 1 lb; done when {}; first: {}",
                                 said_temperature({row->temp_c, row->temp_c}), said(row->hours),
                                 said({row->yield_ratio, row->yield_ratio}), row->doneness, row->pretreatment)));
    }
  }
  if (const auto found = almanac.tables.shelf_life(almanac.crops, crop.key, "dried")) {
    for (const auto* row : found->rows) {
      part.facts.push_back(
          about_fact(*found, *row, "keeps, " + row->form, fmt::format("{} months; {}", said(row->months), row->where)));
    }
  }
  return part;
}

}  // namespace stillroom::almanac
