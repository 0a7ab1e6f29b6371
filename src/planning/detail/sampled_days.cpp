#include "planning/detail/sampled_days.h"

namespace stillroom::planning::detail {
namespace {

constexpr double kWetMm = 1;
// A forecast goes wrong with days ahead: chance per day that the day is like any other instead, and degrees.
constexpr double kChangedPerDay = 0.05, kChangedMost = 0.5;
constexpr double kDegreesFirst = 0.5, kDegreesPerDay = 0.3, kDegreesMost = 4;
constexpr double kMostOfSpan = 0.6;  // that something coming between can take

bool is_wet(const WeatherDay& w) { return w.rain_mm >= kWetMm; }

bool overlaps(const std::vector<Span>& spans, int day) {
  return std::any_of(spans.begin(), spans.end(),
                     [&](const Span& s) { return s.from < (day + 1) * kDayMinutes && s.to > day * kDayMinutes; });
}

void remove_day(std::vector<Span>& spans, int day) {
  const Minute from = day * kDayMinutes, to = from + kDayMinutes;
  std::vector<Span> out;
  for (const Span& s : spans) {
    if (s.from < from) out.push_back({s.from, std::min(s.to, from)});
    if (s.to > to) out.push_back({std::max(s.from, to), s.to});
  }
  spans = std::move(out);
}

}  // namespace

void SampledDays::draw(const Luck& luck) {
  draw_people(luck);
  draw_weather(luck);
}

void SampledDays::draw_people(const Luck& luck) {
  const Household& h = project_.h;
  const int days = project_.days;
  sick_.assign(h.hands.size() * static_cast<std::size_t>(days), 0);
  free_.clear();
  for (std::size_t p = 0; p < h.hands.size(); ++p) {
    const std::string& key = h.hands[p].key;
    for (int d = 0; d < days; ++d)
      sick_[p * static_cast<std::size_t>(days) + static_cast<std::size_t>(d)] =
          spreads_.sick_day > 0 && luck.stream(Chance::sick, key, d).uniform() < spreads_.sick_day;
    Windows& free = free_.emplace_back();
    for (const auto& w : project_.hand_free[p]) {
      if (sick(static_cast<int>(p), day_of(w.from))) continue;
      measure::Random random = luck.stream(Chance::late, key, w.from);
      Time from = w.from;
      if (random.uniform() < spreads_.late_start) {
        const double minutes = -spreads_.late_minutes * std::log(1 - random.uniform());
        from += grain_up(static_cast<Time>(std::min(minutes, kMostOfSpan * (w.to - w.from))));
      }
      if (from < w.to) free.push_back({from, w.to});
    }
  }
}

void SampledDays::draw_weather(const Luck& luck) {
  const Household& h = project_.h;
  asked_.clear();
  work_.assign(h.other.size(), {});
  work_known_.assign(h.other.size(), 0);
  sky_.now = h.now;
  sky_.days = h.days;
  sky_.weather = h.weather;
  has_weather_ = !h.weather.empty() && spreads_.weather > 0;
  if (!has_weather_) return;
  const int today = day_of(h.now);
  const auto forecast = static_cast<int>(h.weather.size());
  for (int d = today + 1; d < h.days; ++d) {
    measure::Random random = luck.stream(Chance::weather, {}, d);
    const double ahead = spreads_.weather * (d - today);
    const double degrees = normal_of(random) * std::min(kDegreesMost, kDegreesFirst + kDegreesPerDay * ahead);
    const bool changed = random.uniform() < std::min(kChangedMost, kChangedPerDay * ahead);
    const WeatherDay& other = h.weather[random.below(static_cast<std::uint32_t>(forecast))];
    if (d >= forecast) {
      sky_.weather.push_back(other);  // nothing is forecast: a day like those that are
    } else if (changed) {
      WeatherDay& w = sky_.weather[static_cast<std::size_t>(d)];
      w.rain_mm = other.rain_mm;
      w.wind_kmh = other.wind_kmh;
    }
    WeatherDay& w = sky_.weather[static_cast<std::size_t>(d)];
    w.low_c += degrees;
    w.high_c += degrees;
  }
}

const Windows* SampledDays::good_for(const StageSpec& stage) {
  if (stage.window < 0) return nullptr;
  const almanac::WeatherWindow daylight{.daylight = true};
  const almanac::WeatherWindow& window = stage.source == nullptr ? daylight : stage.source->weather;
  for (const Asked& a : asked_)
    if (same_window(a.window, window)) return &a.good;
  asked_.push_back({window, weather_windows(sky_, window)});
  return &asked_.back().good;
}

/// Work whose windows leave out every forecast wet day waits for dry days; so does work with windows when no rain was
/// forecast. On a day that turns out wet it cannot run; on one that turns out dry it can, at the hours of another day.
std::vector<Span> SampledDays::work_windows(int other, int last_day) const {
  const Household& h = project_.h;
  std::vector<Span> spans = h.other[static_cast<std::size_t>(other)].weather_windows;
  if (spans.empty() || !has_weather_) return spans;
  const auto forecast = static_cast<int>(h.weather.size());
  int sample = -1;
  for (int d = 0; d < forecast; ++d) {
    if (!overlaps(spans, d)) continue;
    if (is_wet(h.weather[static_cast<std::size_t>(d)])) return spans;  // it does not mind rain
    if (sample < 0) sample = d;
  }
  std::vector<Span> hours;
  for (const Span& s : spans)
    if (sample >= 0 && s.from >= sample * kDayMinutes && s.to <= (sample + 1) * kDayMinutes)
      hours.push_back({s.from - sample * kDayMinutes, s.to - sample * kDayMinutes});
  for (int d = day_of(h.now) + 1; d <= last_day && d < h.days; ++d) {
    const bool wet = is_wet(sky_.weather[static_cast<std::size_t>(d)]);
    if (wet) remove_day(spans, d);
    const bool was_wet = d < forecast && is_wet(h.weather[static_cast<std::size_t>(d)]);
    if (!wet && was_wet && !overlaps(spans, d))
      for (const Span& s : hours) spans.push_back({d * kDayMinutes + s.from, d * kDayMinutes + s.to});
  }
  std::sort(spans.begin(), spans.end(), [](const Span& a, const Span& b) { return a.from < b.from; });
  // Never none at all: that would read as at any time.
  if (spans.empty()) spans.push_back({h.days * kDayMinutes, h.days * kDayMinutes + kGrain});
  return spans;
}

const Windows* SampledDays::good_for_work(int other) {
  const auto o = static_cast<std::size_t>(other);
  if (project_.h.other[o].weather_windows.empty()) return nullptr;
  if (work_known_[o] == 0) {
    work_[o] = clipped(sky_, work_windows(other, project_.days));
    work_known_[o] = 1;
  }
  return &work_[o];
}

bool SampledDays::tell(int day, Household& known) const {
  const Household& h = project_.h;
  bool otherwise = false;
  for (std::size_t p = 0; p < h.hands.size(); ++p) {
    known.hands[p].free = h.hands[p].free;
    const bool out = sick(static_cast<int>(p), day), was_out = day > 0 && sick(static_cast<int>(p), day - 1);
    if (out) remove_day(known.hands[p].free, day);
    otherwise = otherwise || out || was_out;
  }
  if (!has_weather_) return otherwise;
  const auto until = static_cast<std::size_t>(std::min(h.days, day + 2));
  known.weather = h.weather;
  if (known.weather.size() < until) known.weather.resize(until);
  for (std::size_t d = 0; d < until; ++d) known.weather[d] = sky_.weather[d];
  return otherwise;
}

}  // namespace stillroom::planning::detail
