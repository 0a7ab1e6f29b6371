#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "planning/check/calendar.h"
#include "planning/check/facts.h"

// Sections 1, 5, 6 and 8 of docs/science/planning_model.md: when and by whom.
namespace stillroom::planning::check {
namespace {

constexpr Minute kMostPause = 960;

/// One thing somebody does: what check_people adds up.
struct Work {
  std::string what;
  std::string hand;
  Spans minutes;      ///< working minutes only
  double weight = 1;  ///< 1, or the nearby share
  bool nearby = false;
};

/// The demands of one placed stage, from the route (or the picking of a lot).
struct Demand {
  almanac::Attention attention = almanac::Attention::hands_on;
  double nearby_share = 0.35;
  double minutes = 0;
  int hands = 1, least_age = 0;
  std::string skill;
  bool can_pause = false;
  almanac::WeatherWindow weather;
};

class StageCheck {
 public:
  explicit StageCheck(Facts& f) : f_(f) {}

  void run() {
    for (const BatchFacts& b : f_.batches) check_batch(b);
    for (const Plan::OtherPlaced& o : f_.plan.other) check_other(o);
    for (const Plan::Trip& t : f_.plan.trips) check_trip(t);
    check_people();
    check_one_job_day();
  }

 private:
  void fault(std::string what) { f_.fault(std::move(what)); }

  void check_batch(const BatchFacts& b) {
    const auto& own = b.route->stages;
    if (b.placed_own > own.size()) {
      fault(named(b) + ": more stages than the route has");
      return;
    }
    std::size_t standing = 0;
    Minute picked = 0;
    for (const PartFacts& p : b.parts) {
      if (p.lot->pick_by == 0 || p.source != Source::lot) continue;
      const PlacedStage& s = b.batch->stages[standing++];
      check_pick(b, p, s);
      picked = std::max(picked, s.span.to);
    }
    for (std::size_t i = 0; i < b.placed_own; ++i) {
      const PlacedStage& s = b.batch->stages[b.picks + i];
      if (s.stage != own[i].key || s.route != b.batch->route)
        fault(named(b) + ": stage " + s.stage + " where " + own[i].key + " is due");
      check_stage(named(b) + ", " + s.stage, s, demand_of(own[i], b));
      if (i == 0 && s.span.from < picked) fault(named(b) + ": begins before all is picked");
      if (i > 0) check_lag(b, i);
    }
    check_left_out(b);
  }

  static Demand demand_of(const almanac::Stage& s, const BatchFacts& b) {
    return {.attention = s.attention,
            .nearby_share = s.nearby_share,
            .minutes = std::max(0.0, s.duration_min.at(b.batch->kg_in, b.batch->loads)),
            .hands = std::max(1, s.hands),
            .least_age = s.least_age,
            .skill = s.skill,
            .can_pause = s.can_pause,
            .weather = s.weather};
  }

  void check_pick(const BatchFacts& b, const PartFacts& p, const PlacedStage& s) {
    if (s.stage != "pick") fault(named(b) + ": the picking of " + p.lot->id + " is missing");
    Demand d{.minutes = p.lot->pick_min_per_kg * p.kg, .least_age = 8, .can_pause = true};
    d.weather.daylight = true;
    check_stage(named(b) + ", pick " + p.lot->id, s, d);
    if (s.span.from < f_.available_from(*p.lot)) fault(named(b) + ": picks " + p.lot->id + " before it may be picked");
    if (s.span.to > p.lot->pick_by) fault(named(b) + ": picks " + p.lot->id + " too late");
  }

