#include "scheduling/calendar.h"

#include <algorithm>
#include <cassert>
#include <string>

namespace stillroom::scheduling {

namespace {
constexpr Time kFurthest = 500'000'000;

bool in_range(Time t) { return t >= -kFurthest && t <= kFurthest; }

tl::unexpected<measure::Refusal> bad_calendar(std::string what) {
  return measure::refuse(
      "bad_calendar", std::move(what),
      {"give ascending moments within 500 million minutes of the origin and capacities of 0 or more"});
}
}  // namespace

Calendar::Calendar(std::vector<Step> steps) : steps_(std::move(steps)) {
  for (const Step& s : steps_)
    if (s.capacity > 0) levels_.push_back({s.capacity, {}});
  std::sort(levels_.begin(), levels_.end(), [](const Level& a, const Level& b) { return a.capacity < b.capacity; });
  const auto same = [](const Level& a, const Level& b) { return a.capacity == b.capacity; };
  levels_.erase(std::unique(levels_.begin(), levels_.end(), same), levels_.end());
  for (Level& level : levels_) {
    level.worked.assign(steps_.size(), 0);
    for (std::size_t i = 2; i < steps_.size(); ++i) {  // step 0 is the closed time before everything
      const bool open = steps_[i - 1].capacity >= level.capacity;
      level.worked[i] = level.worked[i - 1] + (open ? steps_[i].from - steps_[i - 1].from : 0);
    }
  }
}

measure::Result<Calendar> Calendar::from_steps(std::span<const Step> steps) {
  std::vector<Step> kept{{kEarliest, 0}};
  for (const Step& s : steps) {
    const std::string where = "The calendar step at minute " + std::to_string(s.from);
    if (!in_range(s.from)) return bad_calendar(where + " lies too far away.");
    if (s.capacity < 0) return bad_calendar(where + " has a negative capacity.");
    if (s.from <= kept.back().from && kept.size() > 1) return bad_calendar(where + " does not follow the one before.");
    kept.push_back(s);
  }
  return Calendar(std::move(kept));
}

measure::Result<Calendar> Calendar::from_windows(std::span<const Window> windows, Amount capacity) {
  if (capacity < 0) return bad_calendar("A calendar has a negative capacity.");
  std::vector<Window> sorted(windows.begin(), windows.end());
  std::sort(sorted.begin(), sorted.end(), [](const Window& a, const Window& b) { return a.from < b.from; });
  std::vector<Step> steps;
  for (const Window& w : sorted) {
    const std::string where = "The window that begins at minute " + std::to_string(w.from);
    if (!in_range(w.from) || !in_range(w.to)) return bad_calendar(where + " lies too far away.");
    if (w.to < w.from) return bad_calendar(where + " ends before it begins.");
    if (w.to == w.from) continue;
    if (!steps.empty() && w.from <= steps.back().from) {
      steps.back().from = std::max(steps.back().from, w.to);  // joins the window before
    } else {
      steps.push_back({w.from, capacity});
      steps.push_back({w.to, 0});
    }
  }
  return from_steps(steps);
}

Calendar Calendar::always(Amount capacity) {
  assert(capacity >= 0);
  return Calendar({{kEarliest, 0}, {-kFurthest, capacity}});
}

Amount Calendar::capacity_at(Time t) const { return steps_[index(t)].capacity; }

Time Calendar::next_open(Time t, Amount amount) const {
  std::size_t i = index(t);
  if (steps_[i].capacity >= amount) return t;
  while (++i < steps_.size())
    if (steps_[i].capacity >= amount) return steps_[i].from;
  return kNever;
}

const Calendar::Level* Calendar::level_for(Amount amount) const {
  for (const Level& level : levels_)
    if (level.capacity >= amount) return &level;
  return nullptr;
}

Time Calendar::worked_until(const Level& level, Time t) const {
  const std::size_t i = index(t);
  return level.worked[i] + (steps_[i].capacity >= level.capacity ? t - steps_[i].from : 0);
}

Time Calendar::working_time(Time from, Time to, Amount amount) const {
  assert(from <= to && to < kNever && amount > 0);
  const Level* level = level_for(amount);
  return level ? worked_until(*level, to) - worked_until(*level, from) : 0;
}

Time Calendar::finish_of(Time start, Time work, Amount amount) const {
  assert(amount > 0);
  return work <= 0 ? start : working_window(start, work, amount).to;
}

Calendar::Window Calendar::working_window(Time t, Time work, Amount amount) const {
  assert(work > 0 && amount > 0);
  const Level* level = level_for(amount);
  if (!level) return {kNever, kNever};
  std::size_t i = index(t);
  Time from = t;
  while (steps_[i].capacity < amount) {
    if (++i == steps_.size()) return {kNever, kNever};
    from = steps_[i].from;
  }
  const Time target = level->worked[i] + (from - steps_[i].from) + work;
  while (i + 1 < steps_.size() && level->worked[i + 1] < target) ++i;
  if (steps_[i].capacity < amount) return {from, kNever};
  return {from, steps_[i].from + (target - level->worked[i])};
}

}  // namespace stillroom::scheduling
