#pragma once

#include <array>
#include <span>
#include <vector>

#include "keeping/keeping.h"
#include "planning/detail/rules.h"

namespace stillroom::planning::detail {

/// How one crop fades and ripens at each of the household's places, tabulated once so that the search never calls
/// keeping. Usable share is interpolated on steps of 1/256 life unit, 0 below 0.1: within 2e-6 of
/// keeping::usable_share.
class FadeModel {
 public:
  FadeModel(const keeping::KeepingModel& model, std::span<const double> place_temps_c);

  [[nodiscard]] double usable(double age) const;
  /// Age from which goods are at least in this condition whatever their ripening says; infinite when age alone never
  /// brings it.
  [[nodiscard]] double age_of(int condition) const { return age_of_[static_cast<std::size_t>(condition)]; }
  /// Ripeness that this age brings by itself.
  [[nodiscard]] double ripeness_of(double age) const;
  /// Life units per minute.
  [[nodiscard]] double ageing(int place) const { return ageing_[static_cast<std::size_t>(place)]; }
  /// Ripeness after `minutes` at `place`.
  [[nodiscard]] double ripen(double ripeness, double minutes, int place) const;
  /// Minutes at `place` until ripeness reaches `level`; infinite when it never does; 0 when it has.
  [[nodiscard]] double minutes_to(double ripeness, double level, int place) const;

 private:
  static constexpr int kCells = 32;  ///< of ripeness 0..4; the rate is constant inside a cell
  std::vector<double> usable_;
  std::array<double, almanac::kConditions> age_of_{};
  std::vector<double> ageing_;
  std::vector<std::array<double, kCells>> ripening_;  ///< ripeness per minute
};

/// Ripeness at which each condition begins, found from keeping::condition_of. [0] = 0.
[[nodiscard]] const std::array<double, almanac::kConditions>& condition_starts();

/// One lot (or held pool) along time: where it waits, how sound and how ripe it is. Times are minutes; for a standing
/// crop they count from the end of its picking. A copy is cheap.
struct Fade {
  const FadeModel* model = nullptr;  ///< null: never changes
  Time from = 0;                     ///< age and ripeness are those at this moment
  double age = 0, ripeness = 1;
  int place = 0;
  Time moved = kNever;  ///< from then on at `second_place`
  int second_place = 0;
  std::array<Time, almanac::kConditions> reached{};  ///< first moment with at least this condition; kNever = never

  /// Fills `reached`; call after any change of the fields above.
  void settle();
  [[nodiscard]] double age_at(Time t) const;
  [[nodiscard]] double ripeness_at(Time t) const;
  [[nodiscard]] double usable_at(Time t) const { return model == nullptr ? 1.0 : model->usable(age_at(t)); }
  [[nodiscard]] int condition_at(Time t) const {
    int c = almanac::kConditions - 1;
    while (c > 0 && reached[static_cast<std::size_t>(c)] > t) --c;
    return c;
  }
  [[nodiscard]] int place_at(Time t) const { return t >= moved ? second_place : place; }
};

}  // namespace stillroom::planning::detail