  void check_stage(const std::string& what, const PlacedStage& s, const Demand& d) {
    const Span span = s.span;
    if (span.from % kPiece != 0 || span.to % kPiece != 0 || span.to <= span.from)
      fault(what + ": is off the five-minute grain");
    if (span.from < f_.h.now) fault(what + ": starts in the past");
    if (s.attention != d.attention) fault(what + ": another attention than the route asks");
    if (d.attention == almanac::Attention::unattended) {
      if (!s.hands.empty()) fault(what + ": has hands though it runs by itself");
    } else {
      if (span.to > f_.horizon) fault(what + ": ends beyond the horizon");
      check_hands(what, s.hands, d);
    }
    double need = d.minutes;
    if (d.attention == almanac::Attention::hands_on) need = d.minutes / least_usable(s.hands);
    const std::optional<Spans> calendar = working_calendar(f_, s.hands, d.weather, span);
    const Spans minutes = calendar ? merged(both(*calendar, {span})) : Spans{span};
    if (d.can_pause && calendar) {
      const Minute pause = (span.to - span.from) - length(minutes);
      if (pause > kMostPause) fault(what + ": is put down for too long");
      if (minutes.empty() || minutes.front().from != span.from || minutes.back().to != span.to)
        fault(what + ": begins or ends in a pause");
    } else if (calendar && !whole_inside(merged(*calendar), span)) {
      fault(what + ": lies outside the hours or the weather it needs");
    }
    check_length(what, length(minutes), need);
    for (const std::string& key : s.hands) {
      const bool nearby = d.attention == almanac::Attention::nearby;
      work_.push_back({what, key, minutes, nearby ? d.nearby_share : 1.0, nearby});
    }
  }

  void check_length(const std::string& what, Minute got, double need) {
    const double wanted = std::max(need, 0.0);
    const bool enough = got >= wanted - kEps && got >= kPiece;
    const bool tight = got < std::max(wanted, kEps) + kPiece + kEps;
    if (!enough || !tight) fault(fmt::format("{}: lasts {} minutes where {:.3f} are needed", what, got, wanted));
  }

  double least_usable(const std::vector<std::string>& hands) const {
    double least = 1;
    for (const std::string& key : hands) {
      if (const Hand* hand = f_.hand(key)) least = std::min(least, hand->usable_share);
    }
    return least;
  }

  void check_hands(const std::string& what, const std::vector<std::string>& hands, const Demand& d) {
    if (static_cast<int>(hands.size()) != d.hands)
      fault(fmt::format("{}: {} hands where {} are needed", what, hands.size(), d.hands));
    if (std::set<std::string>(hands.begin(), hands.end()).size() != hands.size())
      fault(what + ": the same person twice");
    bool skilled = d.skill.empty();
    for (const std::string& key : hands) {
      const Hand* hand = f_.hand(key);
      if (hand == nullptr) {
        fault(what + ": nobody is called " + key);
        continue;
      }
      if (hand->age < d.least_age) fault(fmt::format("{}: {} is younger than {}", what, key, d.least_age));
      skilled = skilled || std::find(hand->skills.begin(), hand->skills.end(), d.skill) != hand->skills.end();
    }
    if (!skilled) fault(what + ": nobody there has the skill " + d.skill);
  }

  void check_lag(const BatchFacts& b, std::size_t i) {
    const almanac::Stage& before = b.route->stages[i - 1];
    const almanac::Stage& stage = b.route->stages[i];
    const PlacedStage& prior = b.batch->stages[b.picks + i - 1];
    const PlacedStage& s = b.batch->stages[b.picks + i];
    const double gap = s.span.from - prior.span.to;
    if (gap < stage.lag_min_min - kEps)
      fault(fmt::format("{}: {} begins {} minutes after {}, {} are needed", named(b), s.stage, gap, prior.stage,
                        stage.lag_min_min));
    if (stage.lag_max_min && gap > *stage.lag_max_min + kEps)
      fault(fmt::format("{}: {} begins {} minutes after {}, at most {} may pass", named(b), s.stage, gap, prior.stage,
                        *stage.lag_max_min));
    if (before.hazard.empty()) return;
    const keeping::HazardClock* clock = keeping::hazard_clock(before.hazard);
    if (clock == nullptr) {
      fault(named(b) + ": nobody knows the hazard clock " + before.hazard);
      return;
    }
    const auto chilled = [](const almanac::Stage& x) {
      return std::any_of(x.equipment.begin(), x.equipment.end(), [](const auto& e) { return e.key == "chill_l"; }) ||
             std::any_of(x.room.begin(), x.room.end(), [](const auto& r) { return r.room == "chill_l"; });
    };
    double most = chilled(before) || chilled(stage) ? clock->fridge_days * 1440 : clock->room_hours * 60;
    most = std::max(most, stage.lag_min_min);
    if (gap > most + kEps)
      fault(fmt::format("{}: {} waits {} minutes on the {} clock of {}", named(b), s.stage, gap, before.hazard, most));
  }

