#include "planning/detail/board.h"

#include <cassert>

namespace stillroom::planning::detail {

Board::Board(const Project& project) : project_(project), days_(project.days) {
  const Household& h = project.h;
  for (const auto* calendar : project.hand_calendars) now_.hands.emplace_back(*calendar);
  for (const auto* calendar : project.windows) windows_.emplace_back(*calendar);
  for (const EquipmentPiece& piece : h.equipment) {
    always_.push_back(scheduling::Calendar::always(units_there(piece.count)));
    now_.equipment.emplace_back(always_.back());
  }
  for (const StockLevel& level : h.stock) {
    std::vector<scheduling::StockProfile::Arrival> arriving;
    for (const auto& a : level.arriving)
      if (a.amount > 0) arriving.push_back({grain_up(a.at), units_there(a.amount)});
    now_.stocks.emplace_back(units_there(level.amount), arriving);
  }
  for (const RoomLevel& room : h.rooms) {
    now_.rooms.emplace_back(scheduling::Calendar::always(units_there(room.capacity)));
    day_limit_.push_back(units_there(room.capacity));
  }
  now_.day_rooms.assign(h.rooms.size() * static_cast<std::size_t>(days_), 0);
  now_.worked.assign(h.hands.size() * static_cast<std::size_t>(days_), 0);
  now_.batch_worked = now_.worked;
  for (const Hand& hand : h.hands) day_most_.push_back(hand.most_minutes_per_day * kWhole);
  for (const Committed& c : h.committed) {
    const Time from = grain_down(c.span.from), to = grain_up(c.span.to);
    for (const almanac::EquipmentUse& use : c.equipment)
      for (std::size_t e = 0; e < h.equipment.size(); ++e)
        if (h.equipment[e].key == use.key && from < to)
          now_.equipment[e].reserve(from, to - from, units_needed(use.amount.fixed), log_);
    for (const std::string& key : c.hands)
      for (std::size_t p = 0; p < h.hands.size(); ++p) {
        if (h.hands[p].key != key) continue;
        for (int d = std::max(0, day_of(c.span.from)); d < days_ && d * kDayMinutes < c.span.to; ++d)
          now_.worked[cell(static_cast<int>(p), d)] +=
              kWhole * (std::min(c.span.to, (d + 1) * kDayMinutes) - std::max(c.span.from, d * kDayMinutes));
      }
  }
  commit();
  empty_ = now_;
}

void Board::commit() {
  log_.commit();
  cells_.clear();
}

void Board::reset() {
  commit();
  now_ = empty_;
}

void Board::rollback(Mark m) {
  log_.rollback(m.log);
  while (cells_.size() > m.cells) {
    *cells_.back().at = cells_.back().before;
    cells_.pop_back();
  }
}

template <class Each>
void Board::each_working_piece(const Demand& demand, const Team& team, Time start, Time end, Each&& each) const {
  if (!demand.spec->can_pause || demand.contiguous || team.together == nullptr) {
    each(start, end);
    return;
  }
  const auto& steps = team.together->steps();
  for (std::size_t i = team.together->index(start); i < steps.size() && steps[i].from < end; ++i)
    if (steps[i].capacity >= kWhole)
      each(std::max(start, steps[i].from), i + 1 == steps.size() ? end : std::min(end, steps[i + 1].from));
}

/// Stock, room, window and equipment, the same for every team; false when stock or room never suffice.
bool Board::prepare(const Demand& demand, Time from) {
  const StageSpec& spec = *demand.spec;
  const auto amount = [&](const Use& use) { return units_needed(use.amount.at(demand.kg, demand.loads)); };
  soonest_ = from;
  if (!relaxed.stock)
    for (const Use& use : spec.stock) {
      const Time t = now_.stocks[static_cast<std::size_t>(use.index)].earliest_take(soonest_, amount(use));
      if (t == kNever) return false;
      soonest_ = grain_up(t);
    }
  ends_from_ = from;
  if (!relaxed.room)
    for (const Use& use : spec.rooms) {
      ends_from_ = now_.rooms[static_cast<std::size_t>(use.index)].earliest_keep(ends_from_, amount(use));
      if (ends_from_ == kNever) return false;
    }
  needs_.resize(kMostTeam);
  if (spec.window >= 0) needs_.push_back({&windows_[static_cast<std::size_t>(spec.window)], 1, 0, 0});
  if (!relaxed.equipment)
    for (const Use& use : spec.equipment)
      needs_.push_back({&now_.equipment[static_cast<std::size_t>(use.index)], amount(use), 0, 0});
  return true;
}

Time Board::whole_fit(const Demand& demand, const Team& team, Time length, Time from, Time latest) {
  const std::size_t people = relaxed.people ? 0 : static_cast<std::size_t>(team.size);
  const std::span<scheduling::Need> needs = std::span(needs_).subspan(kMostTeam - people);
  for (std::size_t i = 0; i < people; ++i) {  // people first: they have the least time
    needs[i].profile = &now_.hands[team.members[i]];
    needs[i].amount = demand.spec->share;
  }
  for (scheduling::Need& need : needs) need.duration = length;
  Time start = from;
  while (true) {
    start = scheduling::earliest_joint_fit(needs, start, latest);
    if (start == kNever) return kNever;
    const Time after = after_limits(demand, team, start, start + length);
    if (after == start) return start;
    if (after > latest) return kNever;
    start = after;
  }
}

scheduling::Placement Board::paused_fit(const Demand& demand, const Team& team, Time length, Time from, Time latest) {
  const scheduling::Calendar& calendar = *team.together;
  const bool lone = team.size == 1 && demand.spec->window < 0;
  Time start = lone ? from : calendar.next_open(from, kWhole);
  while (start <= latest) {  // kNever is past every latest
    Time finish = kNever;
    if (lone) {
      const auto& person = now_.hands[static_cast<std::size_t>(team.members[0])];
      const scheduling::Placement fit = person.earliest_pausable_fit(start, length, demand.spec->share, latest);
      if (!fit.fits()) return {};
      start = fit.start;
      finish = fit.finish;
    } else {
      finish = calendar.finish_of(start, length, kWhole);
      if (finish == kNever) return {};
    }
    Time again = start;  // where to try next when this start will not do
    if (finish - start - length > kLongestPause) {
      Time first_end = kNever;
      each_working_piece(demand, team, start, finish, [&](Time, Time to) { first_end = std::min(first_end, to); });
      again = calendar.next_open(first_end, kWhole);
    }
    if (again == start && !lone)
      each_working_piece(demand, team, start, finish, [&](Time a, Time b) {
        for (int i = 0; i < team.size && again == start; ++i) {
          const auto& person = now_.hands[static_cast<std::size_t>(team.members[static_cast<std::size_t>(i)])];
          Time clash = a;
          while (clash < b && person.lowest_free(clash, b) < demand.spec->share) {
            // The last moment of the piece that is taken: no start before its end can work.
            const Time free = person.earliest_fit(clash, kGrain, demand.spec->share);
            if (free > clash) {
              again = std::max(again, std::min(free, b));
              clash = free;
            } else {
              Time low = clash, high = b;  // free on [clash, low], not on [clash, high)
              while (high - low > kGrain) {
                const Time middle = grain_down(low + (high - low) / 2);
                (middle > low && person.lowest_free(clash, middle) >= demand.spec->share ? low : high) =
                    std::max(middle, low + kGrain);
              }
              clash = low == clash ? clash + kGrain : low;
            }
          }
        }
      });
    if (again == start)
      for (const scheduling::Need& need : std::span(needs_).subspan(kMostTeam + (demand.spec->window >= 0 ? 1 : 0)))
        again = std::max(again, need.profile->earliest_fit(start, finish - start, need.amount));
    if (again == start) again = after_limits(demand, team, start, finish);
    if (again == start) return {start, finish};
    if (again > latest) return {};
    start = calendar.next_open(std::max(again, start + kGrain), kWhole);
  }
  return {};
}

Time Board::after_rooms(const Demand& demand, Time start, Time end) const {
  Time after = start;
  if (end < ends_from_) after = start + grain_up(ends_from_ - end);
  if (relaxed.room || end >= project_.horizon) return after;
  for (const Use& use : demand.spec->day_rooms) {
    const auto room = static_cast<std::size_t>(use.index);
    const Amount need = units_needed(use.amount.at(demand.kg, demand.loads));
    if (need > day_limit_[room]) return kNever;
    const int day = day_of(end);
    if (now_.day_rooms[room * static_cast<std::size_t>(days_) + static_cast<std::size_t>(day)] + need >
        day_limit_[room])
      after = std::max(after, start + (day + 1) * kDayMinutes - end);
  }
  return after;
}

Time Board::after_day_lengths(const Demand& demand, const Team& team, Time start, Time end) const {
  Time after = start;
  int last_day = -1;
  Time minutes = 0;  // on that day so far, the same for all
  each_working_piece(demand, team, start, end, [&](Time from, Time to) {
    for (int d = day_of(from); d < days_ && d * kDayMinutes < to; ++d) {
      if (d != last_day) minutes = 0;
      last_day = d;
      minutes += std::min(to, (d + 1) * kDayMinutes) - std::max(from, d * kDayMinutes);
      for (int i = 0; i < team.size; ++i) {
        const int p = team.members[static_cast<std::size_t>(i)];
        if (worked(p, d) + minutes * demand.spec->share > day_most_[static_cast<std::size_t>(p)])
          after = std::max(after, (d + 1) * kDayMinutes);
      }
    }
  });
  return after;
}

Time Board::after_limits(const Demand& demand, const Team& team, Time start, Time end) const {
  Time after = after_rooms(demand, start, end);
  if (after != start || relaxed.people) return after;
  if (team.size > 0) after = after_day_lengths(demand, team, start, end);
  const Time day = project_.one_job_day * kDayMinutes;
  if (project_.one_job_day >= 0 && demand.counts_as_job && now_.one_job >= 0 && now_.one_job != demand.job &&
      start < day + kDayMinutes && end > day)
    after = std::max(after, day + kDayMinutes);
  return after;
}

Board::Slot Board::earliest_of(const Demand& demand, const Team& team, Time length, Time from, Time latest) {
  if (demand.spec->can_pause && team.together != nullptr && !relaxed.people) {
    const scheduling::Placement p = paused_fit(demand, team, length, from, latest);
    return p.fits() ? Slot{p.start, p.finish, &team} : Slot{};
  }
  const Time start = whole_fit(demand, team, length, from, latest);
  return start != kNever ? Slot{start, start + length, &team} : Slot{};
}

Board::Slot Board::at(const Demand& demand, Time start, std::uint32_t hands) {
  for (const Team& team : demand.spec->teams) {
    if (team.mask != hands) continue;
    if (!prepare(demand, start)) return {};
    const Slot slot = earliest_of(demand, team, demand.spec->length(demand.minutes, team), soonest_, start);
    return slot.start == start ? slot : Slot{};
  }
  return {};
}

Board::Slot Board::earliest(const Demand& demand, Time from, Time latest) {
  Slot best;
  if (!prepare(demand, from)) return best;
  double usable = 0;
  Time length = 0;
  for (const Team& team : demand.spec->teams) {
    if (team.usable != usable) length = demand.spec->length(demand.minutes, team);
    usable = team.usable;
    // Only a strictly earlier end beats what an abler team further up the list already gave.
    const Time bound = best.fits() ? std::min(latest, best.end - length - kGrain) : latest;
    if (bound < soonest_) continue;
    const Slot slot = earliest_of(demand, team, length, soonest_, bound);
    if (slot.end < best.end) best = slot;
    if (best.fits() && best.end == soonest_ + kGrain) break;
  }
  return best;
}

void Board::apply(const Demand& demand, const Slot& slot, int sign) {
  const StageSpec& spec = *demand.spec;
  each_working_piece(demand, *slot.team, slot.start, slot.end, [&](Time from, Time to) {
    for (int i = 0; i < slot.team->size; ++i) {
      const int p = slot.team->members[static_cast<std::size_t>(i)];
      now_.hands[static_cast<std::size_t>(p)].reserve(from, to - from, sign * spec.share, log_);
      for (int d = day_of(from); d < days_ && d * kDayMinutes < to; ++d) {
        const Amount weighted =
            sign * (std::min(to, (d + 1) * kDayMinutes) - std::max(from, d * kDayMinutes)) * spec.share;
        set(now_.worked[cell(p, d)], worked(p, d) + weighted);
        if (demand.batch_work) set(now_.batch_worked[cell(p, d)], batch_worked(p, d) + weighted);
      }
    }
  });
  for (const Use& use : spec.equipment)
    now_.equipment[static_cast<std::size_t>(use.index)].reserve(
        slot.start, slot.end - slot.start, sign * units_needed(use.amount.at(demand.kg, demand.loads)), log_);
  for (const Use& use : spec.stock)
    stock(use.index).take(slot.start, sign * units_needed(use.amount.at(demand.kg, demand.loads)), log_);
  for (const Use& use : spec.rooms)
    room(use.index).keep(slot.end, kNever, sign * units_needed(use.amount.at(demand.kg, demand.loads)), log_);
  if (slot.end < project_.horizon)
    for (const Use& use : spec.day_rooms) {
      Amount& taken = now_.day_rooms[static_cast<std::size_t>(use.index) * static_cast<std::size_t>(days_) +
                                     static_cast<std::size_t>(day_of(slot.end))];
      set(taken, taken + sign * units_needed(use.amount.at(demand.kg, demand.loads)));
    }
  const Time day = project_.one_job_day * kDayMinutes;
  if (project_.one_job_day >= 0 && demand.counts_as_job && slot.start < day + kDayMinutes && slot.end > day)
    set(now_.one_job, sign > 0 ? demand.job : -1);
}

bool Board::fits_beyond(const Demand& demand) const {
  const Time at = project_.horizon;
  const auto needs = [&](const Use& use) { return units_needed(use.amount.at(demand.kg, demand.loads)); };
  if (!relaxed.stock)
    for (const Use& use : demand.spec->stock)
      if (now_.stocks[static_cast<std::size_t>(use.index)].earliest_take(at, needs(use), at) == kNever) return false;
  if (!relaxed.room)
    for (const Use& use : demand.spec->rooms)
      if (now_.rooms[static_cast<std::size_t>(use.index)].earliest_keep(at, needs(use), at) == kNever) return false;
  return true;
}

void Board::apply_beyond(const Demand& demand, int sign) {
  for (const Use& use : demand.spec->stock)
    stock(use.index).take(project_.horizon, sign * units_needed(use.amount.at(demand.kg, demand.loads)), log_);
  for (const Use& use : demand.spec->rooms)
    room(use.index).keep(project_.horizon, kNever, sign * units_needed(use.amount.at(demand.kg, demand.loads)), log_);
}

Time Board::free_run(const Demand& demand, const Team& team, Time from, Time most) {
  if (!prepare(demand, from) || soonest_ > from) return 0;
  const auto free = [&](Time length) {
    for (int i = 0; i < team.size; ++i)
      if (now_.hands[static_cast<std::size_t>(team.members[static_cast<std::size_t>(i)])].lowest_free(
              from, from + length) < demand.spec->share)
        return false;
    if (demand.spec->window >= 0 &&
        windows_[static_cast<std::size_t>(demand.spec->window)].lowest_free(from, from + length) < 1)
      return false;
    return after_limits(demand, team, from, from + length) == from;
  };
  Time low = 0, high = most / kGrain;  // in grains: free for low, unknown above
  while (low < high) {
    const Time middle = (low + high + 1) / 2;
    if (free(middle * kGrain)) {
      low = middle;
    } else {
      high = middle - 1;
    }
  }
  return low * kGrain;
}

double Board::most_kg(const StageSpec& spec, int loads) const {
  double most = kMostUnits;
  const auto limit = [&](const Use& use, Amount there) {
    const double left = static_cast<double>(there) / kWhole - use.amount.fixed - use.amount.per_load * loads;
    if (use.amount.per_kg > 0) {
      most = std::min(most, left / use.amount.per_kg);
    } else if (left < -1e-9) {
      most = 0;
    }
  };
  if (!relaxed.equipment)
    for (const Use& use : spec.equipment)
      limit(use, always_[static_cast<std::size_t>(use.index)].capacity_at(project_.now));
  if (!relaxed.stock)
    for (const Use& use : spec.stock)
      limit(use, now_.stocks[static_cast<std::size_t>(use.index)].available_from(project_.horizon));
  if (!relaxed.room) {
    for (const Use& use : spec.rooms)
      limit(use, now_.rooms[static_cast<std::size_t>(use.index)].lowest_free(project_.horizon, kNever));
    for (const Use& use : spec.day_rooms) limit(use, day_limit_[static_cast<std::size_t>(use.index)]);
  }
  return most;
}

}  // namespace stillroom::planning::detail
