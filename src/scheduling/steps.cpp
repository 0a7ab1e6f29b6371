#include "scheduling/steps.h"

#include <algorithm>
#include <cassert>

namespace stillroom::scheduling {

StepFunction::StepFunction(Amount value) : steps_{{kEarliest, value, value}} {}

void StepFunction::append(Time from, Amount value) {
  assert(from > steps_.back().from);
  if (steps_.back().value != value) steps_.push_back({from, value, value});
}

void StepFunction::add(Time from, Time to, Amount delta, Amount only_if_base, UndoLog& log) {
  if (from >= to || delta == 0) return;
  UndoLog::Entry entry{this, from, to, delta, only_if_base, false, false};
  std::size_t i = index(from);
  if (steps_[i].from < from) {
    const Step copy{from, steps_[i].value, steps_[i].base};
    steps_.insert(steps_.begin() + static_cast<std::ptrdiff_t>(++i), copy);
    entry.inserted_from = true;
  }
  for (; i < steps_.size() && steps_[i].from < to; ++i) {
    const bool last_inside = to != kNever && (i + 1 == steps_.size() || steps_[i + 1].from > to);
    if (last_inside) {
      const Step copy{to, steps_[i].value, steps_[i].base};
      steps_.insert(steps_.begin() + static_cast<std::ptrdiff_t>(i + 1), copy);
      entry.inserted_to = true;
    }
    if (steps_[i].base >= only_if_base) steps_[i].value += delta;
  }
  log.entries_.push_back(entry);
}

void StepFunction::undo(const UndoLog::Entry& entry) {
  std::size_t i = index(entry.from);
  const std::size_t first = i;
  for (; i < steps_.size() && steps_[i].from < entry.to; ++i)
    if (steps_[i].base >= entry.only_if_base) steps_[i].value -= entry.delta;
  // Undoing strictly last first, the breakpoints this entry made are still where it made them.
  if (entry.inserted_to) steps_.erase(steps_.begin() + static_cast<std::ptrdiff_t>(i));
  if (entry.inserted_from) steps_.erase(steps_.begin() + static_cast<std::ptrdiff_t>(first));
}

void UndoLog::rollback(Mark mark) {
  assert(mark <= entries_.size());
  while (entries_.size() > mark) {
    entries_.back().steps->undo(entries_.back());
    entries_.pop_back();
  }
}

Amount StepFunction::lowest(Time from, Time to) const {
  std::size_t i = index(from);
  Amount least = steps_[i].value;
  for (++i; i < steps_.size() && steps_[i].from < to; ++i) least = std::min(least, steps_[i].value);
  return least;
}

Time StepFunction::earliest_during(Time from, Time duration, Amount amount, Time latest) const {
  if (from > latest) return kNever;
  if (duration <= 0) return from;
  std::size_t i = index(from);
  Time start = from;
  while (true) {
    while (steps_[i].value < amount) {
      if (++i == steps_.size()) return kNever;
      start = steps_[i].from;
      if (start > latest) return kNever;
    }
    std::size_t j = i + 1;
    while (j < steps_.size() && steps_[j].from < start + duration && steps_[j].value >= amount) ++j;
    if (j == steps_.size() || steps_[j].from >= start + duration) return start;
    i = j;  // too little here: the next chance is after this step
  }
}

Time StepFunction::earliest_from_on(Time from, Amount amount, Time latest) const {
  std::size_t i = steps_.size();
  while (i > 0 && steps_[i - 1].value >= amount) --i;
  if (i == steps_.size()) return kNever;
  const Time start = std::max(from, steps_[i].from);
  return start <= latest ? start : kNever;
}

}  // namespace stillroom::scheduling
