#include "kitchen/recipe_sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "almanac/about.h"
#include "kitchen/detail/recipe_lines.h"
#include "kitchen/detail/recipe_measures.h"
#include "measure/text.h"
#include "process/answer.h"

namespace stillroom::kitchen {

namespace {

using almanac::Recipe;
using almanac::RecipeChange;
using nlohmann::ordered_json;

std::string spoken(const std::string& key) {
  std::string out = key;
  std::ranges::replace(out, '_', '-');
  return out;
}

std::string span_in_words(almanac::Span s) {
  return s.high - s.low < 1e-9 ? fmt::format("{:g}", s.low) : fmt::format("{:g} to {:g}", s.low, s.high);
}

std::string days_in_words(almanac::Span days) {
  return (days.high > 1 && days.low != days.high ? "days " : "day ") + span_in_words(days);
}

/// "USDA AIB-539 Guide 7, p 7-6 (edition read: 1994)", with how surely where it was not read.
std::string source_in_words(const Recipe& r) {
  std::string out = r.from.source;
  if (!r.source_place.empty()) out += ", " + r.source_place;
  if (!r.edition_read.empty()) out += fmt::format(" (edition read: {})", r.edition_read);
  if (r.from.checked != almanac::Sureness::read && r.from.source != "common practice")
    out += fmt::format("; {}", almanac::to_phrase(r.from.checked));
  return out;
}

std::vector<std::string> crop_names(const almanac::Almanac& almanac, const Recipe& r) {
  std::vector<std::string> names;
  for (const auto& key : r.crops) names.push_back(almanac.crops.find(key)->plural);
  return names;
}

std::string pectin_in_words(const Recipe& r) {
  if (r.pectin == "low_methoxyl") return "low-methoxyl pectin, set by calcium and not by sugar";
  if (r.pectin == "low_sugar") return "pectin for low sugar, by its leaflet";
  if (r.pectin == "regular") return "regular pectin, which needs the printed sugar";
  const bool gels = r.kind == "jelly" || r.kind == "jam";
  return gels ? "no added pectin: the fruit's own and the printed sugar" : "";
}

std::string pots_in_words(const ScaledRecipe& s, measure::Units units) {
  if (s.pots == 1) return {};
  const auto& base = s.recipe->base();
  return fmt::format("{} pots of {} each, one after the other: {}.", s.pots,
                     detail::say_measure(s.base / s.pots, base.unit, units), s.recipe->why_scale);
}

std::string bound_in_words(const Recipe& r, measure::Units units) {
  const auto most = r.most ? detail::say_measure(*r.most, r.base().unit, units) : std::string();
  switch (r.scale) {
    case almanac::Scaling::free:
      return "May be made larger or smaller: " + r.why_scale + ".";
    case almanac::Scaling::whole:
      return "Whole batches only, one in a pot: " + r.why_scale + ".";
    case almanac::Scaling::batches:
      break;
  }
  return fmt::format("At most {} of {} in one pot: {}.", most, r.base().item, r.why_scale);
}

ordered_json changes_json(const almanac::Almanac& almanac, const Recipe& r, bool allowed) {
  auto out = ordered_json::array();
  for (const auto& c : almanac.recipes.changes) {
    if (c.speaks_for(r) && c.allowed == allowed)
      out.push_back({{"what", c.what}, {"why", c.why}, {"instead", c.instead}, {"source", c.from.source}});
  }
  return out;
}

ordered_json steps_json(const almanac::Almanac& almanac, const Recipe& r) {
  auto steps = ordered_json::array();
  for (const auto& s : r.steps) steps.push_back({{"text", s.text}, {"source", s.from.source}});
  auto warmth = ordered_json::array();
  for (const auto& f : almanac.recipes.ferments)
    if (f.recipe == r.key)
      warmth.push_back({{"temperature", span_in_words(f.temp_f) + " °F"},
                        {"days", span_in_words(f.days) + " days"},
                        {"source", f.from.source}});
  auto checks = ordered_json::array();
  for (const auto& c : almanac.recipes.ferment_checks)
    if (c.recipe == r.key)
      checks.push_back({{"days", days_in_words(c.days)}, {"text", c.check}, {"source", c.from.source}});
  return {{"steps", steps}, {"ferment", warmth}, {"checks", checks}};
}

/// What process/ answers for this recipe here; null where it is not canned at all.
ordered_json process_json(const almanac::Almanac& almanac, const Recipe& r, const RecipePlace& place) {
  if (r.ask_food.empty()) return nullptr;
  process::Question q;
  q.food = r.ask_food;
  q.form = r.ask_form;
  q.id = r.process;
  q.altitude = place.altitude;
  return ordered_json::parse(process::to_json(almanac.processes, process::choose(almanac, q)));
}

std::vector<std::string> recipe_cautions(const Recipe& r) {
  std::vector<std::string> out;
  if (!r.complete)
    out.emplace_back(
        "Only the proportions that its process stands on are held here: take spices and the order of work from the "
        "printed recipe.");
  if (std::ranges::any_of(r.ingredients, [](const auto& i) { return i.role == "acid"; }))
    out.emplace_back("Vinegar of 5 percent and bottled lemon or lime juice only.");
  if (r.from.checked == almanac::Sureness::from_memory)
    out.emplace_back("These amounts are from memory: compare with the publication before you begin.");
  if (r.keep == "leaflet") out.emplace_back("No heat process is published: follow the pectin maker's leaflet.");
  return out;
}

ordered_json sheet_json(const almanac::Almanac& almanac, const ScaledRecipe& s, const RecipePlace& place) {
  const Recipe& r = *s.recipe;
  auto lines = ordered_json::array();
  for (const auto& line : s.lines)
    lines.push_back({{"item", line.ingredient->item},
                     {"said", line.said},
                     {"role", line.ingredient->role},
                     {"base", line.ingredient->base},
                     {"optional", line.ingredient->optional}});
  const auto gels = (r.kind == "jelly" || r.kind == "jam") && r.pectin == "none";
  const auto gel = gel_test(almanac.recipes, place.altitude, place.units);
  ordered_json out{
      {"answer", "recipe"},
      {"key", r.key},
      {"name", r.name},
      {"kind", r.kind},
      {"pectin", pectin_in_words(r)},
      {"crops", crop_names(almanac, r)},
      {"keep", r.keep},
      {"base", r.base().item},
      {"base_unit", r.base().unit},
      {"base_said", s.base_said},
      {"how", s.how},
      {"pots", s.pots},
      {"pots_said", pots_in_words(s, place.units)},
      {"bound", bound_in_words(r, place.units)},
      {"left_over", s.left_over},
      {"yield", s.yield ? fmt::format("about {} {} jars", span_in_words(*s.yield), spoken(r.yield_unit)) : ""},
      {"lines", lines},
      {"allowed", changes_json(almanac, r, true)},
      {"not_allowed", changes_json(almanac, r, false)},
      {"change", nullptr},
      {"gel", gels ? ordered_json{{"said", gel.said}, {"source", gel.source}} : ordered_json(nullptr)},
      {"ask", r.ask_food.empty() ? ordered_json(nullptr)
                                 : ordered_json{{"food", r.ask_food}, {"form", r.ask_form}, {"id", r.process}}},
      {"process", process_json(almanac, r, place)},
      {"cautions", recipe_cautions(r)},
      {"notes", r.notes},
      {"source", source_in_words(r)}};
  out.update(steps_json(almanac, r));
  return out;
}

ordered_json acid_json(const almanac::Almanac& almanac, const almanac::Crop& crop, measure::Units units) {
  auto out = ordered_json::array();
  for (const auto& a : almanac.recipes.acid_per_jar) {
    const bool its = std::ranges::any_of(a.crops, [&](const auto& key) { return almanac.crops.is_a(crop.key, key); });
    if (!its) continue;
    std::vector<std::string> ways;
    if (a.lemon_tbsp) ways.push_back(detail::say_measure(*a.lemon_tbsp, "tbsp", units) + " of bottled lemon juice");
    if (a.citric_tsp) ways.push_back(detail::say_measure(*a.citric_tsp, "tsp", units) + " of citric acid");
    if (a.vinegar_tbsp) ways.push_back(detail::say_measure(*a.vinegar_tbsp, "tbsp", units) + " of 5% vinegar");
    out.push_back({{"jar", a.jar}, {"said", fmt::format("{}", fmt::join(ways, ", or "))}, {"source", a.from.source}});
  }
  return out;
}

ordered_json syrups_json(const almanac::Almanac& almanac, measure::Units units) {
  auto out = ordered_json::array();
  for (const auto& s : almanac.recipes.syrups)
    out.push_back({{"strength", s.strength},
                   {"sugar_pct", s.sugar_pct},
                   {"makes_for", s.makes_for},
                   {"said", fmt::format("{} of water, {} of sugar", detail::say_measure(s.water_cups, "cup", units),
                                        detail::say_measure(s.sugar_cups, "cup", units))},
                   {"source", s.from.source}});
  return out;
}

ordered_json listed(const Recipe& r, const almanac::Almanac& almanac) {
  const bool by_weight = r.base().unit == "lb" || r.base().unit == "oz" || r.base_per_lb.has_value();
  return {{"key", r.key},         {"name", r.name},        {"kind", r.kind}, {"crops", crop_names(almanac, r)},
          {"crop_keys", r.crops}, {"by_weight", by_weight}};
}

/// What is on file for drying, in the words of `about`.
ordered_json facts_json(const almanac::About& about, std::string_view part) {
  auto out = ordered_json::array();
  const auto it = std::ranges::find(about.parts, part, &almanac::AboutPart::key);
  if (it == about.parts.end()) return out;
  for (const auto& f : it->facts)
    out.push_back({{"what", f.what},
                   {"value", f.value},
                   {"from", f.from},
                   {"source", f.source},
                   {"checked", almanac::to_phrase(f.checked)}});
  return out;
}

/// Blanching, headspace, pack and months of quality, each form of the crop.
ordered_json freezing_json(const almanac::Almanac& almanac, const almanac::Crop& crop) {
  auto out = ordered_json::array();
  const auto found = almanac.tables.frozen(almanac.crops, crop.key);
  if (!found) return out;
  for (const auto* row : found->rows) {
    std::vector<std::string> parts;
    if (row->blanch_min) parts.push_back(fmt::format("blanch {:g} min in boiling water", *row->blanch_min));
    if (row->steam_blanch_min)
      parts.push_back(fmt::format("{} {:g} min in steam", row->blanch_min ? "or" : "blanch", *row->steam_blanch_min));
    if (!row->headspace.empty()) parts.push_back("headspace " + row->headspace);
    if (!row->pack.empty()) parts.push_back("pack: " + row->pack);
    parts.push_back(fmt::format("good for {} months", span_in_words(row->months)));
    out.push_back({{"what", row->form},
                   {"value", fmt::format("{}", fmt::join(parts, "; "))},
                   {"from", found->from},
                   {"source", row->from.source},
                   {"checked", almanac::to_phrase(row->from.checked)}});
  }
  return out;
}

RecipeAnswer crop_answer(const almanac::Almanac& almanac, const almanac::Crop& crop, const RecipePlace& place) {
  ordered_json out{{"answer", "crop"}, {"crop", crop.key}, {"name", crop.plural}};
  auto recipes = ordered_json::array();
  for (const auto* r : almanac.recipes.for_crop(almanac.crops, crop.key)) recipes.push_back(listed(*r, almanac));
  out["recipes"] = std::move(recipes);
  out["acid_per_jar"] = acid_json(almanac, crop, place.units);
  const auto about = almanac::about(almanac, crop.key);
  out["drying"] = about ? facts_json(*about, "drying") : ordered_json::array();
  out["freezing"] = freezing_json(almanac, crop);
  out["syrups"] = crop.kind == almanac::CropKind::fruit ? syrups_json(almanac, place.units) : ordered_json::array();
  return {detail::crop_lines(out), out.dump()};
}

const Recipe* recipe_named(const almanac::Almanac& almanac, const std::string& typed) {
  if (const auto* r = almanac.recipes.find(typed)) return r;
  const auto wanted = almanac.processes.wording.words(typed);
  const auto it = std::ranges::find_if(
      almanac.recipes.recipes, [&](const auto& r) { return almanac.processes.wording.words(r.name) == wanted; });
  return it == almanac.recipes.recipes.end() ? nullptr : &*it;
}

measure::Refusal unknown_recipe(const almanac::Almanac& almanac, const std::string& typed) {
  std::vector<std::string> names;
  for (const auto& r : almanac.recipes.recipes) names.push_back(r.name);
  measure::Refusal refusal{"unknown_recipe", fmt::format("No recipe and no crop is called \"{}\".", typed), {}};
  for (const auto& near : measure::suggest(typed, names)) refusal.instead.push_back("did you mean " + near + "?");
  refusal.instead.emplace_back("see all of them: stillroom recipe --list");
  refusal.instead.emplace_back("a recipe of your own goes to the fridge or the freezer, never into a canner");
  return refusal;
}

}  // namespace

measure::Result<RecipeAnswer> recipe_answer(const almanac::Almanac& almanac, const RecipeWords& words,
                                            const RecipePlace& place) {
  const auto* recipe = recipe_named(almanac, words.name);
  if (recipe == nullptr) {
    const auto crop = almanac.crops.named(words.name);
    if (!crop) return tl::unexpected(unknown_recipe(almanac, words.name));
    return crop_answer(almanac, **crop, place);
  }
  ScaleWish wish{.amount = std::nullopt, .crop = {}, .one_pot = words.one_pot, .units = place.units};
  if (!words.amount.empty()) {
    auto amount = measure::parse_amount(words.amount);
    if (!amount) return tl::unexpected(amount.error());
    wish.amount = std::move(*amount);
  }
  const auto scaled = scale_recipe(almanac, *recipe, wish);
  if (!scaled) return tl::unexpected(scaled.error());
  auto json = sheet_json(almanac, *scaled, place);
  if (!words.change.empty()) {
    const auto change = allowed_change(almanac, *recipe, words.change);
    if (!change) return tl::unexpected(change.error());
    json["change"] = {{"what", (*change)->what}, {"why", (*change)->why}, {"source", (*change)->from.source}};
  }
  return RecipeAnswer{detail::recipe_lines(json), json.dump()};
}

RecipeAnswer recipe_list(const almanac::Almanac& almanac, measure::Units units) {
  auto recipes = ordered_json::array();
  for (const auto& r : almanac.recipes.recipes) recipes.push_back(listed(r, almanac));
  auto brines = ordered_json::array();
  for (const auto& b : almanac.recipes.brines)
    brines.push_back({{"degrees", b.degrees}, {"salt_pct", b.salt_pct}, {"source", b.from.source}});
  const ordered_json out{
      {"answer", "list"}, {"recipes", recipes}, {"syrups", syrups_json(almanac, units)}, {"brines", brines}};
  return {detail::list_lines(out), out.dump()};
}

measure::Result<RecipeAnswer> brine_answer(const almanac::Almanac& almanac, std::string_view water, double percent,
                                           measure::Units units) {
  const auto amount = measure::parse_amount(water);
  if (!amount) return tl::unexpected(amount.error());
  const bool by_volume = amount->kind == measure::AmountKind::volume;
  if (!by_volume && amount->kind != measure::AmountKind::mass)
    return measure::refuse("wrong_unit", "A brine is made by a weight or a volume of water.",
                           {"say \"2 qt\" or \"1 kg\""});
  // Water weighs a kilogram to the litre, to within half a percent between 32 and 80 °F.
  const auto mass = by_volume ? measure::kilograms(measure::in_litres(amount->volume())) : amount->mass();
  const auto salt = salt_for_brine(mass, percent);
  if (!salt) return tl::unexpected(salt.error());
  const auto& rows = almanac.recipes.brines;
  const auto& near = *std::ranges::min_element(rows, {}, [&](const auto& b) { return std::abs(b.salt_pct - percent); });
  const auto said = fmt::format("{} of canning salt to {} of water makes a brine of {:g} percent by weight",
                                measure::say(*salt, units, measure::Detail::exact), amount->said, percent);
  const ordered_json out{{"answer", "brine"},
                         {"said", said + "."},
                         {"salt_g", std::round(measure::in_kilograms(*salt) * 1000)},
                         {"salometer", fmt::format("about {:g} degrees on a salometer", near.degrees)},
                         {"basis", "percent of the whole brine, by weight; weigh the salt, do not measure it"},
                         {"source", near.from.source}};
  return RecipeAnswer{detail::brine_lines(out), out.dump()};
}

}  // namespace stillroom::kitchen
