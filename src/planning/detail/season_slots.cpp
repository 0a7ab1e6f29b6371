#include "planning/detail/season.h"

// When a stage can run as the season has it: people as they are there, busy and well, equipment, weather.
namespace stillroom::planning::detail {
namespace {

constexpr Time kOthersStepIn = 2 * 60;  // the planned people cannot for so long: whoever else could does it

}  // namespace

Windows Season::open_time(std::uint32_t team, const Ask& ask) const {
  Windows open{{ask.from, kNever}};
  if (ask.good != nullptr) open = intersection(open, *ask.good);
  for (std::size_t p = 0; p < busy_.size(); ++p) {
    if ((team >> p & 1U) == 0) continue;
    open = intersection(open, days_.free(static_cast<int>(p)));
    for (const Busy& b : busy_[p])
      if (b.to > ask.from && b.share + ask.spec->share > kWhole) open = without(open, b.from, b.to);
  }
  return open;
}

Time Season::after_equipment(const Ask& ask, Time start) const {
  for (const Use& use : ask.spec->equipment) {
    const double amount = use.amount.at(ask.kg, ask.loads);
    const auto e = static_cast<std::size_t>(use.index);
    const double count = h_.equipment[e].count + 1e-6;
    const auto crowded_until = [&](Time t) {  // 0: there is enough at that moment
      double sum = amount;
      Time free = kNever;
      for (const Used& u : used_[e])
        if (u.from <= t && u.to > t) {
          sum += u.amount;
          free = std::min(free, u.to);
        }
      return sum > count && free != kNever ? free : 0;
    };
    if (const Time free = crowded_until(start); free > 0) return free;
    for (const Used& u : used_[e])
      if (u.from > start && u.from < start + ask.expected)
        if (const Time free = crowded_until(u.from); free > 0) return free;
  }
  return start;
}

/// Whether the stage can begin inside one stretch of open time, and what it then takes.
bool Season::fits_from(const Ask& ask, const Windows& open, std::size_t window, Slot& slot) const {
  const auto& w = open[window];
  const bool pauses = ask.spec->can_pause && !ask.unbroken && slot.team != 0;
  Time start = grain_up(std::max(w.from, ask.from));
  while (start < w.to && start <= ask.latest) {
    const Time later = after_equipment(ask, start);
    if (later > start) {
      start = grain_up(later);
      continue;
    }
    if (!pauses) {
      if (w.to != kNever && start + ask.expected > w.to) return false;
      slot.start = start;
      slot.end = start + ask.length;
      slot.pieces = {{start, slot.end}};
      return true;
    }
    Time left = ask.length, end = start;
    slot.pieces.clear();
    for (std::size_t i = window; i < open.size() && left > 0; ++i) {
      const Time from = std::max(start, open[i].from), run = std::min(left, open[i].to - from);
      if (run <= 0) continue;
      slot.pieces.push_back({from, from + run});
      end = from + run;
      left -= run;
    }
    if (left > 0 && ask.expected >= ask.length) return false;
    if (left > 0) {  // runs over what was thought to be enough: finished all the same
      slot.pieces.push_back({end, end + left});
      end += left;
    }
    if (end - start - ask.length > kLongestPause) return false;
    slot.start = start;
    slot.end = end;
    return true;
  }
  return false;
}

Season::Slot Season::find(const Ask& ask, std::uint32_t team) const {
  Slot slot;
  slot.team = team;
  const Windows open = open_time(team, ask);
  for (std::size_t w = 0; w < open.size() && open[w].from <= ask.latest; ++w)
    if (fits_from(ask, open, w, slot)) return slot;
  slot.start = slot.end = kNever;
  return slot;
}

/// As planned, or by others when the planned people cannot.
Season::Slot Season::find_any(const Ask& ask, std::uint32_t team) const {
  Slot best = find(ask, team);
  if (best.start <= ask.from + kOthersStepIn) return best;
  for (const Team& other : ask.spec->teams) {
    if (other.mask == team) continue;
    const Slot slot = find(ask, other.mask);
    if (slot.start < best.start) best = slot;
  }
  return best;
}

Time Season::length_of(const StageSpec& spec, std::uint32_t team, double minutes) const {
  double usable = 1;
  if (spec.attention == almanac::Attention::hands_on)
    for (std::size_t p = 0; p < h_.hands.size(); ++p)
      if ((team >> p & 1U) != 0) usable = std::min(usable, h_.hands[p].usable_share);
  return grain_length(std::max(0.0, minutes) / usable);
}

/// Takes people and equipment, and books the hours.
void Season::hold(const Slot& slot, const Ask& ask, bool of_batches) {
  for (const Use& use : ask.spec->equipment)
    used_[static_cast<std::size_t>(use.index)].push_back({slot.start, slot.end, use.amount.at(ask.kg, ask.loads)});
  for (std::size_t p = 0; p < busy_.size(); ++p) {
    if ((slot.team >> p & 1U) == 0) continue;
    for (const auto& piece : slot.pieces) {
      busy_[p].push_back({piece.from, piece.to, ask.spec->share});
      const double weight = static_cast<double>(ask.spec->share) / kWhole;
      for (int d = day_of(piece.from); d < base_.days && d * kDayMinutes < piece.to; ++d) {
        const double minutes =
            weight * (std::min(piece.to, (d + 1) * kDayMinutes) - std::max(piece.from, d * kDayMinutes));
        const std::size_t cell = p * static_cast<std::size_t>(base_.days) + static_cast<std::size_t>(d);
        worked_[cell] += minutes;
        if (of_batches) batch_worked_[cell] += minutes;
      }
    }
  }
}

}  // namespace stillroom::planning::detail
