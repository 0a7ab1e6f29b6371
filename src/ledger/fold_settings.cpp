#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "ledger/detail/folding.h"
#include "measure/text.h"

// The household itself: settings, people, places, equipment, stock, money, weather, other work, needs, the plan.
namespace stillroom::ledger::detail {
namespace {

std::optional<double> number_in(const std::string& text) {
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

/// The altitude picks heat processes, so it alone is looked at here. The range is that of ground people live on.
Result<bool> altitude_fits(Folding& f, const std::string& value) {
  const auto feet = number_in(value);
  if (feet && *feet >= -1500 && *feet <= 20000) return true;
  STILLROOM_TRY(f.broken("bad_setting", fmt::format("'{}' is not an altitude in feet.", value),
                         {"Give a plain number such as 2900.", "Leave it out: heat processes are then withheld."}));
  return false;
}

bool minutes_of_day(int from, int to) { return from >= 0 && from <= to && to <= 1440; }

std::string fault_of(const Person& p) {
  if (p.age < 0 || p.age > 130) return "an age lies between 0 and 130 years";
  if (!(p.usable_minutes_per_hour >= 0 && p.usable_minutes_per_hour <= 60)) return "an hour has 0 to 60 usable minutes";
  if (p.most_minutes_per_day < 0 || p.most_minutes_per_day > 1440) return "a day has 0 to 1440 minutes";
  for (const FreeTime& t : p.free) {
    if (!minutes_of_day(t.from_min, t.to_min)) return "free time runs from an earlier to a later minute of one day";
    if (t.weekday < -1 || t.weekday > 6) return "a weekday is 0 (Monday) to 6";
    if (t.weekday == -1 && !t.date) return "free time needs a weekday or a date";
  }
  return {};
}

std::string fault_of(const Place& p) {
  if (!(p.temp_c >= -80 && p.temp_c <= 80)) return "its temperature lies between -80 and 80 degrees Celsius";
  if (!(p.humidity_pct >= 0 && p.humidity_pct <= 100)) return "its humidity lies between 0 and 100 percent";
  if (!(p.capacity >= 0 && p.capacity <= 1e6)) return "its capacity is not below 0";
  return {};
}

std::string fault_of(const OtherWorkSet& w) {
  if (!(w.minutes > 0 && w.minutes <= 1e6)) return "it takes more than 0 minutes";
  if (w.hands < 1 || w.hands > 100) return "it needs at least one pair of hands";
  if (w.least_age < 0 || w.least_age > 130) return "an age lies between 0 and 130 years";
  if (!(w.importance >= 0 && w.importance <= 1e9)) return "its importance is not below 0";
  if (w.not_before && w.deadline && *w.deadline < *w.not_before) return "its deadline is not before its first day";
  return {};
}

/// Refused, or noted and left out. True when the value may be kept.
Result<bool> sensible(Folding& f, const std::string& what, const std::string& fault) {
  if (fault.empty()) return true;
  STILLROOM_TRY(f.broken("bad_value", fmt::format("{} cannot be written down so: {}.", what, fault),
                         {"Correct that and try again."}));
  return false;
}

}  // namespace

Result<void> apply(Folding& f, const SettingsChanged& p) {
  std::vector<std::string> kept;
  for (const auto& [key, value] : p.values) {
    STILLROOM_TRY(f.check_key(key, "setting"));
    if (key.empty()) continue;
    if (key == "altitude_ft" && !value.empty()) {
      const auto fits = altitude_fits(f, value);
      if (!fits) return tl::unexpected(fits.error());
      if (!*fits) continue;
    }
    kept.push_back(key);
  }
  for (const std::string& key : kept) {
    f.changes(Table::settings, key);
    const std::string& value = p.values.at(key);
    if (value.empty()) {
      f.state.settings.erase(key);
    } else {
      f.state.settings[key] = value;
    }
  }
  return {};
}

Result<void> apply(Folding& f, const PersonSet& p) {
  STILLROOM_TRY(f.check_key(p.person.key, "person"));
  const auto keep = sensible(f, "The person " + p.person.key, fault_of(p.person));
  if (!keep) return tl::unexpected(keep.error());
  if (!*keep || p.person.key.empty()) return {};
  f.changes(Table::people, p.person.key);
  f.state.people[p.person.key] = p.person;
  return {};
}

Result<void> apply(Folding& f, const PersonRemoved& p) {
  if (!f.state.people.contains(p.key)) {
    if (!p.key.empty()) return f.check_person(p.key);
    return f.check_key(p.key, "person");
  }
  f.changes(Table::people, p.key);
  f.state.people.erase(p.key);
  return {};
}

Result<void> apply(Folding& f, const PlaceSet& p) {
  STILLROOM_TRY(f.check_key(p.place.key, "place"));
  const auto keep = sensible(f, "The place " + p.place.key, fault_of(p.place));
  if (!keep) return tl::unexpected(keep.error());
  if (!*keep || p.place.key.empty()) return {};
  f.changes(Table::places, p.place.key);
  f.state.places[p.place.key] = p.place;
  return {};
}

Result<void> apply(Folding& f, const EquipmentSet& p) {
  STILLROOM_TRY(f.check_key(p.key, "piece of equipment"));
  const auto count = f.amount(p.count, "A count of equipment", false);
  if (!count) return tl::unexpected(count.error());
  f.changes(Table::equipment, p.key);
  f.state.equipment[p.key] = *count;
  return {};
}

Result<void> apply(Folding& f, const StockSet& p) {
  STILLROOM_TRY(f.check_key(p.item, "stock item"));
  const auto amount = f.amount(p.amount, "An amount of stock", false);
  if (!amount) return tl::unexpected(amount.error());
  f.changes(Table::stock, p.item);
  f.changes(Table::sections, "arriving");
  f.state.stock[p.item] = *amount;
  // What was due by the day of counting has been counted.
  const auto day = std::chrono::floor<std::chrono::days>(f.at);
  std::erase_if(f.state.arriving, [&](const StockArriving& a) { return a.item == p.item && a.day <= day; });
  return {};
}

Result<void> apply(Folding& f, const StockArriving& p) {
  STILLROOM_TRY(f.check_key(p.item, "stock item"));
  const auto amount = f.amount(p.amount, "An amount of stock", false);
  if (!amount) return tl::unexpected(amount.error());
  f.changes(Table::sections, "arriving");
  // Said again for the same day it replaces what was said; an amount of 0 calls it off.
  std::erase_if(f.state.arriving, [&](const StockArriving& a) { return a.item == p.item && a.day == p.day; });
  if (*amount > 0) f.state.arriving.push_back({p.item, *amount, p.day});
  return {};
}

Result<void> apply(Folding& f, const MoneySet& p) {
  const auto limit = f.amount(p.weekly_limit, "A weekly limit", false);
  if (!limit) return tl::unexpected(limit.error());
  f.changes(Table::sections, "money");
  f.state.weekly_money = *limit;
  return {};
}

Result<void> apply(Folding& f, const ForecastSet& p) {
  std::vector<Weather> days;
  for (const Weather& day : p.days) {
    const bool fits = day.low_c >= -80 && day.high_c <= 80 && day.low_c <= day.high_c && day.rain_mm >= 0 &&
                      day.wind_kmh >= 0 && day.rain_mm <= 2000 && day.wind_kmh <= 500;
    const auto keep = sensible(f, "The forecast of " + measure::to_iso(day.day),
                               fits ? "" : "lows are not above highs, rain and wind are not below 0");
    if (!keep) return tl::unexpected(keep.error());
    if (*keep) days.push_back(day);
  }
  std::sort(days.begin(), days.end(), [](const Weather& a, const Weather& b) { return a.day < b.day; });
  f.changes(Table::sections, "forecast");
  f.state.forecast = std::move(days);
  return {};
}

Result<void> apply(Folding& f, const TemperatureRead& p) {
  STILLROOM_TRY(f.check_key(p.place, "place"));
  STILLROOM_TRY(f.check_place(p.place));
  const bool fits =
      p.temp_c >= -80 && p.temp_c <= 80 && (!p.humidity_pct || (*p.humidity_pct >= 0 && *p.humidity_pct <= 100));
  const auto keep =
      sensible(f, "A reading at " + p.place, fits ? "" : "it reads -80 to 80 degrees Celsius and 0 to 100 percent");
  if (!keep) return tl::unexpected(keep.error());
  if (!*keep || p.place.empty()) return {};
  auto& points = f.state.readings[p.place];
  const auto later = std::lower_bound(points.begin(), points.end(), f.at,
                                      [](const TemperaturePoint& point, Instant t) { return point.at < t; });
  const TemperaturePoint point{f.at, p.temp_c, p.humidity_pct};
  if (later != points.end() && later->at == f.at) {
    *later = point;  // read again in the same second: the later word counts
  } else {
    points.insert(later, point);
  }
  f.changes(Table::readings, reading_key(p.place, f.at));
  return {};
}

Result<void> apply(Folding& f, const OtherWorkSet& p) {
  STILLROOM_TRY(f.check_key(p.key, "piece of work"));
  const auto keep = sensible(f, "The work " + p.key, fault_of(p));
  if (!keep) return tl::unexpected(keep.error());
  if (!*keep || p.key.empty()) return {};
  f.changes(Table::other_work, p.key);
  f.state.other_work[p.key] = {p, false};
  return {};
}

Result<void> apply(Folding& f, const OtherWorkDone& p) {
  const auto it = f.state.other_work.find(p.key);
  if (it == f.state.other_work.end()) {
    std::vector<std::string> known;
    for (const auto& [key, work] : f.state.other_work) known.push_back(key);
    std::vector<std::string> instead;
    for (const std::string& key : measure::suggest(p.key, known)) instead.push_back("Did you mean " + key + "?");
    return f.broken("unknown_work", fmt::format("There is no work called '{}'.", p.key), std::move(instead));
  }
  f.changes(Table::other_work, p.key);
  it->second.done = true;
  return {};
}

Result<void> apply(Folding& f, const NeedSet& p) {
  STILLROOM_TRY(f.check_key(p.food, "food"));
  const auto per_year = f.amount(p.per_year_kg, "What is needed in a year", false);
  if (!per_year) return tl::unexpected(per_year.error());
  const auto weight = f.amount(p.weight, "The weight of a need", false);
  if (!weight) return tl::unexpected(weight.error());
  f.changes(Table::sections, "needs");
  const NeedSet need{p.food, p.form, *per_year, *weight};
  const auto same = std::find_if(f.state.needs.begin(), f.state.needs.end(),
                                 [&](const NeedSet& n) { return n.food == p.food && n.form == p.form; });
  if (same == f.state.needs.end()) {
    f.state.needs.push_back(need);
  } else {
    *same = need;
  }
  return {};
}

Result<void> apply(Folding& f, const PlanAccepted& p) {
  f.changes(Table::sections, "plan");
  f.state.plan_json = p.plan_json;
  f.state.plan_last_entry = p.last_entry;
  return {};
}

Result<void> apply(Folding& f, const DiscrepancySettled& p) {
  bool found = false;
  for (std::size_t i = 0; i < f.state.discrepancies.size(); ++i) {
    Discrepancy& d = f.state.discrepancies[i];
    if (d.about != p.about) continue;
    found = true;
    d.settled = true;
    d.how = p.how;
    f.changes(Table::discrepancies, discrepancy_key(i));
  }
  if (found) return {};
  return f.broken("unknown_discrepancy", "No discrepancy was raised by entry " + p.about.hex().substr(0, 8) + ".",
                  {"Look at the list again: it may have been undone."});
}

}  // namespace stillroom::ledger::detail
