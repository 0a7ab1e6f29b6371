#include "planning/detail/clash_work.h"

#include <fmt/format.h>

#include "measure/text.h"
#include "planning/detail/rules.h"
#include "planning/detail/windows.h"
#include "planning/detail/words.h"

namespace stillroom::planning::detail {
namespace {

constexpr Minute kHelperFrom = 8 * 60, kHelperTo = 20 * 60;  // when one more person is thought to be there
constexpr double kHelperUsable = 0.75;
constexpr int kHelperAge = 30;

struct Person {
  std::string name;
  int age = 0, most = 0;
  double usable = 1;
  Windows free;
};

std::vector<Person> people_of(const Household& h) {
  std::vector<Person> out;
  for (const Hand& hand : h.hands)
    out.push_back({hand.name.empty() ? hand.key : hand.name, hand.age, hand.most_minutes_per_day, hand.usable_share,
                   free_windows(h, hand)});
  return out;
}

Person one_more(const Household& h) {
  std::vector<Span> free;
  for (int d = 0; d < h.days; ++d) free.push_back({d * kDayMinutes + kHelperFrom, d * kDayMinutes + kHelperTo});
  return {"one more", kHelperAge, kHelperTo - kHelperFrom, kHelperUsable, clipped(h, free)};
}

/// What a job asks for, so that it can be asked for differently.
struct Wish {
  const OtherJob* job = nullptr;
  Minute from = 0, until = 0;
  bool split = false, weather = true;
};

Wish wish_of(const Household& h, const OtherJob& job) {
  return {&job, std::max(h.now, job.not_before), job.deadline == 0 ? h.days * kDayMinutes : job.deadline, job.can_split,
          true};
}

/// Minutes of the windows that a job could use, at most `most` a day; unbroken: the longest stretch.
Minute usable_minutes(const Windows& open, bool split, Minute need, int most) {
  if (!split) {
    Minute longest = 0;
    for (const auto& w : open) longest = std::max(longest, w.to - w.from);
    return std::min(longest, static_cast<Minute>(most));
  }
  Minute sum = 0, today = 0;
  int day = -1;
  for (const auto& w : open)
    for (Minute from = w.from; from < w.to;) {
      const Minute to = std::min(w.to, (day_of(from) + 1) * kDayMinutes);
      if (day_of(from) != day) today = 0;
      day = day_of(from);
      const Minute more = w.to - w.from < std::min<Minute>(kSplitLeast, need) ? 0 : std::min(to - from, most - today);
      today += std::max(0, more);
      sum += std::max(0, more);
      from = to;
    }
  return sum;
}

/// Whether some team of those old enough could do it if nothing else were to be done.
class Teams {
 public:
  Teams(const Household& h, const std::vector<Person>& people, const Wish& wish)
      : people_(people), wish_(wish), hands_(std::max(1, wish.job->hands)) {
    std::vector<Span> when{{wish.from, wish.until}};
    open_ = clipped(h, when);
    if (wish.weather && !wish.job->weather_windows.empty())
      open_ = intersection(open_, clipped(h, wish.job->weather_windows));
  }
  [[nodiscard]] bool fits() const { return try_from(0, 0, open_, 1, kDayMinutes); }
  /// People old enough with some time in the window.
  [[nodiscard]] std::vector<std::string> there() const {
    std::vector<std::string> names;
    for (const Person& p : people_) {
      if (p.age < wish_.job->least_age) continue;
      const Windows w = intersection(open_, p.free);
      if (std::any_of(w.begin(), w.end(), [](const auto& s) { return s.to - s.from >= kSplitLeast; }))
        names.push_back(p.name);
    }
    return names;
  }

