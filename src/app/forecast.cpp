#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/app.h"
#include "app/detail/names.h"

// A rehearsal in words.
namespace stillroom::app {
namespace {

constexpr double kRestShare = 0.02;  // of a lot: a smaller loss is not worth a word

std::string chance_words(double saved) {
  if (saved >= 0.995) return "saved nearly always";
  if (saved >= 0.95) return "saved in 19 seasons of 20";
  if (saved <= 0.005) return "hardly ever saved";
  if (saved <= 0.05) return "saved in 1 season of 20";
  const int of_ten = std::clamp(static_cast<int>(std::lround(saved * 10)), 1, 9);
  return fmt::format("saved in {} season{} of 10", of_ten, of_ten == 1 ? "" : "s");
}

std::string share_words(double share) {
  return std::abs(share - 0.75) < 1e-9 ? "three quarters" : fmt::format("{:.0f} %", share * 100);
}

std::string whole_dollars(double usd) { return measure::say_money(std::abs(usd) >= 10 ? std::round(usd) : usd); }

}  // namespace

ForecastView forecast_view(const House& h, Instant now, const planning::Household& snapshot,
                           const planning::Rehearsal& rehearsal, double at_most) {
  const measure::Units units = detail::units_of(detail::settings_of(h.ledger.state()));
  ForecastView v{.household = household_view(h, now)};
  v.seasons = rehearsal.seasons;
  v.cut_short = rehearsal.cancelled;
  v.saved_means = fmt::format("at least {} of it is put by, eaten, or still sound after {} days",
                              share_words(rehearsal.saved_share), snapshot.days);
  for (const auto& chance : rehearsal.lots) {
    const auto lot =
        std::find_if(snapshot.lots.begin(), snapshot.lots.end(), [&](const auto& l) { return l.id == chance.lot; });
    if (lot == snapshot.lots.end()) continue;
    LotChanceView one{.lot = chance.lot, .name = lot->name, .amount = measure::say(measure::kilograms(lot->kg), units)};
    one.saved = chance.saved;
    one.saved_error = chance.saved_error;
    one.loss_kg = chance.loss_kg;
    one.loss_kg_error = chance.loss_kg_error;
    one.loss_usd = chance.loss_usd;
    one.loss_usd_error = chance.loss_usd_error;
    one.chance_words = chance_words(chance.saved);
    if (chance.loss_kg > kRestShare * lot->kg) {
      one.loss_words = "loses about " + measure::say(measure::kilograms(chance.loss_kg), units);
      if (chance.loss_usd >= 0.05) one.loss_words += ", " + whole_dollars(chance.loss_usd);
    }
    v.lots.push_back(std::move(one));
  }
  std::stable_sort(v.lots.begin(), v.lots.end(), [](const auto& a, const auto& b) { return a.saved < b.saved; });
  for (const auto& load : rehearsal.days) {
    const measure::Date date = snapshot.first_day + std::chrono::days(load.day);
    v.days.push_back({measure::to_iso(date), std::string(measure::say_weekday(date)), load.hours, load.low, load.high});
  }
  v.value = rehearsal.value;
  v.value_error = rehearsal.value_error;
  v.value_low = rehearsal.value_low;
  v.value_high = rehearsal.value_high;
  v.planned = rehearsal.planned;
  if (rehearsal.seasons > 0)
    v.value_words = fmt::format(
        "As planned the days ahead are worth about {}. With the luck of {} seasons it was {} in the middle, "
        "and between {} and {} in 8 of 10.",
        whole_dollars(rehearsal.planned), rehearsal.seasons, whole_dollars(rehearsal.value),
        whole_dollars(rehearsal.value_low), whole_dollars(rehearsal.value_high));
  v.at_most = at_most;
  if (at_most > 0 && rehearsal.planned > 0)
    v.value_words += fmt::format(" No plan at all could be worth more than {}: this one is within {:.0f} % of that.",
                                 whole_dollars(at_most), std::ceil(100 * (at_most / rehearsal.planned - 1)));
  return v;
}

}  // namespace stillroom::app
