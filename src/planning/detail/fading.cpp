#include "planning/detail/fading.h"

#include <limits>

namespace stillroom::planning::detail {
namespace {

constexpr double kTableStep = 1.0 / 256;
constexpr double kOldest = 16;        // life units; nothing is left long before
constexpr double kNothingLeft = 0.1;  // usable share at which the table ends: far below every floor
constexpr double kCellWidth = 1.0 / 8;
constexpr double kNeverRipens = 1e-12;

}  // namespace

FadeModel::FadeModel(const keeping::KeepingModel& model, std::span<const double> place_temps_c) {
  for (double age = 0; age <= kOldest; age += kTableStep) {
    usable_.push_back(keeping::usable_share(model, age));
    if (usable_.back() < kNothingLeft) break;
  }
  for (int c = 1; c < almanac::kConditions; ++c) {
    const auto reached = [&](double age) {
      keeping::Belief b;
      b.ripeness = 0;
      b.age = age;
      b = keeping::advance(model, b, measure::seconds(0), measure::Temperature::celsius(20));
      return static_cast<int>(keeping::condition_of(b)) >= c;
    };
    double below = 0, at = kOldest;
    for (int i = 0; i < 50; ++i) {
      const double middle = (below + at) / 2;
      (reached(middle) ? at : below) = middle;
    }
    age_of_[static_cast<std::size_t>(c)] = reached(kOldest) ? at : std::numeric_limits<double>::infinity();
  }
  age_of_[0] = -std::numeric_limits<double>::infinity();
  for (double temp_c : place_temps_c) {
    const bool frozen = temp_c <= kFrozenBelowC;
    const auto temp = measure::Temperature::celsius(temp_c);
    ageing_.push_back(frozen ? 0 : keeping::ageing_per_day(model, temp) / kDayMinutes);
    auto& cells = ripening_.emplace_back();
    for (int c = 0; c < kCells; ++c) {
      const double middle = (c + 0.5) * kCellWidth;
      cells[static_cast<std::size_t>(c)] = frozen ? 0 : keeping::ripening_per_day(model, middle, temp) / kDayMinutes;
    }
  }
}

double FadeModel::usable(double age) const {
  const double x = std::max(0.0, age) / kTableStep;
  const auto i = static_cast<std::size_t>(x);
  if (i + 1 >= usable_.size()) return usable_.back() < kNothingLeft ? 0 : usable_.back();
  const double f = x - static_cast<double>(i);
  return usable_[i] + f * (usable_[i + 1] - usable_[i]);
}

double FadeModel::ripeness_of(double age) const {
  int c = almanac::kConditions - 1;
  while (c > 0 && age_of(c) > age) --c;
  return condition_starts()[static_cast<std::size_t>(c)];
}

double FadeModel::ripen(double ripeness, double minutes, int place) const {
  const auto& rates = ripening_[static_cast<std::size_t>(place)];
  double r = std::max(0.0, ripeness);
  for (int c = static_cast<int>(r / kCellWidth); c < kCells; ++c) {
    const double rate = rates[static_cast<std::size_t>(c)];
    if (rate < kNeverRipens) return r;
    const double end = (c + 1) * kCellWidth;
    const double needed = (end - r) / rate;
    if (needed >= minutes) return r + rate * minutes;
    minutes -= needed;
    r = end;
  }
  return r;
}

double FadeModel::minutes_to(double ripeness, double level, int place) const {
  const auto& rates = ripening_[static_cast<std::size_t>(place)];
  double r = std::max(0.0, ripeness), minutes = 0;
  for (int c = static_cast<int>(r / kCellWidth); c < kCells && r < level; ++c) {
    const double end = std::min(level, (c + 1) * kCellWidth);
    if (end <= r) continue;
    const double rate = rates[static_cast<std::size_t>(c)];
    if (rate < kNeverRipens) return std::numeric_limits<double>::infinity();
    minutes += (end - r) / rate;
    r = end;
  }
  return r >= level - 1e-12 ? minutes : std::numeric_limits<double>::infinity();
}

const std::array<double, almanac::kConditions>& condition_starts() {
  static const auto starts = [] {
    std::array<double, almanac::kConditions> found{};
    for (int c = 1; c < almanac::kConditions; ++c) {
      double below = 0, at = almanac::kConditions;
      for (int i = 0; i < 60; ++i) {
        const double middle = (below + at) / 2;
        keeping::Belief belief;
        belief.ripeness = middle;
        (static_cast<int>(keeping::condition_of(belief)) >= c ? at : below) = middle;
      }
      found[static_cast<std::size_t>(c)] = at;
    }
    return found;
  }();
  return starts;
}

namespace {

/// Minutes until `age` has grown to `wanted` at `rate` per minute.
double minutes_to_age(double age, double wanted, double rate) {
  if (age >= wanted) return 0;
  return rate > 0 ? (wanted - age) / rate : std::numeric_limits<double>::infinity();
}

}  // namespace

void Fade::settle() {
  const auto& starts = condition_starts();
  const Time turn = std::max(from, moved);
  const double turn_age = age_at(turn), turn_ripeness = moved == kNever ? 0 : ripeness_at(turn);
  for (int c = 0; c < almanac::kConditions; ++c) {
    const double start = starts[static_cast<std::size_t>(c)];
    Time& when = reached[static_cast<std::size_t>(c)];
    when = kNever;
    if (ripeness >= start) {
      when = std::numeric_limits<Time>::min();
      continue;
    }
    if (model == nullptr) continue;
    double minutes = from + std::min(model->minutes_to(ripeness, start, place),
                                     minutes_to_age(age, model->age_of(c), model->ageing(place)));
    if (moved != kNever && minutes > turn)
      minutes = turn + std::min(model->minutes_to(turn_ripeness, start, second_place),
                                minutes_to_age(turn_age, model->age_of(c), model->ageing(second_place)));
    if (minutes < 0.25 * kNever) when = static_cast<Time>(std::ceil(minutes));
  }
}

double Fade::age_at(Time t) const {
  if (model == nullptr || t <= from) return age;
  const Time turn = std::clamp(moved, from, t);
  return age + model->ageing(place) * (turn - from) + model->ageing(second_place) * (t - turn);
}

double Fade::ripeness_at(Time t) const {
  if (model == nullptr || t <= from) return ripeness;
  const Time turn = std::clamp(moved, from, t);
  double r = std::max(model->ripen(ripeness, turn - from, place), model->ripeness_of(age_at(turn)));
  if (t > turn) r = std::max(model->ripen(r, t - turn, second_place), model->ripeness_of(age_at(t)));
  return r;
}

}  // namespace stillroom::planning::detail
