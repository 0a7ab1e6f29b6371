#include "kitchen/detail/amounts.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string_view>
#include <utility>

#include "measure/quantity.h"
#include "measure/text.h"

namespace stillroom::kitchen::detail {
namespace {

using measure::say_count;
using measure::say_number;
using measure::Units;

constexpr double kKgSugarPerCup = 0.2;    // common practice
constexpr double kKgSaltPerTbsp = 0.018;  // canning salt, common practice
constexpr double kDust = 0.01;            // of a jar or a step: 7.003 jars from a weighed load are seven
constexpr double kFloat = 1e-6;           // of a measure: what arithmetic alone may leave over
constexpr double kGramDust = 0.05;        // a twentieth of a gram of salt is nobody's to weigh
constexpr double kBreakageShare = 1.02;   // what data/routes adds to jars and lids; the spare is said in words

enum class Round { up, down, nearest };

double to_step(double v, double step, Round how) {
  const double n = v / step;
  const double whole = how == Round::up     ? std::ceil(n - kFloat)
                       : how == Round::down ? std::floor(n + kFloat)
                                            : std::round(n);
  return std::max(whole, 1.0) * step;
}

std::string say_volume(double litres, Units units, Round how) {
  const auto volume = measure::litres(litres);
  if (units == Units::metric) {
    const double ml = to_step(litres * 1000, 10, how);
    return ml < 1000 ? say_number(ml) + " ml" : say_number(ml / 1000) + " L";
  }
  const double cups = measure::in_us_cups(volume);
  if (cups < 0.25) return say_number(to_step(cups * 16, 0.5, how)) + " tbsp";
  if (cups < 8) {
    const double n = to_step(cups, 0.25, how);
    return say_number(n) + (n <= 1 ? " cup" : " cups");
  }
  return say_number(to_step(cups / 4, 0.25, how)) + " qt";
}

/// Food on the scale: to half a pound from ten pounds up, where measure::say would give whole pounds.
std::string say_food(double kg, Units units) {
  const double pounds = measure::in_pounds(measure::kilograms(kg));
  if (units == Units::metric && kg > 9.9) return say_number(std::round(kg * 10) / 10) + " kg";
  if (units == Units::metric || pounds < 10) return measure::say(measure::kilograms(kg), units);
  return say_number(std::round(pounds * 2) / 2) + " lb";
}

/// Acid and salt go by the food as it is said: whoever weighs out the 13 lb that 12.8 became has enough for 13.
double kg_to_season(const Scale& s) {
  const auto said = measure::parse_amount(say_food(s.kg, s.units));
  return said && said->kind == measure::AmountKind::mass ? std::max(s.kg, measure::in_kilograms(said->mass())) : s.kg;
}

bool keeps_food(std::string_view item) { return item == "vinegar_l" || item == "lemon_juice_l" || item == "salt_kg"; }

double amount_of(const almanac::StockUse& use, const Scale& s) {
  return use.amount.at(keeps_food(use.item) ? kg_to_season(s) : s.kg, s.loads);
}

double salt_grams(double kg) { return std::ceil(kg * 1000 - kGramDust); }

std::string say_salt(double kg, Units units) {
  std::string grams = say_number(salt_grams(kg)) + " g";
  if (units == Units::metric) return grams;
  // By the spoon to two cups: a quarter cup more is a third too much for ten pounds of cabbage.
  const double spoons = to_step(kg / kKgSaltPerTbsp, 0.5, Round::up);
  if (spoons < 32 && std::fmod(spoons, 4) != 0) return say_number(spoons) + " tbsp (" + grams + ")";
  return say_volume(measure::in_litres(measure::us_tablespoons(spoons)), units, Round::up) + " (" + grams + ")";
}

std::string say_sugar(double kg, Units units) {
  if (units == Units::metric) return measure::say(measure::kilograms(kg), units);
  const double cups = kg / kKgSugarPerCup;
  if (cups < 0.25) return say_volume(measure::in_litres(measure::us_cups(cups)), units, Round::nearest);
  const double n = to_step(cups, 0.25, Round::nearest);
  return say_number(n) + (n <= 1 ? " cup" : " cups");
}

std::string base_name(const std::string& name) { return name.substr(0, name.rfind('_')); }
bool ends_with(std::string_view s, std::string_view end) { return s.ends_with(end); }

/// "jar_half_pint" -> "half-pint jar", "freezer_bag_quart" -> "quart freezer bag".
std::string counted_noun(const std::string& item) {
  for (const std::string_view kind : {"jar_", "freezer_bag_"}) {
    if (!item.starts_with(kind)) continue;
    std::string size = item.substr(kind.size()), noun(kind.substr(0, kind.size() - 1));
    std::ranges::replace(size, '_', '-');
    std::ranges::replace(noun, '_', ' ');
    return size.append(" ").append(noun);
  }
  if (item == "pectin_packet") return "packet of pectin";
  std::string noun = item;
  std::ranges::replace(noun, '_', ' ');
  return noun;
}

std::string gather_line(const almanac::StockUse& use, const Scale& s) {
  const double amount = amount_of(use, s);
  if (use.item.starts_with("jar_"))
    return say_count(std::ceil(amount / kBreakageShare - kDust), counted_noun(use.item)) + " and 1 spare";
  if (use.item == "lid") return say_count(std::ceil(amount / kBreakageShare - kDust), "lid");
  std::string said = say_measured(use.item, amount, s.units);
  if (!ends_with(use.item, "_kg") && !ends_with(use.item, "_l")) return said;
  std::string thing = base_name(use.item);
  std::ranges::replace(thing, '_', ' ');
  const std::string_view kind = thing == "vinegar"       ? "5 % "
                                : thing == "lemon juice" ? "bottled "
                                : thing == "salt"        ? "canning "
                                                         : "";
  return said + " of " + std::string(kind) + thing;
}

std::optional<std::string> gather_line(const almanac::EquipmentUse& use, const Scale& s) {
  const double amount = use.amount.at(s.kg, s.loads);
  if (use.key == "burner") return std::nullopt;
  if (use.key == "boiling_water_canner") return "boiling-water canner";
  if (ends_with(use.key, "_l"))
    return measure::say(measure::litres(amount), s.units) + (use.key == "crock_l" ? " of crock" : " of fridge room");
  const double n = std::ceil(amount - kDust);
  const std::string noun = counted_noun(use.key);
  return n <= 1 ? noun : say_count(n, noun);
}

std::string one_placeholder(const std::string& name, const almanac::Stage& stage, const Scale& s) {
  const double packs = std::max(1.0, std::round(s.packs));
  if (name == "amount") return say_food(s.kg, s.units);
  if (name == "load") return say_food(s.load_kg, s.units);
  if (name == "kg") return say_number(std::round(s.kg * 10) / 10);
  if (name == "lb") return say_number(std::round(measure::in_pounds(measure::kilograms(s.kg)) * 10) / 10);
  if (name == "packs") return say_number(packs);
  if (name == "pack") return packs == 1 ? s.pack : measure::plural(s.pack);
  if (name == "loads") return say_number(s.loads);
  const auto said = [&](const std::string& item, double amount) -> std::optional<std::string> {
    if (name == base_name(item)) return say_measured(item, amount, s.units);
    if (name == item) return say_number(std::round(amount * 100) / 100);
    if (name == "salt_g" && item == "salt_kg") return say_number(salt_grams(amount));
    return std::nullopt;
  };
  for (const auto& use : stage.stock)
    if (auto text = said(use.item, amount_of(use, s))) return *text;
  for (const auto& use : stage.amounts)
    if (auto text = said(use.name, use.amount.at(s.kg, s.loads))) return *text;
  return "{" + name + "}";  // the loader lets none through that is not listed above
}

}  // namespace

std::string say_measured(const std::string& name, double amount, Units units) {
  if (name == "sugar_kg") return say_sugar(amount, units);
  if (name == "salt_kg") return say_salt(amount, units);
  if (name == "vinegar_l" || name == "lemon_juice_l") return say_volume(amount, units, Round::up);
  if (name == "water_l") return say_volume(amount, units, Round::down);
  if (ends_with(name, "_l")) return say_volume(amount, units, Round::nearest);
  if (ends_with(name, "_kg")) return measure::say(measure::kilograms(amount), units);
  return say_count(std::ceil(amount - kDust), counted_noun(name));
}

std::string say_beside(double kg, Units units) {
  const double pounds = measure::in_pounds(measure::kilograms(kg));
  if (units == Units::metric)
    return kg < 1 ? say_number(to_step(kg * 1000, 10, Round::down)) + " g"
                  : say_number(to_step(kg, 0.1, Round::down)) + " kg";
  if (pounds < 10) return measure::say(measure::pounds(to_step(pounds, 1.0 / 16, Round::down)), units);
  return say_number(to_step(pounds, 0.5, Round::down)) + " lb";
}

std::string say_inches(double inches) {
  constexpr std::array<std::pair<double, std::string_view>, 4> kParts{
      {{0.125, "⅛"}, {0.25, "¼"}, {0.5, "½"}, {0.75, "¾"}}};
  const double whole = std::floor(inches);
  for (const auto& [part, sign] : kParts)
    if (std::abs(inches - whole - part) < kDust)
      return (whole > 0 ? fmt::format("{:.0f}", whole) : "") + std::string(sign);
  return say_number(inches);
}

std::string filled_instruction(const almanac::Stage& stage, const Scale& scale) {
  const std::string& text = stage.instruction;
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t open = text.find('{', at);
    out += text.substr(at, open - at);
    const std::size_t close = open == std::string::npos ? open : text.find('}', open);
    if (close == std::string::npos) break;
    out += one_placeholder(text.substr(open + 1, close - open - 1), stage, scale);
    at = close + 1;
  }
  return out;
}

std::vector<std::string> to_gather(const almanac::Stage& stage, const Scale& scale) {
  std::vector<std::string> out;
  for (const auto& use : stage.equipment)
    if (auto line = gather_line(use, scale)) out.push_back(std::move(*line));
  for (const auto& use : stage.stock) out.push_back(gather_line(use, scale));
  return out;
}

}  // namespace stillroom::kitchen::detail