  void check_left_out(const BatchFacts& b) {
    const auto& own = b.route->stages;
    for (std::size_t i = 1; i < own.size(); ++i) {
      if (i > b.placed_own) break;
      const Minute end = b.batch->stages[b.picks + i - 1].span.to;
      const bool beyond = end + own[i].lag_min_min >= f_.horizon;
      if (i < b.placed_own && beyond)
        fault(named(b) + ": " + own[i].key + " is placed though it lies beyond the horizon");
      if (i == b.placed_own && !beyond) fault(named(b) + ": " + own[i].key + " is missing");
    }
  }

  void check_other(const Plan::OtherPlaced& o) {
    const auto job =
        std::find_if(f_.h.other.begin(), f_.h.other.end(), [&](const OtherJob& j) { return j.key == o.key; });
    const std::string what = "other work " + o.key;
    if (job == f_.h.other.end()) {
      fault(what + " is not known");
      return;
    }
    if (std::count_if(f_.plan.other.begin(), f_.plan.other.end(), [&](const auto& x) { return x.key == o.key; }) > 1)
      fault(what + " is placed twice");
    check_hands(what, o.hands, {.hands = std::max(1, job->hands), .least_age = job->least_age});
    const double need = job->minutes / least_usable(o.hands);
    Spans calendar;
    bool first = true;
    for (const std::string& key : o.hands) {
      if (const Hand* hand = f_.hand(key))
        calendar = first ? calendar_of(f_, *hand) : both(calendar, calendar_of(f_, *hand));
      first = false;
    }
    calendar = merged(calendar);
    const Spans windows = inward(merged(job->weather_windows));
    Minute last = std::max(f_.h.now, job->not_before);
    for (const Span& s : o.spans) {
      if (s.from < last) fault(what + ": a span too early or out of order");
      last = s.to;
      if (s.from % kPiece != 0 || s.to % kPiece != 0 || s.to > f_.horizon)
        fault(what + ": a span off the grain or beyond the horizon");
      if (!whole_inside(calendar, s)) fault(what + ": a span outside the hours of its people");
      if (!job->weather_windows.empty() && !whole_inside(windows, s)) fault(what + ": a span outside its weather");
      const double least = std::min(30.0, need);
      if (job->can_split && s.to - s.from < least - kEps) fault(what + ": a span too short to be worth it");
    }
    if (!job->can_split && o.spans.size() != 1) fault(what + ": may not be split");
    check_length(what, length(o.spans), need);
    for (const std::string& key : o.hands) work_.push_back({what, key, o.spans, 1.0, false});
  }

  void check_trip(const Plan::Trip& t) {
    const std::string what = fmt::format("the shopping trip at {}", t.span.from);
    if (!f_.h.shopping) {
      fault(what + ": nobody goes shopping");
      return;
    }
    const Hand* hand = f_.hand(t.hand);
    if (hand == nullptr) {
      fault(what + ": nobody is called " + t.hand);
      return;
    }
    if (hand->age < f_.h.shopping->least_age) fault(what + ": too young");
    if (t.span.from < f_.h.now || t.span.to > f_.horizon) fault(what + ": outside the horizon");
    check_length(what, t.span.to - t.span.from, f_.h.shopping->minutes);
    if (!whole_inside(calendar_of(f_, *hand), t.span)) fault(what + ": outside their hours");
    const Spans open = inward(merged(f_.h.shopping->open));
    if (!open.empty() && !whole_inside(open, t.span)) fault(what + ": the shops are closed");
    work_.push_back({what, t.hand, {t.span}, 1.0, false});
  }

