#include "scheduling/profile.h"

#include <cassert>

namespace stillroom::scheduling {

Profile::Profile(const Calendar& calendar) : calendar_(&calendar), free_(0) {
  const auto& steps = calendar.steps();
  for (std::size_t i = 1; i < steps.size(); ++i) free_.append(steps[i].from, steps[i].capacity);
}

Placement Profile::earliest_pausable_fit(Time from, Time work, Amount amount, Time latest) const {
  assert(work > 0 && amount > 0);
  const auto& steps = free_.steps();
  while (true) {
    const auto [start, finish] = calendar_->working_window(from, work, amount);
    if (finish == kNever || start > latest) return {};
    // The last step inside [start, finish) where the break is not to blame: no start before its end can work.
    std::size_t i = free_.index(start);
    std::size_t clash = steps.size();
    for (; i < steps.size() && steps[i].from < finish; ++i)
      if (steps[i].base >= amount && steps[i].value < amount) clash = i;
    if (clash == steps.size()) return {start, finish};
    if (clash + 1 == steps.size()) return {};
    from = steps[clash + 1].from;
  }
}

Time earliest_joint_fit(std::span<const Need> needs, Time from, Time latest) {
  Time start = from;
  // Each need moves the start only forwards, so the first start that satisfies them all in a row is the earliest.
  for (std::size_t agreed = 0, i = 0; agreed < needs.size(); i = (i + 1) % needs.size()) {
    const Need& n = needs[i];
    const Time last = latest > kNever - 1 - n.offset ? kNever - 1 : latest + n.offset;
    const Time fit = n.profile->earliest_fit(start + n.offset, n.duration, n.amount, last);
    if (fit == kNever) return kNever;
    agreed = fit == start + n.offset ? agreed + 1 : 1;
    start = fit - n.offset;
  }
  return start <= latest ? start : kNever;
}

Placement earliest_joint_pausable_fit(const Profile& lead, Amount amount, Time work, std::span<const Need> throughout,
                                      Time from, Time latest) {
  Time start = from;
  while (true) {
    const Placement p = lead.earliest_pausable_fit(start, work, amount, latest);
    if (!p.fits()) return p;
    start = p.start;
    for (const Need& n : throughout) {
      const Time fit = n.profile->earliest_fit(start, p.finish - p.start, n.amount, latest);
      if (fit == kNever) return {};
      if (fit != start) {
        start = fit;
        break;
      }
    }
    if (start == p.start) return p;
  }
}

}  // namespace stillroom::scheduling
