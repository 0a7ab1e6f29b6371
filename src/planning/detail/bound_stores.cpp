#include <numeric>

#include "planning/detail/bound_flows.h"
#include "planning/detail/bound_spread.h"
#include "planning/detail/words.h"

namespace stillroom::planning::detail {

namespace {

std::string on_day(const std::string& what, int day) { return what + " on day " + std::to_string(day + 1); }

}  // namespace

void FlowProgram::use_stages(const Run& run) {
  const RouteSpec& spec = project_.routes[static_cast<std::size_t>(run.route)];
  for (std::size_t i = 0; i < spec.stages.size(); ++i) {
    const StageSpec& stage = spec.stages[i];
    const StageLimits& s = run.limits[i];
    const int whole = project_.days;
    for (const Use& use : stage.stock)
      stock_[static_cast<std::size_t>(use.index)].push_back(
          {run.column, 0, s.may_be_left_out || s.last_start >= project_.horizon ? whole : day_of(s.last_start),
           least_per_kg(use.amount, run.sizes)});
    for (const Use& use : stage.rooms)
      rooms_[static_cast<std::size_t>(use.index)].push_back(
          {run.column, 0, whole, least_per_kg(use.amount, run.sizes)});
    if (stage.attended()) use_attended(run, static_cast<int>(i));
    if (s.may_be_left_out) continue;
    const int first = day_of(s.first_start);
    const int last = s.last_end == kNever ? whole : std::min(whole, day_of(s.last_end - 1));
    for (const Use& use : stage.day_rooms)
      day_rooms_[use.index].push_back({run.column, day_of(s.first_end), last == whole ? whole : day_of(s.last_end),
                                       least_per_kg(use.amount, run.sizes)});
    const bool by_hand = stage.attention == almanac::Attention::hands_on;
    const double usable = by_hand ? free_.most_usable(free_.eligible(stage)) : 1;
    for (const Use& use : stage.equipment) {
      const double rate = least_product_per_kg(use.amount, stage.duration, run.sizes) / usable;
      equipment_[{use.index, stage.attended()}].push_back({run.column, first, last, rate});
      const double longest = stage.duration.at(run.sizes.most, loads_for(*spec.source, run.sizes.most));
      int& beyond = beyond_[static_cast<std::size_t>(use.index)];
      if (!stage.attended()) beyond = std::max(beyond, grain_length(std::max(0.0, longest)));
    }
  }
}

void FlowProgram::use_attended(const Run& run, int index) {
  const StageSpec& stage = project_.routes[static_cast<std::size_t>(run.route)].stages[static_cast<std::size_t>(index)];
  const StageLimits& s = run.limits[static_cast<std::size_t>(index)];
  const bool nearby = stage.attention == almanac::Attention::nearby;
  const double work =
      least_per_kg(stage.duration, run.sizes) * stage.hands * (nearby ? stage.source->nearby_share : 1.0);
  if (work <= 0) return;
  if (s.may_be_left_out) {
    lp_.price(run.column, Term::effort, project_.h.effort_per_hour * work / 60);
    return;
  }
  const Kind kind{.nearby = nearby, .people = free_.eligible(stage), .window = stage.window, .hands = stage.hands};
  work_[kind].push_back({run.column, day_of(s.first_start), std::min(project_.days - 1, day_of(s.last_end - 1)), work});
}

/// Batches and loads come whole: so many of a route over all days, and the work they make.
void FlowProgram::close_batches() {
  for (std::size_t r = 0; r < project_.routes.size(); ++r) {
    const RouteSpec& spec = project_.routes[r];
    const almanac::Route& route = *spec.source;
    std::vector<const Run*> mine;
    for (const Run& run : runs_)
      if (run.route == static_cast<int>(r)) mine.push_back(&run);
    if (mine.empty()) continue;
    double most = 0, kg = 0;
    for (const Run* run : mine) {
      most = std::max(most, run->sizes.most);
      kg = std::max(kg, lp_.most(run->column));
    }
    const double many =
        std::ceil(static_cast<double>(project_.h.lots.size()) * kg / std::max(route.batch_min_kg, 0.01));
    const int batches = lp_.column(many), loads = lp_.column(many * 400);
    batches_[r] = batches;
    // A lot is in a batch once.
    for (std::size_t l = 0; l < project_.lots.size(); ++l) {
      const auto flows = of_lot_.find({static_cast<int>(r), static_cast<int>(l)});
      if (flows == of_lot_.end()) continue;
      const int once = lp_.row(-LinearProgram::kFree, 0);
      for (const int column : flows->second) lp_.add(once, column, 1);
      lp_.add(once, batches, -std::min(most, project_.h.lots[l].kg));
    }
    const int enough = lp_.row(0, LinearProgram::kFree);
    const int filled = lp_.row(0, LinearProgram::kFree), least = lp_.row(-LinearProgram::kFree, 0);
    const int each = lp_.row(0, LinearProgram::kFree);
    lp_.add(enough, batches, 1);
    lp_.add(least, batches, route.batch_min_kg - 1e-6);
    lp_.add(each, loads, 1);
    lp_.add(each, batches, -1);
    if (route.load_kg > 0) {
      lp_.add(filled, loads, route.load_kg * (1 + 1e-6));
    } else {
      const int same = lp_.row(0, 0);
      lp_.add(same, loads, 1);
      lp_.add(same, batches, -1);
    }
    for (const Run* run : mine) {
      lp_.add(enough, run->column, -1 / run->sizes.most);
      lp_.add(least, run->column, -1);
      if (route.load_kg > 0) lp_.add(filled, run->column, -1);
    }
    int extra = -1, extra_row = -1;
    for (std::size_t i = 0; i < spec.stages.size(); ++i) {
      const StageSpec& stage = spec.stages[i];
      if (!stage.attended()) continue;
      const bool nearby = stage.attention == almanac::Attention::nearby;
      const double weight = stage.hands * (nearby ? stage.source->nearby_share : 1.0);
      const bool placed =
          std::none_of(mine.begin(), mine.end(), [&](const Run* run) { return run->limits[i].may_be_left_out; });
      if (placed) {
        const Kind kind{
            .nearby = nearby, .people = free_.eligible(stage), .window = stage.window, .hands = stage.hands};
        auto& work = whole_work_[kind];
        work.emplace_back(batches, weight * stage.duration.fixed);
        work.emplace_back(loads, weight * stage.duration.per_load);
        for (const Run* run : mine)
          work.emplace_back(run->column, weight * (stage.duration.per_kg - least_per_kg(stage.duration, run->sizes)));
        continue;
      }
      if (extra < 0) {
        extra = lp_.column(many * 1e3);
        lp_.price(extra, Term::effort, project_.h.effort_per_hour / 60);
        extra_row = lp_.row(0, LinearProgram::kFree);
        lp_.add(extra_row, extra, 1);
      }
      lp_.add(extra_row, batches, -weight * stage.duration.fixed);
      lp_.add(extra_row, loads, -weight * stage.duration.per_load);
      for (const Run* run : mine)
        lp_.add(extra_row, run->column, weight * (least_per_kg(stage.duration, run->sizes) - stage.duration.per_kg));
    }
  }
}

void FlowProgram::close_stock() {
  const Household& h = project_.h;
  const int weeks = (project_.days + 6) / 7;
  std::vector<std::vector<std::pair<int, double>>> spent(static_cast<std::size_t>(weeks));
  for (std::size_t s = 0; s < stock_.size(); ++s) {
    if (stock_[s].empty()) continue;
    const StockLevel& level = h.stock[s];
    const bool buy = level.can_buy && h.shopping.has_value();
    std::vector<int> bought;
    double needed = 0;
    for (const DayUse& use : stock_[s]) needed += use.rate * lp_.most(use.column);
    for (int w = 0; buy && w < weeks; ++w) {
      bought.push_back(lp_.column(needed + level.buy_step));
      spent[static_cast<std::size_t>(w)].emplace_back(bought.back(), level.price);
    }
    for (int day = 0; day <= project_.days; ++day) {
      const auto on = [&](Minute t, int d) { return t >= d * kDayMinutes && t < (d + 1) * kDayMinutes; };
      bool steps = day == project_.days || (buy && day % 7 == 6);
      for (const auto& a : level.arriving) steps = steps || on(a.at, day + 1);
      if (!steps) continue;
      double there = level.amount;
      for (const auto& a : level.arriving)
        if (a.at < (day + 1) * kDayMinutes && a.at <= project_.horizon) there += a.amount;
      const int row = lp_.row(-LinearProgram::kFree, there, thing(level.item));
      for (const DayUse& use : stock_[s])
        if (use.last <= day) lp_.add(row, use.column, use.rate);
      for (int w = 0; w < static_cast<int>(bought.size()) && w * 7 <= day; ++w)
        lp_.add(row, bought[static_cast<std::size_t>(w)], -1);
    }
  }
  if (h.money_per_week <= 0) return;
  // A trip for what is bought: the week's money in one is the most it can be good for.
  for (const auto& week : spent) {
    if (week.empty()) continue;
    const int trips = lp_.column(1);
    lp_.price(trips, Term::effort, h.effort_per_hour * h.shopping->minutes / 60.0);
    const int row = lp_.row(-LinearProgram::kFree, 0);
    lp_.add(row, trips, -(h.money_per_week + 0.01));
    for (const auto& [column, price] : week) lp_.add(row, column, price);
  }
}

void FlowProgram::close_rooms() {
  const auto total = [&](const std::vector<DayUse>& uses) {
    return std::accumulate(uses.begin(), uses.end(), 1.0,
                           [&](double sum, const DayUse& u) { return sum + u.rate * lp_.most(u.column); });
  };
  const Household& h = project_.h;
  for (std::size_t r = 0; r < rooms_.size(); ++r) {
    if (rooms_[r].empty()) continue;
    double there = h.rooms[r].capacity;
    for (const LotSpec& lot : project_.lots) {
      const PlaceSpec& place = project_.places[static_cast<std::size_t>(lot.place)];
      if (!lot.standing && lot.source->ready <= h.now && place.room == static_cast<int>(r))
        there += place.room_per_kg * lot.source->kg;  // may move out
    }
    const int row = lp_.row(-LinearProgram::kFree, there, thing(h.rooms[r].room));
    for (const DayUse& use : rooms_[r]) lp_.add(row, use.column, use.rate);
  }
  for (const auto& [room, uses] : day_rooms_) {
    std::vector<int> rows;
    for (int day = 0; day <= project_.days; ++day)
      rows.push_back(lp_.row(-LinearProgram::kFree,
                             day < project_.days ? h.rooms[static_cast<std::size_t>(room)].capacity : 1e6,
                             on_day(thing(h.rooms[static_cast<std::size_t>(room)].room), day)));
    spread_uses(lp_, uses, project_.days, total(uses),
                [&](int day, int column) { lp_.add(rows[static_cast<std::size_t>(day)], column, 1); });
  }
}

void FlowProgram::close_equipment() {
  const auto total = [&](const std::vector<DayUse>& uses) {
    return std::accumulate(uses.begin(), uses.end(), 1.0,
                           [&](double sum, const DayUse& u) { return sum + u.rate * lp_.most(u.column); });
  };
  const Household& h = project_.h;
  const std::uint32_t everyone = free_.of_age(0);
  for (std::size_t e = 0; e < h.equipment.size(); ++e) {
    const int index = static_cast<int>(e);
    if (!equipment_.contains({index, true}) && !equipment_.contains({index, false})) continue;
    const double count = h.equipment[e].count;
    std::vector<int> all, attended;
    for (int day = 0; day <= project_.days; ++day) {
      double taken = 0;
      for (const Committed& c : h.committed)
        for (const auto& use : c.equipment)
          if (use.key == h.equipment[e].key)
            taken +=
                std::min(use.amount.fixed, count) *
                overlap({{c.span.from, c.span.to}}, std::max(day * kDayMinutes, project_.now), (day + 1) * kDayMinutes);
      if (h.committed.size() > 1) taken = 0;  // several might be counted twice where they exceed what there is
      const double minutes = day < project_.days ? day_minutes(day) : beyond_[e];
      const std::string name = on_day("the " + thing(h.equipment[e].key), day);
      all.push_back(lp_.row(-LinearProgram::kFree, count * minutes - (day < project_.days ? taken : 0), name));
      const double free = day < project_.days ? free_.any_minutes(everyone, day) : 0;
      attended.push_back(lp_.row(-LinearProgram::kFree, count * free, name));
    }
    for (const bool by_hand : {false, true}) {
      const auto found = equipment_.find({index, by_hand});
      if (found == equipment_.end()) continue;
      spread_uses(lp_, found->second, project_.days, total(found->second), [&](int day, int column) {
        lp_.add(all[static_cast<std::size_t>(day)], column, 1);
        if (by_hand) lp_.add(attended[static_cast<std::size_t>(day)], column, 1);
      });
    }
  }
}

}  // namespace stillroom::planning::detail
