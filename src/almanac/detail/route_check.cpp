#include "almanac/detail/route_check.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <string_view>

#include "almanac/detail/route_words.h"

namespace stillroom::almanac {

int age_floor(std::string_view danger) {
  if (danger == "heat") return 14;
  if (danger == "pressure" || danger == "lye") return 18;
  if (danger == "blade") return 10;
  return 0;
}

}  // namespace stillroom::almanac

namespace stillroom::almanac::detail {
namespace {

template <std::size_t N>
bool among(const std::array<std::string_view, N>& list, std::string_view word) {
  return std::ranges::find(list, word) != list.end();
}

constexpr std::array<std::string_view, 12> kMethods{"canned",     "frozen",       "dried",
                                                    "juiced",     "jellied",      "fermented",
                                                    "cured",      "cellared",     "simmered to broth",
                                                    "given away", "fed to stock", "composted"};
constexpr std::array<std::string_view, 4> kHoldPlaces{"fridge", "cellar", "freezer", "cool_room"};
constexpr std::array<std::string_view, 6> kStores{"shelf", "freezer", "cellar", "fridge", "cool_room", "none"};
constexpr std::array<std::string_view, 5> kRooms{"freezer_l", "freezer_kg_per_day", "cellar_kg", "shelf_pack",
                                                 "chill_l"};
// Only these run safely with nobody by; without equipment, only resting stages by these names do.
constexpr std::array<std::string_view, 4> kRunsAlone{"slow_cooker", "dryer_tray", "crock_l", "chill_l"};
constexpr std::array<std::string_view, 7> kRestsAlone{"cool", "cure", "soak", "settle", "chill", "freeze", "ferment"};

bool within(double v, double low, double high) { return std::isfinite(v) && v >= low && v <= high; }
bool sensible(const Scaled& s) {
  return within(s.fixed, 0, 1e6) && within(s.per_kg, 0, 1e6) && within(s.per_load, 0, 1e6);
}

bool uses(const Stage& s, std::string_view equipment) {
  return std::ranges::any_of(s.equipment, [&](const EquipmentUse& e) { return e.key == equipment; });
}
bool has_danger(const Stage& s, std::string_view danger) {
  return std::ranges::find(s.dangers, danger) != s.dangers.end();
}

std::string unattended_fault(const Stage& s) {
  if (s.attention != Attention::unattended) return {};
  if (!s.dangers.empty()) return "a stage with " + s.dangers.front() + " is never unattended";
  for (const EquipmentUse& e : s.equipment)
    if (!among(kRunsAlone, e.key)) return "\"" + e.key + "\" is never left running unattended";
  if (s.equipment.empty() && !among(kRestsAlone, s.key))
    return "only resting stages (cool, cure, soak, settle, chill, freeze, ferment) are unattended without equipment";
  return {};
}

std::string danger_fault(const Stage& s) {
  const bool hot = uses(s, "burner") || uses(s, "boiling_water_canner") || uses(s, "pressure_canner");
  if (hot && !has_danger(s, "heat")) return "a burner or canner without the danger \"heat\"";
  if (uses(s, "pressure_canner") && !has_danger(s, "pressure"))
    return "a pressure canner without the danger \"pressure\"";
  for (const std::string& d : s.dangers) {
    if (age_floor(d) == 0) return "unknown danger \"" + d + "\"";
    if (s.least_age < age_floor(d))
      return "least age " + std::to_string(s.least_age) + " is below the floor of " + std::to_string(age_floor(d)) +
             " for " + d;
  }
  if (!s.dangers.empty() && s.caution.empty()) return "a stage with " + s.dangers.front() + " wants a caution";
  return {};
}

std::string base_name(const std::string& amount) { return amount.substr(0, amount.rfind('_')); }

std::string placeholder_fault(const Stage& s) {
  std::set<std::string> known{"amount", "kg", "lb", "packs", "pack", "loads", "load"};
  const auto add = [&](const std::string& name) {
    known.insert(name);
    known.insert(base_name(name));
    if (name == "salt_kg") known.insert("salt_g");
  };
  for (const StockUse& u : s.stock) add(u.item);
  for (const NamedAmount& a : s.amounts) add(a.name);
  for (const std::string& name : names_between(s.instruction, '{', '}'))
    if (!known.contains(name)) return "unknown placeholder {" + name + "}";
  return {};
}

std::string supply_fault(const Stage& s, const Supplies& supplies) {
  const auto is = [&](const std::string& key, std::string_view kind) {
    const auto found = supplies.find(key);
    return found != supplies.end() && found->second.kind == kind;
  };
  for (const EquipmentUse& e : s.equipment) {
    if (!is(e.key, "equipment")) return "\"" + e.key + "\" is no equipment of supplies.csv";
    if (!sensible(e.amount)) return "amount of " + e.key + " is not a sensible number";
  }
  for (const StockUse& u : s.stock) {
    if (!is(u.item, "stock")) return "\"" + u.item + "\" is no stock item of supplies.csv";
    if (!sensible(u.amount)) return "amount of " + u.item + " is not a sensible number";
  }
  for (const RoomUse& r : s.room) {
    if (!among(kRooms, r.room)) return "\"" + r.room + "\" is no room";
    if (!sensible(r.amount)) return "amount of " + r.room + " is not a sensible number";
  }
  return {};
}

std::string stage_fault(const Stage& s, const Route& r, const Supplies& supplies) {
  if (s.key.empty() || s.name.empty() || s.instruction.empty()) return "key, name and instruction are wanted";
  const int loads = loads_for(r, r.batch_min_kg);
  if (!sensible(s.duration_min) || s.duration_min.at(r.batch_min_kg, loads) <= 0) return "its duration is not above 0";
  if (!within(s.spread, 0, 1)) return "spread is not within 0 to 1";
  if (!within(s.nearby_share, 0.05, 1)) return "nearby_share is not within 0.05 to 1";
  if (s.hands < 1 || s.hands > 8) return "hands is not within 1 to 8";
  if (s.least_age < 0 || s.least_age > 18) return "least_age is not within 0 to 18";
  if (!within(s.lag_min_min, 0, 1e6)) return "lag_min_min is not a sensible number";
  if (s.lag_max_min && !(*s.lag_max_min >= s.lag_min_min)) return "lag_max_min is below lag_min_min";
  for (const auto& fault : {unattended_fault(s), danger_fault(s), placeholder_fault(s), supply_fault(s, supplies)})
    if (!fault.empty()) return fault;
  return {};
}

std::string process_fault(const Route& r, bool may_process) {
  const bool canned_method = r.method == "canned" || r.method == "juiced" || r.method == "jellied";
  if (!r.process) return canned_method ? "\"" + r.method + "\" without a heat process" : std::string();
  if (!may_process) return "a household's own route may not ask for a heat process; freeze, dry or chill it instead";
  const auto& p = *r.process;
  if (p.food.empty() || p.form.empty() || p.jar.empty() || p.id.empty())
    return "process: food, form, jar and id are wanted";
  if (p.style_of_pack != "hot" && p.style_of_pack != "raw") return "process: style_of_pack is hot or raw";
  if (p.method != "boiling_water" && p.method != "pressure") return "process: method is boiling_water or pressure";
  if (r.accepts_form == "frozen_whole" && p.style_of_pack != "hot") return "what was frozen raw goes only to hot packs";
  const std::string_view canner = p.method == "pressure" ? "pressure_canner" : "boiling_water_canner";
  if (std::ranges::none_of(r.stages, [&](const Stage& s) { return s.key == "process" && uses(s, canner); }))
    return "process: no stage \"process\" on a " + std::string(canner);
  if (r.quality[static_cast<int>(Condition::going_over)] > 0) return "food going over is not canned";
  return {};
}

std::string number_fault(const Route& r) {
  for (const double q : r.quality)
    if (!within(q, 0, 1)) return "quality is not within 0 to 1";
  if (std::ranges::all_of(r.quality, [](double q) { return q == 0; })) return "quality accepts no condition at all";
  if (r.accepts_decay_trimmed && !takes_poor_food(r)) return "no keeping route takes decay, trimmed or not";
  if (!within(r.yield_kg_per_kg, 0.01, 8)) return "yield_kg_per_kg is not within 0.01 to 8";
  if (!within(r.kg_in_per_pack, 0.01, 200)) return "kg_in_per_pack is not within 0.01 to 200";
  if (!within(r.packs_per_canner, 0, 40)) return "packs_per_canner is not within 0 to 40";
  if (!within(r.load_kg, 0, 200)) return "load_kg is not within 0 to 200";
  if (!(r.batch_min_kg > 0 && r.batch_min_kg <= r.batch_max_kg && r.batch_max_kg <= 500))
    return "batch_min_kg to batch_max_kg is no range";
  if (!(r.keeps_months_low >= 0 && r.keeps_months_low <= r.keeps_months_high && r.keeps_months_high <= 60))
    return "keeps_months_low to keeps_months_high is no range";
  if (!within(r.worth_per_kg_in, 0, 200)) return "worth_per_kg_in is not within 0 to 200";
  return {};
}

std::string name_fault(const Route& r, const Crops& crops) {
  if (crops.find(r.crop) == nullptr) return "crop \"" + r.crop + "\" is not in crops.csv";
  if (crops.find(r.product_food) == nullptr) return "product_food \"" + r.product_food + "\" is not in crops.csv";
  for (const auto* list : {&r.many_lot_with, &r.not_for})
    for (const std::string& key : *list)
      if (crops.find(key) == nullptr) return "crop \"" + key + "\" is not in crops.csv";
  if (r.many_lot_with.size() != r.many_lot_kg.size()) return "many_lot_with and many_lot_kg differ in length";
  for (const ByProduct& b : r.also_yields)
    if (crops.find(b.food) == nullptr || !within(b.kg_per_kg, 0, 1)) return "also_yields names no crop or no share";
  if (!among(kStores, r.store_in)) return "store_in \"" + r.store_in + "\" is no place";
  if (r.is_hold != (r.method == "held") || r.is_hold != among(kHoldPlaces, r.hold_place))
    return "a hold has the method \"held\" and a hold_place, other routes have neither";
  if (!r.is_hold && !among(kMethods, r.method)) return "unknown method \"" + r.method + "\"";
  return {};
}

}  // namespace

std::string fault_in(const Route& r, const Crops& crops, const Supplies& supplies, bool may_process) {
  for (const auto& fault : {name_fault(r, crops), number_fault(r), process_fault(r, may_process)})
    if (!fault.empty()) return fault;
  std::set<std::string> keys;
  for (const Stage& s : r.stages) {
    const std::string fault = stage_fault(s, r, supplies);
    if (!fault.empty()) return "stage \"" + s.key + "\": " + fault;
    if (!keys.insert(s.key).second) return "stage \"" + s.key + "\" stands twice";
  }
  for (std::size_t i = 0; i + 1 < r.stages.size(); ++i)
    if (!r.stages[i].hazard.empty() && !r.stages[i + 1].lag_max_min)
      return "stage \"" + r.stages[i + 1].key + "\": wants a lag_max_min, since a hazard clock runs before it";
  return r.stages.empty() ? "no stages" : "";
}

}  // namespace stillroom::almanac::detail