  void check_people() {
    for (const Hand& hand : f_.h.hands) {
      std::vector<const Work*> mine;
      for (const Work& w : work_) {
        if (w.hand == hand.key) mine.push_back(&w);
      }
      std::set<Minute> pieces;
      for (const Work* w : mine) {
        for (const Span& s : w->minutes) {
          for (Minute m = s.from; m < s.to; m += kPiece) pieces.insert(m);
        }
      }
      for (const Minute m : pieces) {
        int whole = 0;
        double nearby = 0;
        for (const Work* w : mine) {
          const bool now =
              std::any_of(w->minutes.begin(), w->minutes.end(), [&](const Span& s) { return s.from <= m && m < s.to; });
          if (!now) continue;
          whole += w->nearby ? 0 : 1;
          nearby += w->nearby ? w->weight : 0;
        }
        if (whole > 1 || (whole == 1 && nearby > 0) || nearby > 1 + kEps) {
          fault(fmt::format("{} has more than one person's work at minute {}", hand.key, m));
          break;
        }
      }
      check_day_length(hand, mine);
    }
  }

  void check_day_length(const Hand& hand, const std::vector<const Work*>& mine) {
    for (int day = 0; day < f_.h.days; ++day) {
      const Span whole_day{day * kDay, (day + 1) * kDay};
      double planned = 0, committed = 0;
      for (const Work* w : mine) planned += length(both(w->minutes, {whole_day})) * w->weight;
      for (const Committed& c : f_.h.committed) {
        if (std::find(c.hands.begin(), c.hands.end(), hand.key) == c.hands.end()) continue;
        committed += length(both({c.span}, {whole_day}));
      }
      const bool too_long = planned + committed > hand.most_minutes_per_day + kEps;
      if (planned > kEps && too_long)
        fault(fmt::format("{} works {:.0f} minutes on day {}, {} are the most", hand.key, planned + committed, day,
                          hand.most_minutes_per_day));
    }
  }

  void check_one_job_day() {
    if (!f_.h.one_job_day) return;
    const Span day{*f_.h.one_job_day, *f_.h.one_job_day + kDay};
    const auto touches = [&](const Span& s) { return s.from < day.to && s.to > day.from; };
    int jobs = 0;
    for (const BatchFacts& b : f_.batches) {
      bool touched = false;
      for (std::size_t i = 0; i < b.batch->stages.size(); ++i) {
        const PlacedStage& s = b.batch->stages[i];
        if (s.attention == almanac::Attention::unattended || !touches(s.span)) continue;
        touched = touched || working_minutes(b, i) > 15;
      }
      jobs += touched ? 1 : 0;
    }
    for (const Plan::OtherPlaced& o : f_.plan.other)
      jobs += std::any_of(o.spans.begin(), o.spans.end(), touches) ? 1 : 0;
    if (jobs > 1) fault(fmt::format("{} jobs on the day meant for one", jobs));
  }

  static double working_minutes(const BatchFacts& b, std::size_t placed) {
    if (placed >= b.picks) return b.route->stages[placed - b.picks].duration_min.at(b.batch->kg_in, b.batch->loads);
    std::size_t pick = 0;
    for (const PartFacts& p : b.parts) {
      if (p.lot->pick_by == 0 || p.source != Source::lot) continue;
      if (pick++ == placed) return p.lot->pick_min_per_kg * p.kg;
    }
    return 0;
  }

  Facts& f_;
  std::vector<Work> work_;
};

}  // namespace

void check_stages(Facts& f) { StageCheck(f).run(); }

}  // namespace stillroom::planning::check
