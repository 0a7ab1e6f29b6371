#include "planning/detail/project.h"

#include <numeric>

namespace stillroom::planning::detail {
namespace {

template <class List>
int index_of_key(const List& list, const std::string& key) {
  for (std::size_t i = 0; i < list.size(); ++i)
    if (list[i].key == key) return static_cast<int>(i);
  return -1;
}

bool knows(const Hand& hand, const std::string& skill) {
  return skill.empty() || std::find(hand.skills.begin(), hand.skills.end(), skill) != hand.skills.end();
}

double room_per_kg(const std::string& room) { return room.ends_with("_l") ? kLitresPerKg : 1; }

}  // namespace

Project::Project(const Household& household)
    : h(household), now(grain_up(household.now)), horizon(household.days * kDayMinutes), days(household.days) {
  if (h.one_job_day) one_job_day = day_of(*h.one_job_day);
  for (const ProductWorth& w : h.worth) {
    const double full = std::max(0.0, w.need_kg - w.have_kg);
    worth.push_back({w.per_kg, full, std::max(full, 1.5 * w.need_kg - w.have_kg), w.second_share, w.tail_share});
  }
  build_people();
  build_places();
  build_lots();
  build_routes();
  build_options();
  build_other();
  build_near_term();
}

const scheduling::Calendar* Project::keep(const Windows& spans, Amount capacity) {
  calendars_.push_back(calendar_of(spans, capacity));
  return &calendars_.back();
}

int Project::window_for(const almanac::WeatherWindow& asked) {
  if (asks_nothing(asked)) return -1;
  for (std::size_t i = 0; i < window_asked_.size(); ++i)
    if (same_window(window_asked_[i], asked)) return static_cast<int>(i);
  window_asked_.push_back(asked);
  window_windows_.push_back(weather_windows(h, asked));
  windows.push_back(keep(window_windows_.back(), 1));
  return static_cast<int>(windows.size()) - 1;
}

int Project::window_of_spans(const std::vector<Span>& spans) {
  if (spans.empty()) return -1;
  almanac::WeatherWindow unlike;  // never matches what a stage asks for
  unlike.max_wind_kmh = -1.0 - static_cast<double>(windows.size());
  window_asked_.push_back(unlike);
  window_windows_.push_back(clipped(h, spans));
  windows.push_back(keep(window_windows_.back(), 1));
  return static_cast<int>(windows.size()) - 1;
}

const scheduling::Calendar* Project::together(std::uint32_t mask, int window) {
  for (const Together& t : together_)
    if (t.mask == mask && t.window == window) return t.calendar;
  Windows common;
  bool first = true;
  if (window >= 0) {
    common = window_windows_[static_cast<std::size_t>(window)];
    first = false;
  }
  for (std::size_t p = 0; p < hand_free.size(); ++p) {
    if ((mask >> p & 1U) == 0) continue;
    common = first ? hand_free[p] : intersection(common, hand_free[p]);
    first = false;
  }
  together_.push_back({mask, window, keep(common, kWhole)});
  return together_.back().calendar;
}

void Project::build_people() {
  double minutes = 0;
  for (const Hand& hand : h.hands) {
    hand_free.push_back(free_windows(h, hand));
    hand_calendars.push_back(keep(hand_free.back(), kWhole));
    int could = 0;
    for (const almanac::Route& route : h.routes)
      for (const almanac::Stage& stage : route.stages)
        could += stage.least_age <= hand.age && knows(hand, stage.skill) ? 1 : 0;
    rank_.push_back(could);
    if (hand.age < kLeastHelpLaterAge) continue;
    for (const Span& s : hand.free)
      minutes += hand.usable_share * std::max(0, std::min(s.to, horizon) - std::max(s.from, h.now));
  }
  if (horizon > h.now) later_minutes = kLaterDays * minutes / (static_cast<double>(horizon - h.now) / kDayMinutes);
}

void Project::fill_teams(StageSpec& stage, int least_age, const std::string& skill) {
  stage.teams.clear();
  if (!stage.attended()) {
    Team nobody;
    if (stage.can_pause && stage.window >= 0) nobody.together = together(0, stage.window);
    stage.teams.push_back(nobody);
    return;
  }
  std::vector<int> eligible;
  for (std::size_t p = 0; p < h.hands.size(); ++p)
    if (h.hands[p].age >= least_age) eligible.push_back(static_cast<int>(p));
  std::stable_sort(eligible.begin(), eligible.end(), [&](int a, int b) {
    return rank_[static_cast<std::size_t>(a)] < rank_[static_cast<std::size_t>(b)];
  });
  const int n = stage.hands, m = static_cast<int>(eligible.size());
  if (n > kMostTeam || n > m) return;
  // All ways to choose n of m, least able people first.
  std::vector<int> pick(static_cast<std::size_t>(n));
  std::iota(pick.begin(), pick.end(), 0);
  constexpr std::size_t kMostTeams = 40;
  while (stage.teams.size() < kMostTeams) {
    Team team;
    team.size = n;
    bool skilled = false;
    for (int i = 0; i < n; ++i) {
      const int p = eligible[static_cast<std::size_t>(pick[static_cast<std::size_t>(i)])];
      const Hand& hand = h.hands[static_cast<std::size_t>(p)];
      team.mask |= 1U << p;
      team.members[static_cast<std::size_t>(i)] = static_cast<std::int8_t>(p);
      team.usable = std::min(team.usable, hand.usable_share);
      skilled = skilled || knows(hand, skill);
    }
    if (skilled) {
      if (stage.can_pause) team.together = together(team.mask, stage.window);
      stage.teams.push_back(team);
    }
    int i = n - 1;
    while (i >= 0 && pick[static_cast<std::size_t>(i)] == m - n + i) --i;
    if (i < 0) break;
    ++pick[static_cast<std::size_t>(i)];
    for (int j = i + 1; j < n; ++j) pick[static_cast<std::size_t>(j)] = pick[static_cast<std::size_t>(j - 1)] + 1;
  }
}

void Project::build_places() {
  for (const HoldPlace& place : h.places) {
    PlaceSpec spec{.source = &place, .temp_c = place.temp_c};
    for (std::size_t r = 0; r < h.rooms.size(); ++r)
      if (!place.room.empty() && h.rooms[r].room == place.room) spec.room = static_cast<int>(r);
    spec.room_per_kg = room_per_kg(place.room);
    places.push_back(spec);
  }
  places.push_back({});  // where a lot without a place waits
}

void Project::build_other() {
  for (const OtherJob& job : h.other) {
    OtherSpec spec;
    spec.source = &job;
    spec.from = grain_up(std::max(h.now, job.not_before));
    spec.due = job.deadline == 0 ? horizon : job.deadline;
    spec.stage.duration.fixed = job.minutes;
    spec.stage.hands = std::max(1, job.hands);
    spec.stage.can_pause = job.can_split;
    spec.stage.window = window_of_spans(job.weather_windows);
    fill_teams(spec.stage, job.least_age, {});
    other.push_back(std::move(spec));
  }
  if (!h.shopping) return;
  trip.duration.fixed = h.shopping->minutes;
  trip.hands = 1;
  trip.window = window_of_spans(h.shopping->open);
  fill_teams(trip, h.shopping->least_age, {});
  for (Team& team : trip.teams) team.usable = 1;  // by the clock
}

std::uint32_t mask_of(const Household& h, const std::vector<std::string>& hands) {
  std::uint32_t mask = 0;
  for (const std::string& key : hands)
    if (const int p = index_of_key(h.hands, key); p >= 0) mask |= 1U << p;
  return mask;
}

void Project::build_near_term() {
  for (const PlacedBefore& before : h.in_force) {
    if (before.start < h.now || before.start >= h.now + kNearTerm) continue;
    NearTerm near{.lot = -1, .route = index_of_key(h.routes, before.route), .stage = -1, .start = before.start};
    for (std::size_t l = 0; l < h.lots.size(); ++l)
      if (h.lots[l].id == before.lot) near.lot = static_cast<int>(l);
    if (near.route >= 0 && before.stage != "pick") {
      near.stage = index_of_key(h.routes[static_cast<std::size_t>(near.route)].stages, before.stage);
      if (near.stage < 0) near.route = -1;
    }
    near.hands = mask_of(h, before.hands);
    if (near.route >= 0 && near.lot >= 0)
      routes[static_cast<std::size_t>(near.route)].near_term.push_back(static_cast<int>(near_term.size()));
    near_term.push_back(near);
  }
}

const Option* Project::option(int lot, int route) const {
  const auto& options = lots[static_cast<std::size_t>(lot)].options;
  const auto at =
      std::lower_bound(options.begin(), options.end(), route, [](const Option& o, int r) { return o.route < r; });
  return at != options.end() && at->route == route ? &*at : nullptr;
}

}  // namespace stillroom::planning::detail
