#pragma once

#include <optional>
#include <vector>

#include "planning/detail/project.h"

/// What a batch could do at best: when its stages may lie, and the least it takes per kg.
namespace stillroom::planning::detail {

/// Free time of groups of people, for the bound.
class FreeTimes {
 public:
  explicit FreeTimes(const Project& project);

  /// People who may do the stage: old enough and, when it takes one person, skilled.
  [[nodiscard]] std::uint32_t eligible(const StageSpec& stage) const;
  [[nodiscard]] std::uint32_t of_age(int least_age) const;
  /// Moments one of `mask` is free and the weather is good.
  [[nodiscard]] const Windows& any_of(std::uint32_t mask, int window) const;
  /// Minutes a person has on a day inside a weather window (-1 = any).
  [[nodiscard]] double minutes(int person, int window, int day) const;
  /// Minutes of a day on which one of `mask` is free.
  [[nodiscard]] double any_minutes(std::uint32_t mask, int day) const;
  /// Longest stretch one of `mask` has.
  [[nodiscard]] double longest(std::uint32_t mask, int window) const;
  [[nodiscard]] double most_usable(std::uint32_t mask) const;
  [[nodiscard]] double least_usable(std::uint32_t mask) const;

 private:
  struct Known {
    std::uint32_t mask;
    int window;
    Windows windows;
  };
  [[nodiscard]] Windows weather(int window) const;
  const Project& project_;
  mutable std::deque<Known> known_;
};

[[nodiscard]] double overlap(const Windows& windows, Time from, Time to);

/// Limits on one stage of a batch whose first own stage starts within given limits.
struct StageLimits {
  Time first_start = 0, last_start = 0, first_end = 0, last_end = 0;  ///< kNever = no limit known
  bool may_be_left_out = false, surely_left_out = false;              ///< beyond the horizon
};
/// Nothing when no batch of the route can start within [from, to).
[[nodiscard]] std::optional<std::vector<StageLimits>> limits_of(const Project& project, const FreeTimes& free,
                                                                const RouteSpec& route, Time from, Time to);

/// Sizes a batch may have. Nothing of it fits when most < least.
struct Sizes {
  double least = 0, most = 0, load_kg = 0;
};
/// Batches of up to `kg` that equipment and the longest free stretches allow to the stages that are placed for certain.
[[nodiscard]] Sizes sizes_of(const Project& project, const FreeTimes& free, const RouteSpec& route,
                             const std::vector<StageLimits>& limits, double kg);
/// Least of what(k) / k over the sizes.
[[nodiscard]] double least_per_kg(const almanac::Scaled& what, const Sizes& sizes);
/// Least of a(k) b(k) / k over the sizes.
[[nodiscard]] double least_product_per_kg(const almanac::Scaled& a, const almanac::Scaled& b, const Sizes& sizes);

}  // namespace stillroom::planning::detail
