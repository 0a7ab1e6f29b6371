#include "planning/detail/bound_flows.h"

#include <bit>

namespace stillroom::planning::detail {
namespace {

constexpr double kNoKg = 1e-9;

bool names_crop(const std::string& crop, const std::string& ancestor) {
  return crop == ancestor || crop.starts_with(ancestor + "/");
}

bool route_serves(const almanac::Route& route, const std::string& crop) {
  return names_crop(crop, route.crop) && std::none_of(route.not_for.begin(), route.not_for.end(),
                                                      [&](const auto& bad) { return names_crop(crop, bad); });
}

}  // namespace

FlowProgram::FlowProgram(const Project& project) : project_(project), free_(project) {
  batches_.assign(project.routes.size(), -1);
  put_.resize(project.worth.size());
  still_.resize(project.worth.size());
  picked_for_.resize(project.lots.size());
  beyond_.resize(project.h.equipment.size());
  stock_.resize(project.h.stock.size());
  rooms_.resize(project.h.rooms.size());
  days_.resize(project.h.hands.size() * static_cast<std::size_t>(project.days));
  for (const Lot& lot : project.h.lots) lot_rows_.push_back(lp_.row(-LinearProgram::kFree, lot.kg));
  later_row_ = lp_.row(-LinearProgram::kFree, project.later_minutes, "hands in the week after");
  add_pools();
  add_runs(true);
  add_runs(false);
  add_still_sound();
  close_batches();
  close_food();
  close_stock();
  close_rooms();
  close_equipment();
  close_people();
}

bool FlowProgram::can_run(const RouteSpec& spec) const {
  if (spec.source->stages.empty()) return false;
  if (spec.barred == Barred::no) return true;
  if (spec.barred != Barred::people) return false;
  // The builder also gives up on very large teams; the model does not.
  for (const StageSpec& stage : spec.stages)
    if (stage.attended() && std::popcount(free_.eligible(stage)) < stage.hands) return false;
  return true;
}

double FlowProgram::day_minutes(int day) const {
  return std::max(0, std::min((day + 1) * kDayMinutes, project_.horizon) - std::max(day * kDayMinutes, project_.now));
}

/// Every pool a lot could have. More is harmless: a pool that nothing fills gives nothing.
void FlowProgram::add_pools() {
  for (std::size_t l = 0; l < project_.lots.size(); ++l) {
    const Lot& lot = project_.h.lots[l];
    const int index = static_cast<int>(l);
    const auto known = [&](Source source, const std::string& food, const std::string& form) -> Pool& {
      for (Pool& p : pools_)
        if (p.lot == index && p.source == source && p.food == food && p.form == form) return p;
      pools_.push_back({.lot = index, .source = source, .food = food, .form = form, .made = {}, .taken = {}});
      return pools_.back();
    };
    for (const RouteSpec& spec : project_.routes) {
      const almanac::Route& route = *spec.source;
      if (!can_run(spec) || !Project::facts_allow(lot, route)) continue;
      const bool main = route_serves(route, lot.crop);
      if (route.is_hold) {
        if (!main || route.accepts_form != lot.form || route.product_form == lot.form) continue;
        Pool& p = known(Source::held, lot.crop, route.product_form);
        p.most = std::max(p.most, std::min(lot.kg, route.batch_max_kg) * route.yield_kg_per_kg);
      }
      const bool second = std::any_of(route.many_lot_with.begin(), route.many_lot_with.end(),
                                      [&](const auto& crop) { return names_crop(lot.crop, crop); });
      if (!main && !second && route.accepts_form == lot.form) continue;
      for (const almanac::ByProduct& by : route.also_yields) {
        Pool& p = known(Source::by_product, by.food, by.form);
        p.most = std::max(p.most, lot.kg * by.kg_per_kg * static_cast<double>(project_.routes.size()));
      }
    }
  }
}

void FlowProgram::add_runs(bool holds) {
  for (std::size_t r = 0; r < project_.routes.size(); ++r) {
    const RouteSpec& spec = project_.routes[r];
    if (spec.source->is_hold != holds || !can_run(spec)) continue;
    for (int day = day_of(project_.now); day < project_.days; ++day) add_run(static_cast<int>(r), day);
  }
}

void FlowProgram::add_run(int route, int day) {
  const RouteSpec& spec = project_.routes[static_cast<std::size_t>(route)];
  Run run{.route = route, .day = day, .limits = {}, .sizes = {}};
  auto limits = limits_of(project_, free_, spec, std::max(day * kDayMinutes, project_.now), (day + 1) * kDayMinutes);
  if (!limits) return;
  run.limits = std::move(*limits);
  const StageLimits& first = run.limits.front();
  if (spec.source->is_hold && run.limits.back().surely_left_out) return;
  std::vector<Inflow> in = inflows(spec, route, first.first_start, first.last_start);
  double kg = 0, main_quality = 0;
  for (const Inflow& f : in) {
    kg += f.most;
    if (f.second < 0) main_quality = std::max(main_quality, f.quality);
  }
  if (main_quality <= 0) return;
  run.sizes = sizes_of(project_, free_, spec, run.limits, kg);
  if (run.sizes.most < run.sizes.least) return;
  run.column = lp_.column(kg);
  lp_.price(run.column, Term::materials, spec.source->materials_cost_per_kg);
  lp_.price(run.column, Term::energy, spec.source->energy_cost_per_kg);
  const int sum = lp_.row(0, 0);
  lp_.add(sum, run.column, -1);
  for (Inflow& f : in) {
    add_inflow(run, f, main_quality);
    lp_.add(sum, f.column, 1);
  }
  if (!spec.source->many_lot_with.empty()) add_recipe(run, in);
  use_stages(run);
  runs_.push_back(std::move(run));
}

std::vector<FlowProgram::Inflow> FlowProgram::inflows(const RouteSpec& spec, int, Time from, Time last) const {
  const almanac::Route& route = *spec.source;
  std::vector<Inflow> out;
  for (std::size_t l = 0; l < project_.lots.size(); ++l) {
    const Lot& lot = project_.h.lots[l];
    if (!Project::facts_allow(lot, route)) continue;
    Inflow in{.lot = static_cast<int>(l)};
    if (route_serves(route, lot.crop)) {
      if (route.accepts_form != lot.form) continue;  // from a pool
      if (route.is_hold && route.product_form == lot.form) continue;
    } else {
      for (std::size_t j = route.many_lot_with.size(); j-- > 0;)
        if (names_crop(lot.crop, route.many_lot_with[j])) in.second = static_cast<int>(j);
      if (in.second < 0) continue;
    }
    if (lot_inflow(spec, in.lot, from, last, in)) out.push_back(in);
  }
  if (route.is_hold) return out;
  for (std::size_t p = 0; p < pools_.size(); ++p) {
    const Pool& pool = pools_[p];
    const Lot& lot = project_.h.lots[static_cast<std::size_t>(pool.lot)];
    if (pool.form != route.accepts_form || lot.form == route.accepts_form || !Project::facts_allow(lot, route))
      continue;
    if (pool.source == Source::held ? !route_serves(route, lot.crop) : pool.food != route.crop) continue;
    Inflow in{.lot = pool.lot, .source = pool.source, .pool = static_cast<int>(p)};
    if (pool_inflow(spec, static_cast<int>(p), from, last, in)) out.push_back(in);
  }
  return out;
}

/// Is the hard clock of the lot kept by a batch that starts in [from, last]?
bool FlowProgram::in_time(const RouteSpec& spec, int lot, Time from, Time last) const {
  const Time by = project_.lots[static_cast<std::size_t>(lot)].hazard_by;
  if (by == kNever) return true;
  const auto limits = limits_of(project_, free_, spec, from, last + kGrain);
  if (!limits) return false;
  const StageLimits& stage = (*limits)[static_cast<std::size_t>(spec.hazard.stage)];
  return !stage.surely_left_out && (spec.hazard.by_start ? stage.first_start : stage.first_end) <= by;
}

bool FlowProgram::lot_inflow(const RouteSpec& spec, int lot, Time from, Time last, Inflow& in) const {
  const LotSpec& l = project_.lots[static_cast<std::size_t>(lot)];
  from = std::max(from, l.from);
  if (from > last || !in_time(spec, lot, from, last)) return false;
  const BestState state = best_state(project_, l, from, last);
  in.share = state.share();
  in.good = in.second < 0 ? state.good(*spec.source, spec.floor) : in.share;
  in.quality = in.second < 0 ? state.quality(*spec.source) : 1;
  if (in.good <= 0 || in.share < (in.second < 0 ? spec.floor : kUsableFloor)) return false;
  if (!l.standing) in.eaten = l.eaten_per_minute * (from - std::max(project_.h.now, l.source->ready));
  in.most = l.source->kg - in.eaten;
  return in.most > kNoKg;
}

bool FlowProgram::pool_inflow(const RouteSpec& spec, int pool, Time from, Time last, Inflow& in) const {
  const Pool& p = pools_[static_cast<std::size_t>(pool)];
  const LotSpec& l = project_.lots[static_cast<std::size_t>(p.lot)];
  from = std::max(from, l.from);
  in.most = p.most;
  if (from > last || in.most <= kNoKg) return false;
  if (p.source == Source::by_product) {
    in.good = in.quality = spec.source->quality[static_cast<std::size_t>(almanac::Condition::firm)];
    return in.quality > 0 && in_time(spec, p.lot, from, last);
  }
  from = std::max(from, p.held_from);
  if (p.place < 0 || from > last) return false;
  const bool frozen = project_.places[static_cast<std::size_t>(p.place)].temp_c <= kFrozenBelowC;
  if (!frozen && !in_time(spec, p.lot, from, last)) return false;
  const BestState state = best_of_pool(project_, l, p.place, p.held_from, std::min(p.held_by, last), last);
  in.good = in.quality = state.quality(*spec.source) * p.quality;
  return in.quality > 0;
}

void FlowProgram::add_inflow(const Run& run, Inflow& in, double main_quality) {
  const RouteSpec& spec = project_.routes[static_cast<std::size_t>(run.route)];
  const almanac::Route& route = *spec.source;
  const LotSpec& lot = project_.lots[static_cast<std::size_t>(in.lot)];
  in.column = lp_.column(in.most);
  if (in.source == Source::lot) {
    of_lot_[{run.route, in.lot}].push_back(in.column);
    lp_.add(lot_rows_[static_cast<std::size_t>(in.lot)], in.column, lot.source->kg / in.most);
    if (lot.standing) picked_for_[static_cast<std::size_t>(in.lot)].push_back({in.column, run.day, 1});
  } else {
    pools_[static_cast<std::size_t>(in.pool)].taken.push_back({in.column, run.day, 1});
  }
  if (route.is_hold) {
    for (Pool& p : pools_) {
      if (p.lot != in.lot || p.source != Source::held || p.form != route.product_form) continue;
      p.made.push_back({in.column, run.day, in.share * route.yield_kg_per_kg});
      p.quality = std::max(p.quality, in.quality);
      // Where it ages slowest, when several hold routes lead to the same form.
      const auto cold = [&](int place) { return project_.places[static_cast<std::size_t>(place)].temp_c; };
      if (p.place < 0 || cold(spec.hold_place) < cold(p.place)) p.place = spec.hold_place;
      p.held_from = std::min(p.held_from, std::max(run.limits.front().first_start, lot.from));
      p.held_by = std::max(p.held_by, run.limits.front().last_start);
    }
  } else {
    const double good = in.second < 0 ? in.good : main_quality * in.share;
    if (spec.worth >= 0) {
      put_[static_cast<std::size_t>(spec.worth)].push_back({in.column, good * route.yield_kg_per_kg, run.route});
    } else if (route.yield_kg_per_kg > 0) {
      lp_.price(in.column, Term::put_by, good * route.worth_per_kg_in);
    }
  }
  add_by_products(run, in);
}

void FlowProgram::add_by_products(const Run& run, const Inflow& in) {
  const StageLimits& last = run.limits.back();
  if (last.surely_left_out) return;
  const almanac::Route& route = *project_.routes[static_cast<std::size_t>(run.route)].source;
  for (const almanac::ByProduct& by : route.also_yields)
    for (Pool& p : pools_)
      if (p.lot == in.lot && p.source == Source::by_product && p.food == by.food && p.form == by.form)
        p.made.push_back({in.column, day_of(last.first_end), by.kg_per_kg});
}

/// The other crops of a many-lot recipe in their shares.
void FlowProgram::add_recipe(const Run& run, const std::vector<Inflow>& in) {
  const almanac::Route& route = *project_.routes[static_cast<std::size_t>(run.route)].source;
  for (std::size_t j = 0; j < route.many_lot_with.size(); ++j) {
    const int row = lp_.row(0, 0);
    for (const Inflow& f : in) {
      if (f.second == static_cast<int>(j)) lp_.add(row, f.column, 1);
      if (f.second < 0) lp_.add(row, f.column, -route.many_lot_kg[j]);
    }
  }
}

void FlowProgram::add_still_sound() {
  const Time end = project_.horizon;
  for (std::size_t l = 0; l < project_.lots.size(); ++l) {
    const LotSpec& lot = project_.lots[l];
    const bool gone = lot.standing && lot.source->pick_by <= end;
    if (gone || std::max(project_.h.now, lot.source->ready) >= end || lot.hazard_by <= end) continue;
    add_still(nullptr, static_cast<int>(l), lot.standing ? as_it_stands(lot) : best_state(project_, lot, end, end));
  }
  for (Pool& p : pools_) {
    if (p.source != Source::held || p.place < 0) continue;
    const LotSpec& lot = project_.lots[static_cast<std::size_t>(p.lot)];
    const bool frozen = project_.places[static_cast<std::size_t>(p.place)].temp_c <= kFrozenBelowC;
    if (!frozen && lot.hazard_by <= end) continue;
    add_still(&p, p.lot, best_of_pool(project_, lot, p.place, p.held_from, p.held_by, end));
  }
}

void FlowProgram::add_still(const Pool* pool, int lot, const BestState& state) {
  const LotSpec& l = project_.lots[static_cast<std::size_t>(lot)];
  const std::string& form = pool != nullptr ? pool->form : l.source->form;
  const double waited = project_.horizon - std::max(project_.h.now, l.source->ready);
  const double most = pool != nullptr ? pool->most : l.source->kg - l.eaten_per_minute * waited;
  if (most <= kNoKg) return;
  for (const RouteSpec& spec : project_.routes) {
    const almanac::Route& route = *spec.source;
    if (route.is_hold || spec.gives_away || !route.many_lot_with.empty() || route.accepts_form != form) continue;
    if (!route_serves(route, l.source->crop) || !Project::facts_allow(*l.source, route) || !can_run(spec)) continue;
    const double good = state.good(route, spec.floor) * (pool != nullptr ? pool->quality : 1);
    if (good <= 0) continue;
    const int column = lp_.column(most);
    const double hours = spec.hours_per_kg + (l.standing && pool == nullptr ? l.source->pick_min_per_kg / 60 : 0);
    const double cost = route.materials_cost_per_kg + route.energy_cost_per_kg + project_.h.effort_per_hour * hours;
    const double own = spec.worth < 0 ? good * route.worth_per_kg_in : 0;
    lp_.price(column, Term::still_sound, kLaterShare * (own - cost));
    lp_.add(later_row_, column, 60 * hours);
    if (spec.worth >= 0)
      still_[static_cast<std::size_t>(spec.worth)].push_back({column, good * route.yield_kg_per_kg, -1});
    if (pool == nullptr) {
      lp_.add(lot_rows_[static_cast<std::size_t>(lot)], column, l.source->kg / most);
    } else {
      pools_[static_cast<std::size_t>(pool - pools_.data())].taken.push_back({column, project_.days, 1});
    }
  }
}

/// Concave worth, piece by piece. A piece is filled by routes that have a batch at all: so much of it as they have
/// batches, at most the whole.
void FlowProgram::close_worth(int row, bool with_still) {
  const WorthSpec& worth = project_.worth[static_cast<std::size_t>(row)];
  const double weight = with_still ? kLaterShare : 1 - kLaterShare;
  std::map<int, std::vector<Product>> by_route;
  for (const Product& p : put_[static_cast<std::size_t>(row)]) by_route[p.route].push_back(p);
  if (with_still && !still_[static_cast<std::size_t>(row)].empty())
    by_route[-1] = still_[static_cast<std::size_t>(row)];
  double all = 1;
  for (const auto& [route, products] : by_route)
    for (const Product& p : products) all += p.factor * lp_.most(p.column);
  const double lengths[] = {worth.full_until, worth.second_until - worth.full_until, all};
  const double slopes[] = {1, worth.second_share, worth.tail_share};
  int limits[3];
  for (int i = 0; i < 3; ++i) limits[i] = lp_.row(-LinearProgram::kFree, std::min(all, lengths[i]));
  for (const auto& [route, products] : by_route) {
    const int sum = lp_.row(-LinearProgram::kFree, 0);
    for (const Product& p : products) lp_.add(sum, p.column, -p.factor);
    for (int i = 0; i < 3; ++i) {
      const double most = std::min(all, lengths[i]);
      if (most <= 0) continue;
      const int piece = lp_.column(most);
      lp_.price(piece, Term::put_by, weight * worth.per_kg * slopes[i]);
      lp_.add(sum, piece, 1);
      lp_.add(limits[i], piece, 1);
      if (i == 2 || route < 0) continue;
      const int whole = lp_.row(-LinearProgram::kFree, 0);
      lp_.add(whole, piece, 1);
      lp_.add(whole, batches_[static_cast<std::size_t>(route)], -most);
    }
  }
}

void FlowProgram::close_food() {
  for (std::size_t w = 0; w < project_.worth.size(); ++w) {
    if (put_[w].empty() && still_[w].empty()) continue;
    close_worth(static_cast<int>(w), false);
    close_worth(static_cast<int>(w), true);
  }
  for (Pool& p : pools_) {
    for (int day = 0; day <= project_.days; ++day) {
      const bool any = std::any_of(p.taken.begin(), p.taken.end(), [&](const Taking& t) { return t.day == day; });
      if (!any) continue;
      const int row = lp_.row(-LinearProgram::kFree, 0);
      for (const Taking& t : p.taken)
        if (t.day <= day) lp_.add(row, t.column, 1);
      for (const Taking& m : p.made)
        if (m.day <= day) lp_.add(row, m.column, -m.factor);
    }
    if (p.source != Source::held || p.made.empty()) continue;
    // One hold batch per lot and form.
    double most = 0;
    for (const RouteSpec& spec : project_.routes)
      if (spec.source->is_hold && spec.source->product_form == p.form) most = std::max(most, spec.source->batch_max_kg);
    const int row = lp_.row(-LinearProgram::kFree, most);
    for (const Taking& m : p.made) lp_.add(row, m.column, 1);
  }
  for (std::size_t l = 0; l < project_.lots.size(); ++l)
    if (project_.lots[l].standing && !picked_for_[l].empty()) close_picking(static_cast<int>(l));
}

/// What is put up by a day has been picked by then.
void FlowProgram::close_picking(int lot) {
  const LotSpec& l = project_.lots[static_cast<std::size_t>(lot)];
  const Kind kind{.people = free_.of_age(kPickLeastAge), .window = l.pick.window};
  std::vector<int> picked;
  const int from = day_of(l.from), by = std::min(project_.days - 1, day_of(l.source->pick_by));
  for (int day = from; day <= by; ++day) {
    picked.push_back(lp_.column(l.source->kg));
    work_[kind].push_back({picked.back(), day, day, l.source->pick_min_per_kg});
  }
  for (int day = from; day < project_.days; ++day) {
    const int row = lp_.row(-LinearProgram::kFree, 0);
    for (const Taking& t : picked_for_[static_cast<std::size_t>(lot)])
      if (t.day <= day) lp_.add(row, t.column, 1);
    for (int d = from; d <= std::min(day, by); ++d) lp_.add(row, picked[static_cast<std::size_t>(d - from)], -1);
  }
}

}  // namespace stillroom::planning::detail
