#include "planning/detail/bound_flows.h"
#include "planning/detail/bound_spread.h"
#include "planning/detail/words.h"

namespace stillroom::planning::detail {

/// Minutes of a person on a day, weighted as in the day's length.
int FlowProgram::minutes_column(int person, int day, double most, bool of_batches) {
  const int column = lp_.column(most);
  days_[static_cast<std::size_t>(person) * static_cast<std::size_t>(project_.days) + static_cast<std::size_t>(day)]
      .push_back({column, 1.0 / 60, of_batches});
  return column;
}

void FlowProgram::close_people() {
  const int people = static_cast<int>(project_.h.hands.size());
  for (const auto& [kind, uses] : work_) {
    std::vector<int> rows;
    for (int day = 0; day < project_.days; ++day) {
      rows.push_back(lp_.row(0, LinearProgram::kFree));
      std::vector<int> mine;
      for (int p = 0; p < people; ++p) {
        const double most = (kind.people >> p & 1U) != 0 ? free_.minutes(p, kind.window, day) : 0;
        if (most <= 0) continue;
        mine.push_back(minutes_column(p, day, most, true));
        lp_.add(rows.back(), mine.back(), kind.nearby ? 1 : project_.h.hands[static_cast<std::size_t>(p)].usable_share);
      }
      if (kind.hands < 2) continue;
      for (const int one : mine) {  // nobody does more than their share of a team's minutes
        const int row = lp_.row(-LinearProgram::kFree, 0);
        for (const int each : mine) lp_.add(row, each, (each == one ? 1.0 : 0.0) - 1.0 / kind.hands);
      }
    }
    const auto& whole = whole_work_[kind];
    const int in_all = whole.empty() ? -1 : lp_.row(0, LinearProgram::kFree);
    for (const auto& [column, work] : whole) lp_.add(in_all, column, -work);
    for (const DayUse& use : uses)
      if (in_all >= 0) lp_.add(in_all, use.column, -use.rate);
    spread_uses(lp_, uses, project_.days - 1, people * static_cast<double>(kDayMinutes), [&](int day, int column) {
      lp_.add(rows[static_cast<std::size_t>(day)], column, -1);
      if (in_all >= 0) lp_.add(in_all, column, 1);
    });
  }
  close_other_work();
  close_days();
}

void FlowProgram::close_other_work() {
  const int people = static_cast<int>(project_.h.hands.size());
  for (const OtherSpec& job : project_.other) {
    const OtherJob& other = *job.source;
    const double undone =
        other.importance * (std::max(0, project_.horizon - job.due) / static_cast<double>(kDayMinutes) + kUndoneDays);
    lp_.constant(Term::lateness, undone);
    const std::uint32_t mask = free_.of_age(other.least_age);
    const Windows& times = free_.any_of(mask, job.stage.window);
    const double work = static_cast<double>(other.minutes) * job.stage.hands;
    const int once = lp_.row(-LinearProgram::kFree, 1);
    std::vector<int> finished, rows;
    for (int day = 0; day < project_.days; ++day) {
      finished.push_back(-1);
      rows.push_back(lp_.row(0, LinearProgram::kFree));
      const Time from = std::max(job.from, day * kDayMinutes), to = (day + 1) * kDayMinutes;
      if (overlap(times, from, to) <= 0) continue;
      Time first = to;
      for (const auto& w : times)
        if (w.to > from) first = std::min(first, std::max(w.from, from));
      const double late = other.importance * std::max(0, first + kGrain - job.due) / static_cast<double>(kDayMinutes);
      finished.back() = lp_.column(1);
      lp_.price(finished.back(), Term::lateness, late - undone);
      lp_.add(once, finished.back(), 1);
      std::vector<int> mine;
      for (int p = 0; p < people; ++p) {
        if ((mask >> p & 1U) == 0) continue;
        const double most = overlap(free_.any_of(1U << p, job.stage.window), from, to);
        if (most <= 0) continue;
        const int column = minutes_column(p, day, most, false);
        mine.push_back(column);
        lp_.add(rows.back(), column, project_.h.hands[static_cast<std::size_t>(p)].usable_share);
      }
      if (job.stage.hands < 2) continue;
      for (const int one : mine) {
        const int row = lp_.row(-LinearProgram::kFree, 0);
        for (const int each : mine) lp_.add(row, each, (each == one ? 1.0 : 0.0) - 1.0 / job.stage.hands);
      }
    }
    // What is finished by a day has been worked by then.
    std::vector<int> done;
    for (int day = 0; day < project_.days; ++day) {
      done.push_back(lp_.column(work));
      lp_.add(rows[static_cast<std::size_t>(day)], done.back(), -1);
      if (finished[static_cast<std::size_t>(day)] < 0) continue;
      const int row = lp_.row(0, LinearProgram::kFree);
      for (int d = 0; d <= day; ++d) {
        lp_.add(row, done[static_cast<std::size_t>(d)], 1);
        if (finished[static_cast<std::size_t>(d)] >= 0) lp_.add(row, finished[static_cast<std::size_t>(d)], -work);
      }
    }
  }
}

/// The day's length: how long it may be, and what it costs.
void FlowProgram::close_days() {
  const double per_hour = project_.h.effort_per_hour;
  for (std::size_t p = 0; p < project_.h.hands.size(); ++p) {
    const Hand& hand = project_.h.hands[p];
    for (int day = 0; day < project_.days; ++day) {
      const auto& mine = days_[p * static_cast<std::size_t>(project_.days) + static_cast<std::size_t>(day)];
      double committed = 0;
      for (const Committed& c : project_.h.committed)
        if (std::find(c.hands.begin(), c.hands.end(), hand.key) != c.hands.end())
          committed += overlap({{c.span.from, c.span.to}}, day * kDayMinutes, (day + 1) * kDayMinutes);
      const double free = free_.minutes(static_cast<int>(p), -1, day);
      const double most = std::max(0.0, std::min(free, hand.most_minutes_per_day - committed));
      const int row = lp_.row(-LinearProgram::kFree, most, hand.name + " on day " + std::to_string(day + 1));
      for (const Minutes& m : mine) {
        lp_.add(row, m.column, 1);
        if (m.of_batches) lp_.price(m.column, Term::effort, per_hour * m.hours);
      }
      // Tangents of the long day's square.
      const double longest = (most + committed) / 60 - kLongDayHours;
      if (longest <= 0) continue;
      const int beyond = lp_.column(longest * longest / kLongDayScale + 1);
      lp_.price(beyond, Term::effort, per_hour);
      for (double t = 0.25; t < longest + 0.5; t += 0.5) {
        // beyond >= (2 t (a - 4) - t^2) / 8 with a the hours of the day
        const double slope = 2 * t / kLongDayScale;
        const int tangent =
            lp_.row(slope * (committed / 60 - kLongDayHours) - t * t / kLongDayScale, LinearProgram::kFree);
        lp_.add(tangent, beyond, 1);
        for (const Minutes& m : mine) lp_.add(tangent, m.column, -slope * m.hours);
      }
    }
  }
}

}  // namespace stillroom::planning::detail
