#include <array>
#include <string_view>

#include "planning/detail/project.h"

namespace stillroom::planning::detail {
namespace {

bool is_or_below(const std::string& crop, const std::string& ancestor) {
  return crop == ancestor ||
         (crop.size() > ancestor.size() && crop.starts_with(ancestor) && crop[ancestor.size()] == '/');
}

bool serves(const almanac::Route& route, const std::string& crop) {
  if (!is_or_below(crop, route.crop)) return false;
  return std::none_of(route.not_for.begin(), route.not_for.end(),
                      [&](const std::string& barred) { return is_or_below(crop, barred); });
}

bool is_one_of(std::string_view word, std::initializer_list<std::string_view> words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

bool uses_heat(const almanac::Stage& stage) {
  return std::any_of(stage.equipment.begin(), stage.equipment.end(), [](const almanac::EquipmentUse& use) {
    return is_one_of(use.key, {"burner", "big_pot", "boiling_water_canner", "pressure_canner", "steam_canner",
                               "slow_cooker", "oven", "dryer_tray", "smoker"});
  });
}

bool freezes(const almanac::Stage& stage) {
  return std::any_of(stage.room.begin(), stage.room.end(),
                     [](const almanac::RoomUse& use) { return use.room.starts_with("freezer"); });
}

bool chills(const almanac::Stage& stage) {
  return std::any_of(stage.equipment.begin(), stage.equipment.end(),
                     [](const almanac::EquipmentUse& use) { return use.key == "chill_l"; }) ||
         std::any_of(stage.room.begin(), stage.room.end(),
                     [](const almanac::RoomUse& use) { return use.room == "chill_l"; });
}

HazardStage hazard_stage(const almanac::Route& route) {
  if (almanac::lets_go(route)) return {0, false};
  for (std::size_t i = 0; i < route.stages.size(); ++i) {
    if (uses_heat(route.stages[i])) return {static_cast<int>(i), true};
    if (freezes(route.stages[i])) return {static_cast<int>(i), false};
  }
  return {static_cast<int>(route.stages.size()) - 1, false};
}

/// Longest wait the hazard of the stage before allows, minutes; kNever when it has none.
Time hazard_wait(const almanac::Stage& before, const almanac::Stage& stage) {
  if (before.hazard.empty()) return kNever;
  const keeping::HazardClock* clock = keeping::hazard_clock(before.hazard);
  if (clock == nullptr) return 0;
  const double minutes = chills(before) || chills(stage) ? clock->fridge_days * kDayMinutes : clock->room_hours * 60;
  return static_cast<Time>(std::min(minutes, 1e7));
}

double reference_batch(const almanac::Route& route) {
  if (route.load_kg <= 0 || route.load_kg > route.batch_max_kg) return route.batch_max_kg;
  return route.load_kg * std::floor(route.batch_max_kg / route.load_kg + 1e-9);
}

int loads_at(const almanac::Route& route, double kg) {
  return route.load_kg > 0 ? std::max(1, static_cast<int>(std::ceil(kg / route.load_kg - 1e-9))) : 1;
}

}  // namespace

bool Project::facts_allow(const Lot& lot, const almanac::Route& route) {
  const bool canned = route.method == "canned" || route.process.has_value();
  for (const std::string& fact : lot.facts) {
    if (fact == "mould") return false;
    if (fact == "decay") {
      if (!route.accepts_decay_trimmed) return false;
    } else if (fact == "frozen_raw") {
      const bool cooked = (route.process && route.process->style_of_pack == "hot") ||
                          is_one_of(route.method, {"juiced", "jellied", "simmered to broth"}) ||
                          almanac::lets_go(route) || route.accepts_form == "frozen_whole";
      if (!cooked) return false;
    } else if (canned) {
      return false;  // frost_killed_vine, and whatever else a process was not tested for
    }
  }
  return true;
}

StageSpec Project::stage_spec(const almanac::Stage& stage, const almanac::Stage* before, RouteSpec& route) {
  StageSpec spec;
  spec.source = &stage;
  spec.duration = stage.duration_min;
  spec.attention = stage.attention;
  spec.hands = spec.attended() ? std::max(1, stage.hands) : 0;
  if (stage.attention == almanac::Attention::nearby) spec.share = std::min(kWhole, units_needed(stage.nearby_share));
  spec.can_pause = stage.can_pause;
  spec.window = window_for(stage.weather);
  const auto add = [](std::vector<Use>& uses, int index, const almanac::Scaled& amount) {
    for (Use& use : uses)
      if (use.index == index) {
        use.amount = {use.amount.fixed + amount.fixed, use.amount.per_kg + amount.per_kg,
                      use.amount.per_load + amount.per_load};
        return;
      }
    uses.push_back({index, amount});
  };
  for (const almanac::EquipmentUse& use : stage.equipment) {
    int index = -1;
    for (std::size_t e = 0; e < h.equipment.size(); ++e)
      if (h.equipment[e].key == use.key) index = static_cast<int>(e);
    if (index >= 0) add(spec.equipment, index, use.amount);
    const double least = use.amount.at(route.source->batch_min_kg, 1);
    if (least > (index < 0 ? 0 : h.equipment[static_cast<std::size_t>(index)].count) + 1e-6) {
      route.barred = Barred::equipment;
      route.lacking = use.key;
    }
  }
  for (const almanac::StockUse& use : stage.stock)
    for (std::size_t s = 0; s < h.stock.size(); ++s)
      if (h.stock[s].item == use.item) add(spec.stock, static_cast<int>(s), use.amount);
  for (const almanac::RoomUse& use : stage.room)
    for (std::size_t r = 0; r < h.rooms.size(); ++r)
      if (h.rooms[r].room == use.room)
        add(use.room.ends_with("_per_day") ? spec.day_rooms : spec.rooms, static_cast<int>(r), use.amount);
  if (before != nullptr) {
    spec.lag_min = grain_up(static_cast<Time>(std::ceil(std::min(stage.lag_min_min, 1e7) - 1e-9)));
    if (stage.lag_max_min) spec.lag_max = grain_down(static_cast<Time>(std::min(*stage.lag_max_min, 1e7)));
    const Time clock = hazard_wait(*before, stage);
    if (clock != kNever) spec.lag_max = std::min(spec.lag_max, std::max(grain_down(clock), spec.lag_min));
    if (spec.lag_max < spec.lag_min) route.barred = Barred::stages;
  }
  fill_teams(spec, stage.least_age, stage.skill);
  if (spec.teams.empty()) {
    route.barred = Barred::people;
    route.lacking = stage.skill;
  }
  return spec;
}

RouteSpec Project::route_spec(const almanac::Route& route) {
  RouteSpec spec;
  spec.source = &route;
  spec.gives_away = almanac::lets_go(route);
  if (route.accepts_decay_trimmed || almanac::takes_poor_food(route)) spec.floor = kTrimmedFloor;
  if (route.stages.empty()) spec.barred = Barred::stages;
  const almanac::Stage* before = nullptr;
  for (const almanac::Stage& stage : route.stages) {
    spec.stages.push_back(stage_spec(stage, before, spec));
    before = &stage;
  }
  spec.hazard = hazard_stage(route);
  int general = -1;
  for (int w = static_cast<int>(h.worth.size()) - 1; w >= 0; --w) {
    const ProductWorth& row = h.worth[static_cast<std::size_t>(w)];
    if (row.food != route.product_food) continue;
    if (row.form == route.product_form && !row.form.empty()) spec.worth = w;
    if (row.form.empty()) general = w;
  }
  if (spec.worth < 0 && !spec.gives_away) spec.worth = general;
  if (route.is_hold) {
    for (int p = static_cast<int>(h.places.size()) - 1; p >= 0; --p) {
      const HoldPlace& place = h.places[static_cast<std::size_t>(p)];
      if (place.kind == route.hold_place || place.key == route.hold_place) spec.hold_place = p;
    }
    if (spec.hold_place < 0) spec.barred = Barred::hold_place;
  }
  const double kg = reference_batch(route);
  for (const StageSpec& stage : spec.stages)
    if (stage.attended() && kg > 0)
      spec.hours_per_kg += stage.hands * (static_cast<double>(stage.share) / kWhole) *
                           std::max(0.0, stage.duration.at(kg, loads_at(route, kg))) / kg / 60;
  for (const std::string& crop : route.many_lot_with) {
    auto& lots_of = spec.seconds.emplace_back();
    for (std::size_t l = 0; l < h.lots.size(); ++l)
      if (is_or_below(h.lots[l].crop, crop) && facts_allow(h.lots[l], route) && !serves(route, h.lots[l].crop))
        lots_of.push_back(static_cast<int>(l));
  }
  return spec;
}

void Project::build_routes() {
  routes.reserve(h.routes.size());
  for (const almanac::Route& route : h.routes) routes.push_back(route_spec(route));
}

StageSpec Project::picking(const Lot& lot) {
  StageSpec pick;
  pick.duration.per_kg = lot.pick_min_per_kg;
  pick.hands = 1;
  pick.can_pause = true;
  pick.window = window_for({.daylight = true});
  fill_teams(pick, kPickLeastAge, {});
  return pick;
}

void Project::build_lots() {
  std::vector<double> temps;
  for (const PlaceSpec& place : places) temps.push_back(place.temp_c);
  struct Known {
    const keeping::KeepingModel* model;
    const FadeModel* fade;
  };
  std::vector<Known> known;
  const auto same = [](const keeping::KeepingModel& a, const keeping::KeepingModel& b) {
    return a.crop == b.crop && a.variety == b.variety && a.life_days_best_low == b.life_days_best_low &&
           a.life_days_best_high == b.life_days_best_high && a.best_temp_c == b.best_temp_c && a.beta == b.beta &&
           a.relative_rate == b.relative_rate && a.chilling_below_c == b.chilling_below_c &&
           std::equal(std::begin(a.ripening_days_at_20c), std::end(a.ripening_days_at_20c),
                      std::begin(b.ripening_days_at_20c));
  };
  const auto fade_model = [&](const keeping::KeepingModel& model) {
    for (const Known& k : known)
      if (same(*k.model, model)) return k.fade;
    models_.emplace_back(model, temps);
    known.push_back({&model, &models_.back()});
    return static_cast<const FadeModel*>(&models_.back());
  };
  for (const Lot& lot : h.lots) {
    LotSpec spec;
    spec.source = &lot;
    spec.standing = lot.pick_by > 0;
    spec.from = grain_up(std::max(h.now, lot.ready));
    spec.pick_by = grain_down(lot.pick_by);
    if (lot.hazard_by) spec.hazard_by = *lot.hazard_by;
    spec.eaten_per_minute = lot.eaten_kg_per_day / kDayMinutes;
    spec.place = static_cast<int>(h.places.size());
    for (std::size_t p = 0; p < h.places.size(); ++p)
      if (h.places[p].key == lot.place) spec.place = static_cast<int>(p);
    spec.fade = {.model = lot.model ? fade_model(*lot.model) : nullptr,
                 .from = spec.standing ? 0 : std::max(h.now, lot.ready),
                 .age = lot.belief.age,
                 .ripeness = lot.belief.ripeness,
                 .place = spec.place};
    spec.fade.settle();
    if (spec.standing) spec.pick = picking(lot);
    if (!spec.standing && lot.model)
      for (std::size_t p = 0; p < h.places.size(); ++p)
        if (static_cast<int>(p) != spec.place && h.places[p].temp_c >= kHoldColdestC)
          spec.hold_places.push_back(static_cast<int>(p));
    lots.push_back(std::move(spec));
  }
}

void Project::build_options() {
  const auto pool = [&](int lot, Source source, const std::string& crop, const std::string& form) {
    for (std::size_t i = 0; i < pools.size(); ++i)
      if (pools[i].lot == lot && pools[i].source == source && pools[i].crop == crop && pools[i].form == form)
        return static_cast<int>(i);
    pools.push_back({lot, source, crop, form});
    return static_cast<int>(pools.size()) - 1;
  };
  for (std::size_t l = 0; l < lots.size(); ++l) {
    const Lot& lot = h.lots[l];
    const int index = static_cast<int>(l);
    std::vector<std::string> held;              // forms it may be held in
    std::vector<almanac::ByProduct> left_over;  // what its own routes leave
    std::vector<std::size_t> own;
    for (std::size_t r = 0; r < routes.size(); ++r) {
      const almanac::Route& route = h.routes[r];
      if (routes[r].barred != Barred::no || !facts_allow(lot, route) || !serves(route, lot.crop)) continue;
      own.push_back(r);
      if (route.accepts_form != lot.form) continue;
      if (route.is_hold && route.product_form != lot.form) held.push_back(route.product_form);
      for (const almanac::ByProduct& by : route.also_yields)
        if (!route.is_hold) left_over.push_back(by);
    }
    for (std::size_t r = 0; r < routes.size(); ++r) {
      const almanac::Route& route = h.routes[r];
      if (routes[r].barred != Barred::no || !facts_allow(lot, route)) continue;
      const bool crop_fits = std::find(own.begin(), own.end(), r) != own.end();
      if (crop_fits && route.accepts_form == lot.form) {
        if (!route.is_hold || (route.product_form != lot.form && route.many_lot_with.empty())) {
          lots[l].options.push_back({static_cast<int>(r), Source::lot, -1});
          routes[r].mains.push_back(index);
        }
        continue;
      }
      if (route.is_hold || route.accepts_form == lot.form) continue;
      if (crop_fits && std::find(held.begin(), held.end(), route.accepts_form) != held.end()) {
        lots[l].options.push_back(
            {static_cast<int>(r), Source::held, pool(index, Source::held, lot.crop, route.accepts_form)});
        continue;
      }
      for (const almanac::ByProduct& by : left_over)
        if (by.food == route.crop && by.form == route.accepts_form) {
          lots[l].options.push_back(
              {static_cast<int>(r), Source::by_product, pool(index, Source::by_product, by.food, by.form)});
          break;
        }
    }
  }
}

}  // namespace stillroom::planning::detail
