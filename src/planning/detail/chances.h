#pragma once

#include <string_view>

#include "measure/id.h"

namespace stillroom::planning::detail {

/// What a draw is about. The number is part of the stream: append, never reorder.
enum class Chance : std::uint64_t {
  keeping,
  ripening,
  stage,
  other_work,
  yield,
  harvest_kg,
  harvest_time,
  pick_end,
  sick,
  late,
  weather,
  planning,
};

/// The luck of one season: a stream of its own for every thing that may come otherwise, so that a draw does not depend
/// on what else happens.
class Luck {
 public:
  Luck(std::uint64_t seed, int season) : base_(measure::Random(seed).next() + static_cast<std::uint64_t>(season)) {}

  [[nodiscard]] measure::Random stream(Chance kind, std::string_view about = {}, int a = 0, int b = 0) const;
  /// Standard normal.
  [[nodiscard]] double normal(Chance kind, std::string_view about = {}, int a = 0, int b = 0) const;
  /// Mean 1, coefficient of variation `cv`: lognormal; 1 for cv 0.
  [[nodiscard]] double factor(double cv, Chance kind, std::string_view about = {}, int a = 0, int b = 0) const;

 private:
  std::uint64_t base_;
};

[[nodiscard]] double normal_of(measure::Random& random);

}  // namespace stillroom::planning::detail
