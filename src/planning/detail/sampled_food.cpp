#include "planning/detail/sampled_food.h"

namespace stillroom::planning::detail {
namespace {

constexpr double kTenthQuantile = 1.2815515655446004;  // of the standard normal
constexpr double kMostDeviations = 2.5;                // a band does not run on for ever
constexpr double kLateInCondition = 0.75;              // as keeping::observe has it
constexpr double kTenth = 0.1;
constexpr double kLeastDaysReady = 0.5;  // a standing crop can be picked at least so long

int condition_at(const FadeModel* model, double ripeness, double age) {
  const auto& starts = condition_starts();
  int c = almanac::kConditions - 1;
  while (c > 0 && starts[static_cast<std::size_t>(c)] > ripeness + 1e-9) --c;
  if (model == nullptr) return c;
  int by_age = almanac::kConditions - 1;
  while (by_age > 0 && model->age_of(by_age) > age) --by_age;
  return std::max(c, by_age);
}

}  // namespace

int Food::condition() const { return condition_at(model, ripeness, age); }

void Food::live_until(Time t) {
  if (!here || standing || t <= at) return;
  const double minutes = t - at;
  at = t;
  const double bite = std::min(kg, seen.eaten_kg_per_day / kDayMinutes * minutes);
  kg -= bite;
  eaten += bite;
  if (model == nullptr) return;
  age += model->ageing(place) * speed * minutes;
  ripeness = model->ripen(ripeness, minutes * ripening, place);
  seen.belief.age += model->ageing(place) * minutes;
  seen.belief.ripeness = model->ripen(seen.belief.ripeness, minutes, place);
}

Fade Food::after_picking() const {
  Fade fade{.model = model, .from = 0, .age = age, .ripeness = ripeness, .place = place};
  fade.settle();
  return fade;
}

bool Food::look() {
  if (model == nullptr || standing || !here) return false;
  bool otherwise = false;
  const double share = usable(), believed = model->usable(seen.belief.age);
  // The tenth it lies in, and half a tenth more on either side before a belief is given up: nobody sees sharper.
  const double low = std::floor(share / kTenth) * kTenth - kTenth / 2, high = low + 2 * kTenth;
  if (believed < low || (believed > high && high < 1)) {
    const double there = std::clamp(believed < low ? low : high, 0.02, 0.98);
    seen.belief.age = keeping::age_of_share(*seen.model, there);
    otherwise = true;
  }
  const int is = condition(), thought = condition_at(model, seen.belief.ripeness, seen.belief.age);
  if (is == thought) return otherwise;
  const auto& starts = condition_starts();
  if (is > thought) {
    seen.belief.ripeness = starts[static_cast<std::size_t>(is)];
  } else {
    seen.belief.ripeness = std::min(seen.belief.ripeness, starts[static_cast<std::size_t>(is)] + kLateInCondition);
    if (model->age_of(is + 1) <= seen.belief.age) seen.belief.age = age;
  }
  return true;
}

Food sampled(const Project& project, int lot, const Spreads& spreads, const Luck& luck) {
  const LotSpec& spec = project.lots[static_cast<std::size_t>(lot)];
  const Lot& source = *spec.source;
  Food food;
  food.seen = source;
  food.origin = lot;
  food.standing = spec.standing;
  food.here = source.ready <= project.h.now;
  food.kg = food.expected_kg = source.kg;
  food.ready = food.at = std::max(project.h.now, source.ready);
  food.pick_by = source.pick_by;
  food.model = spec.fade.model;
  food.place = spec.place;
  food.age = source.belief.age;
  food.ripeness = source.belief.ripeness;
  const double days_ahead = std::max(0, source.ready - project.h.now) / static_cast<double>(kDayMinutes);
  if (!food.here) {
    food.kg *= luck.factor(spreads.harvest_kg, Chance::harvest_kg, source.id);
    const double shift = spreads.harvest_time * days_ahead * luck.normal(Chance::harvest_time, source.id) * kDayMinutes;
    food.ready = food.at = std::max(project.h.now + 1, source.ready + grain_down(static_cast<Time>(shift)));
  }
  food.came_kg = food.kg;
  if (food.standing) {
    const double end_ahead = std::max(0, source.pick_by - project.h.now) / static_cast<double>(kDayMinutes);
    const double shift = spreads.harvest_time * end_ahead * luck.normal(Chance::pick_end, source.id) * kDayMinutes;
    food.pick_by += grain_down(static_cast<Time>(shift));
    if (spreads.harvest_time > 0)
      food.pick_by = std::max(food.pick_by, food.ready + static_cast<Time>(kLeastDaysReady * kDayMinutes));
  }
  if (food.model == nullptr) return food;
  if (spreads.keeping > 0) {
    const double z = std::clamp(luck.normal(Chance::keeping, source.id), -kMostDeviations, kMostDeviations) *
                     spreads.keeping / kTenthQuantile;
    const keeping::Belief& b = source.belief;
    food.age += z > 0 ? z * std::max(0.0, b.age_high - b.age) : z * std::max(0.0, b.age - b.age_low);
    if (source.model->life_days_best_low > 0)
      food.speed = std::pow(source.model->life_days_best_high / source.model->life_days_best_low, z / 2);
  }
  food.ripening = luck.factor(spreads.ripening, Chance::ripening, source.id);
  return food;
}

}  // namespace stillroom::planning::detail