 private:
  [[nodiscard]] bool try_from(std::size_t p, int chosen, const Windows& common, double usable, int most) const {
    if (chosen == hands_) {
      const Minute need = grain_length(wish_.job->minutes / usable);
      return usable_minutes(common, wish_.split, need, most) >= need;
    }
    for (; p < people_.size(); ++p) {
      const Person& person = people_[p];
      if (person.age < wish_.job->least_age) continue;
      if (try_from(p + 1, chosen + 1, intersection(common, person.free), std::min(usable, person.usable),
                   std::min(most, person.most)))
        return true;
    }
    return false;
  }
  const std::vector<Person>& people_;
  const Wish& wish_;
  int hands_;
  Windows open_;
};

bool fits(const Household& h, const std::vector<Person>& people, const Wish& wish) {
  return Teams(h, people, wish).fits();
}

std::string count_of_people(int n) {
  static constexpr const char* kWords[] = {"no", "one", "two", "three", "four", "five", "six"};
  return fmt::format("{} {}", n <= 6 ? kWords[n] : std::to_string(n), n == 1 ? "person" : "people");
}

std::string hours_of(double minutes) {
  return minutes < 60 ? fmt::format("{:.0f} min", minutes) : measure::say_number(std::round(minutes / 6) / 10) + " h";
}

/// "by Friday"; nothing for a job without a deadline.
std::string by_when(const Household& h, Minute deadline) {
  if (deadline == 0) return fmt::format("in these {} days", h.days);
  return "by " + day_name(h, deadline - 1);
}

std::string why_not(const Household& h, const std::vector<Person>& people, const Wish& wish) {
  const OtherJob& job = *wish.job;
  std::vector<std::string> old_enough;
  for (const Person& p : people)
    if (p.age >= job.least_age) old_enough.push_back(p.name);
  const std::string age = job.least_age > 0 ? fmt::format(" of {} or older", job.least_age) : "";
  if (static_cast<int>(old_enough.size()) < std::max(1, job.hands))
    return old_enough.empty() ? "nobody here is" + (age.empty() ? std::string(" there to do it") : age)
                              : fmt::format("only {} {}", measure::say_list(old_enough),
                                            age.empty() ? "is there" : (old_enough.size() == 1 ? "is" : "are"));
  Wish dry = wish;
  dry.weather = false;
  if (!job.weather_windows.empty() && fits(h, people, dry)) return "the weather leaves too little time for it";
  const std::vector<std::string> there = Teams(h, people, wish).there();
  if (there.empty()) return "nobody who could has time then";
  if (static_cast<int>(there.size()) < job.hands)
    return fmt::format("only {} {} free then", measure::say_list(there), there.size() == 1 ? "is" : "are");
  Wish pieces = wish;
  pieces.split = true;
  if (!wish.split && fits(h, people, pieces)) return "there is no stretch so long";
  return job.hands > 1 ? "they are never free together for so long" : "there are not so many free hours";
}

std::string ways_out(const Household& h, const std::vector<Person>& people, const Wish& wish) {
  std::vector<std::string> ways;
  std::vector<Person> more = people;
  more.push_back(one_more(h));
  if (wish.job->least_age <= kHelperAge && fits(h, more, wish)) ways.emplace_back("ask one more person");
  Wish pieces = wish;
  pieces.split = true;
  if (!wish.split && fits(h, people, pieces)) ways.emplace_back("do it in pieces");
  Wish later = wish;
  for (int d = day_of(std::max(0, wish.until - 1)) + 1; d < h.days; ++d) {
    later.until = (d + 1) * kDayMinutes;
    if (!fits(h, people, later)) continue;
    ways.push_back("move its deadline to " + day_name(h, d * kDayMinutes));
    break;
  }
  if (ways.empty()) return "Put it off beyond these days, or ask more people.";
  std::string out = capital(ways.front());
  for (std::size_t i = 1; i < ways.size(); ++i) out += (i + 1 == ways.size() ? ", or " : ", ") + ways[i];
  return out + ".";
}

/// Minutes a job takes of the people who do it, at the pace of the quickest.
double asked(const OtherJob& job) { return static_cast<double>(std::max(1, job.hands)) * job.minutes; }

/// Usable minutes of everyone of that age in [from, until).
double there(const std::vector<Person>& people, int age, Minute from, Minute until) {
  double sum = 0;
  for (const Person& p : people) {
    if (p.age < age) continue;
    const Windows in = intersection(p.free, Windows{{from, until}});
    sum += p.usable * usable_minutes(in, true, 1, p.most);
  }
  return sum;
}

}  // namespace

void find_work_clashes(const Household& h, std::vector<Clash>& out) {
  const std::vector<Person> people = people_of(h);
  for (const OtherJob& job : h.other) {
    const Wish wish = wish_of(h, job);
    if (wish.until <= h.now || fits(h, people, wish)) continue;
    Clash clash{.kind = Clash::Kind::work, .about = {job.key}, .what = {}, .way_out = ways_out(h, people, wish)};
    const std::string who = count_of_people(std::max(1, job.hands)) +
                            (job.least_age > 0 ? fmt::format(" of {} or older", job.least_age) : "");
    clash.what = fmt::format("{} needs {} for {} {}; {}.", capital(job.name), who, hours_of(job.minutes),
                             by_when(h, job.deadline), why_not(h, people, wish));
    out.push_back(std::move(clash));
  }
}

void find_hour_clashes(const Household& h, std::vector<Clash>& out) {
  const std::vector<Person> people = people_of(h);
  std::vector<const OtherJob*> jobs;
  for (const OtherJob& job : h.other) {
    const bool told = std::any_of(out.begin(), out.end(), [&](const Clash& c) { return c.about.front() == job.key; });
    if (job.deadline > h.now && !told) jobs.push_back(&job);
  }
  const auto too_much = [&](const std::vector<const OtherJob*>& set, Minute from, Minute until) {
    double sum = 0;
    int age = 200;
    for (const OtherJob* job : set) {
      sum += asked(*job);
      age = std::min(age, job->least_age);
    }
    return set.empty() ? 0.0 : sum - there(people, age, from, until);
  };
  std::vector<Minute> starts{h.now}, ends;
  for (const OtherJob* job : jobs) {
    starts.push_back(std::max(h.now, job->not_before));
    ends.push_back(job->deadline);
  }
  std::sort(starts.begin(), starts.end());
  starts.erase(std::unique(starts.begin(), starts.end()), starts.end());
  std::sort(ends.begin(), ends.end());
  for (const Minute until : ends)
    for (const Minute from : starts) {
      std::vector<const OtherJob*> set;
      for (const OtherJob* job : jobs)
        if (std::max(h.now, job->not_before) >= from && job->deadline <= until) set.push_back(job);
      if (set.size() < 2 || too_much(set, from, until) <= 1e-6) continue;
      // The smallest set: what can be left out without ending the clash goes, the least important first.
      std::stable_sort(set.begin(), set.end(), [](auto* a, auto* b) { return a->importance < b->importance; });
      for (std::size_t i = 0; i < set.size() && set.size() > 1;) {
        std::vector<const OtherJob*> fewer = set;
        fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
        if (too_much(fewer, from, until) > 1e-6)
          set = std::move(fewer);
        else
          ++i;
      }
      Clash clash{.kind = Clash::Kind::hours, .about = {}, .what = {}, .way_out = {}};
      std::vector<std::string> names;
      double sum = 0;
      int age = 200;
      for (const OtherJob* job : set) {
        clash.about.push_back(job->key);
        names.push_back(job->name);
        sum += asked(*job);
        age = std::min(age, job->least_age);
      }
      clash.what =
          fmt::format("{} need {} of work between them {}; only {} can be had.", capital(measure::say_list(names)),
                      hours_of(sum), by_when(h, until), hours_of(there(people, age, from, until)));
      const OtherJob* least = set.front();
      clash.way_out = fmt::format("Move the deadline of {}, or ask for {} more help.", least->name,
                                  hours_of(too_much(set, from, until)));
      out.push_back(std::move(clash));
      // One telling is enough: what was named is not counted again.
      std::erase_if(jobs, [&](const OtherJob* job) { return std::find(set.begin(), set.end(), job) != set.end(); });
    }
}

}  // namespace stillroom::planning::detail
