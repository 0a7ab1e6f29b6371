#include "kitchen/recipe.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "kitchen/detail/recipe_measures.h"
#include "measure/text.h"

namespace stillroom::kitchen {

namespace {

using almanac::Ingredient;
using almanac::Recipe;
using almanac::RecipeChange;
using almanac::Scaling;
using almanac::Span;
using measure::Amount;
using measure::AmountKind;
using measure::Result;

constexpr double kLeastShare = 1.0 / 8;
constexpr double kPotDust = 1e-6;

/// An amount of the base in its own unit, and how it was found.
struct BaseAmount {
  double value = 0;
  std::string how;
};

std::string unit_in_words(std::string_view unit) {
  if (unit == "lb" || unit == "oz") return "weight";
  return unit == "each" ? "count" : "volume";
}

measure::Refusal wrong_unit(const Recipe& r, std::string_view said) {
  const auto& base = r.base();
  std::vector<std::string> ways{fmt::format("give the {} by {}, for example \"{}\"", base.item,
                                            unit_in_words(base.unit),
                                            detail::say_measure(base.amount.low, base.unit, measure::Units::us))};
  if (detail::teaspoons_in(base.unit)) ways.emplace_back("prepare it first, then measure it");
  return {
      "wrong_unit",
      fmt::format("{} goes by the {} of {}, and \"{}\" is none.", r.name, unit_in_words(base.unit), base.item, said),
      std::move(ways)};
}

/// Pounds as the base: as they are, or by what a pound gives at least.
Result<BaseAmount> base_of_pounds(const Recipe& r, double pounds, const std::string& said, std::string how) {
  const auto& base = r.base();
  if (base.unit == "lb") return BaseAmount{pounds, std::move(how)};
  if (base.unit == "oz") return BaseAmount{pounds * 16, std::move(how)};
  if (!r.base_per_lb) return tl::unexpected(wrong_unit(r, said));
  const auto one = detail::say_measure(*r.base_per_lb, base.unit, measure::Units::us);
  const auto from = fmt::format("a pound of fruit gives at least {} of {} ({})", one, base.item, r.from.source);
  return BaseAmount{pounds * *r.base_per_lb, how.empty() ? from : how + "; " + from};
}

Result<BaseAmount> base_amount(const almanac::Almanac& almanac, const Recipe& r, const ScaleWish& wish) {
  const Amount& a = *wish.amount;
  const auto& base = r.base();
  const auto tsp = detail::teaspoons_in(base.unit);
  if (a.kind == AmountKind::count && a.container.empty()) return BaseAmount{a.value, {}};  // a bare number
  if (a.kind == AmountKind::volume && tsp) return BaseAmount{measure::in_us_cups(a.volume()) * 48 / *tsp, {}};
  if (a.kind == AmountKind::mass) return base_of_pounds(r, measure::in_pounds(a.mass()), a.said, {});
  if (a.kind == AmountKind::container && !r.crops.empty()) {
    const auto crop = wish.crop.empty() ? r.crops.front() : wish.crop;
    const auto weighs = almanac.tables.pounds_in(almanac.crops, a.container, crop);
    if (!weighs) return tl::unexpected(weighs.error());
    const double pounds = a.value * measure::in_pounds(weighs->likely);
    return base_of_pounds(r, pounds, a.said,
                          fmt::format("{} counts as {} lb ({})", a.said,
                                      measure::say_number(std::round(pounds * 10) / 10), weighs->source));
  }
  return tl::unexpected(wrong_unit(r, a.said));
}

/// Times the printed batch; anything within the printed range of the base is one batch.
double share_of(const Ingredient& base, double amount) {
  if (amount < base.amount.low) return amount / base.amount.low;
  return amount > base.amount.high ? amount / base.amount.high : 1;
}

RecipeLine line_of(const Recipe& r, const Ingredient& i, double share, double base, measure::Units units) {
  if (i.base) {
    const Span all{base, base};
    return {&i, all, all, detail::say_measures(all, i.unit, units)};
  }
  RecipeLine line{&i, {i.amount.low * share, i.amount.high * share}, {}, {}};
  if (share == 1 && units == measure::Units::us) {  // the printed batch needs no rounding
    line.measured = line.exact;
    line.said = detail::say_printed(line.exact, i.unit, units);
    return line;
  }
  const auto how = detail::rounding_for(r, i);
  line.measured = {detail::measurable(line.exact.low, i.unit, how, units),
                   detail::measurable(line.exact.high, i.unit, how, units)};
  line.said = detail::say_measures(line.measured, i.unit, units);
  return line;
}

/// The printed batch: the base as printed, be it a range.
std::vector<RecipeLine> lines_of(const Recipe& r, double share, std::optional<double> base, measure::Units units) {
  std::vector<RecipeLine> lines;
  for (const auto& i : r.ingredients) {
    lines.push_back(line_of(r, i, share, base.value_or(i.amount.low), units));
    if (!base && i.base) {
      lines.back().exact = lines.back().measured = i.amount;
      lines.back().said = detail::say_printed(i.amount, i.unit, units);
    }
  }
  return lines;
}

measure::Refusal not_doubled(const Recipe& r, int pots, double per_pot, measure::Units units) {
  const auto& base = r.base();
  return {"not_doubled",
          fmt::format("{} is not made in one larger pot: {} ({}).", r.name, r.why_scale, r.from.source),
          {fmt::format("cook {} pots of {} of {} each, one after the other", pots,
                       detail::say_measure(per_pot, base.unit, units), base.item),
           "or put the rest by another way: the fridge, the freezer"}};
}

Result<ScaledRecipe> in_whole_batches(const Recipe& r, ScaledRecipe s, const ScaleWish& wish) {
  const auto& base = r.base();
  const int batches = static_cast<int>(std::floor(s.base / base.amount.low + kPotDust));
  const auto one = detail::say_measure(base.amount.low, base.unit, wish.units);
  if (batches == 0)
    return measure::refuse(
        "less_than_a_batch",
        fmt::format("{} of {} is less than one batch of {}, which takes {}: {} ({}).", s.base_said, base.item, r.name,
                    one, r.why_scale, r.from.source),
        {"freeze it until there is enough for a whole batch", "or take a recipe that may be made smaller"});
  if (batches > 1 && wish.one_pot) return tl::unexpected(not_doubled(r, batches, base.amount.low, wish.units));
  const double rest = s.base - batches * base.amount.low;
  if (rest > base.amount.low * 0.02)
    s.left_over = fmt::format("{} of {} is left: freeze it, or take another recipe for it.",
                              detail::say_measure(rest, base.unit, wish.units), base.item);
  s.pots = batches;
  s.lines = lines_of(r, 1, base.amount.low, wish.units);
  return s;
}

Result<ScaledRecipe> in_pots(const Recipe& r, ScaledRecipe s, const ScaleWish& wish) {
  const auto& base = r.base();
  if (r.most) s.pots = std::max(1, static_cast<int>(std::ceil(s.base / *r.most - kPotDust)));
  const double per_pot = s.base / s.pots;
  if (s.pots > 1 && wish.one_pot) return tl::unexpected(not_doubled(r, s.pots, per_pot, wish.units));
  const double share = share_of(base, per_pot);
  if (share < kLeastShare)
    return measure::refuse(
        "too_little",
        fmt::format("{} of {} is too little to measure the rest of {} by.", s.base_said, base.item, r.name),
        {fmt::format("the printed batch takes {}", detail::say_measures(base.amount, base.unit, wish.units)),
         "keep so little in the fridge or the freezer"});
  s.lines = lines_of(r, share, per_pot, wish.units);
  return s;
}

/// Words that say that something is changed, and nothing about what or how much; folded, so that "leave" is "leaf".
bool is_filler(std::string_view word) {
  constexpr std::array<std::string_view, 23> kFillers{
      "other", "another", "different", "instead", "swap", "replace", "use",  "using", "leaf", "out",   "change", "mix",
      "some",  "any",     "than",      "as",      "i",    "it",      "want", "would", "like", "place", "put"};
  return std::ranges::count(kFillers, word) > 0;
}

bool says_how_much(std::string_view word) {
  constexpr std::array<std::string_view, 8> kHowMuch{"more", "less", "extra", "add", "no", "without", "double", "half"};
  return std::ranges::count(kHowMuch, word) > 0;
}

/// Every word that carries meaning is one the row names, and one of them says what.
bool covers_all(const almanac::Wording& wording, const RecipeChange& change, const almanac::WordList& words) {
  bool named = false;
  for (const auto& word : wording.weighty(words)) {
    if (is_filler(word)) continue;
    const bool known = std::ranges::any_of(change.words, [&](const auto& pattern) {
      return std::ranges::any_of(pattern.parts, [&](const auto& part) { return std::ranges::count(part, word) > 0; });
    });
    if (!known) return false;
    named = named || !says_how_much(word);
  }
  return named;
}

}  // namespace

Result<ScaledRecipe> scale_recipe(const almanac::Almanac& almanac, const Recipe& recipe, const ScaleWish& wish) {
  const auto& base = recipe.base();
  ScaledRecipe s{.recipe = &recipe};
  if (!wish.amount) {
    s.base = base.amount.low;
    s.base_said = detail::say_measures(base.amount, base.unit, wish.units);
    s.lines = lines_of(recipe, 1, std::nullopt, wish.units);
    s.yield = recipe.yield;
    return s;
  }
  auto found = base_amount(almanac, recipe, wish);
  if (!found) return tl::unexpected(found.error());
  if (!(found->value > 0))
    return measure::refuse("too_little", "There is nothing to scale the recipe by.", {"give an amount above zero"});
  s.base = found->value;
  s.how = std::move(found->how);
  s.base_said = detail::say_measure(s.base, base.unit, wish.units);
  auto done = recipe.scale == Scaling::whole ? in_whole_batches(recipe, std::move(s), wish)
                                             : in_pots(recipe, std::move(s), wish);
  if (!done || !recipe.yield) return done;
  const double share =
      recipe.scale == Scaling::whole ? done->pots : done->pots * share_of(base, done->base / done->pots);
  done->yield = Span{std::floor(recipe.yield->low * share), std::ceil(recipe.yield->high * share)};
  return done;
}

Result<const RecipeChange*> allowed_change(const almanac::Almanac& almanac, const Recipe& recipe,
                                           std::string_view said) {
  const auto& wording = almanac.processes.wording;
  const auto words = wording.words(said);
  const RecipeChange* refused = nullptr;
  for (const auto& change : almanac.recipes.changes) {
    if (!change.speaks_for(recipe)) continue;
    if (change.allowed && covers_all(wording, change, words)) return &change;
    const bool heard =
        std::ranges::any_of(change.words, [&](const auto& w) { return almanac::matches(wording, w, words); });
    if (!change.allowed && heard && refused == nullptr) refused = &change;
  }
  if (refused != nullptr)
    return measure::refuse(
        "change_not_allowed",
        fmt::format("{}: not {} ({}; {}).", recipe.name, refused->what, refused->why, refused->from.source),
        {refused->instead});
  return measure::refuse(
      "change_not_tested", fmt::format("{}: no published source allows \"{}\".", recipe.name, said),
      {"make it as printed and change it when the jar is opened",
       "or make it your way and keep it in the fridge or the freezer", "ask the local extension service"});
}

GelTest gel_test(const almanac::RecipeBook& book, std::optional<measure::Altitude> altitude, measure::Units units) {
  constexpr double kHalfABand = 500;
  GelTest test{.said = "Put the thermometer into boiling water in your kitchen: the gel is done 8 °F above that.",
               .gel_f = std::nullopt,
               .row_ft = std::nullopt,
               .source = book.gel_points.front().from.source};
  if (!altitude) return test;
  const double feet = altitude->in_feet();
  if (!(feet >= 0) || feet > book.gel_points.back().altitude_ft + kHalfABand) return test;
  const auto& row = *std::ranges::min_element(book.gel_points, {},
                                              [&](const auto& point) { return std::abs(point.altitude_ft - feet); });
  test.gel_f = row.gel_f;
  test.row_ft = row.altitude_ft;
  test.source = row.from.source;
  test.said = fmt::format(
      "Done at {} by thermometer, the published row for {}, which is the nearest to {}. More exactly: 8 °F above where "
      "water boils in your kitchen that day.",
      measure::say(measure::Temperature::fahrenheit(row.gel_f), units),
      measure::say(measure::Altitude::feet(row.altitude_ft), units), measure::say(*altitude, units));
  return test;
}

Result<measure::Mass> salt_for_brine(measure::Mass water, double percent) {
  constexpr double kSaturated = 26;
  if (!(percent > 0) || percent > kSaturated)
    return measure::refuse("bad_strength", fmt::format("No brine is {:g} percent salt.", percent),
                           {"a full brine holds 26 percent; pickling brines have 2 to 10"});
  return measure::kilograms(measure::in_kilograms(water) * percent / (100 - percent));
}

}  // namespace stillroom::kitchen
