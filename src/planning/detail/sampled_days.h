#pragma once

#include <vector>

#include "planning/detail/chances.h"
#include "planning/detail/project.h"
#include "planning/rehearse.h"

namespace stillroom::planning::detail {

/// The days of one season as they turn out: who is there, when, and what the weather does; and what of it is known on
/// a given morning.
class SampledDays {
 public:
  SampledDays(const Project& project, const Spreads& spreads) : project_(project), spreads_(spreads) {}
  void draw(const Luck& luck);

  /// Free time of a hand as it turns out: without sick days and what came between.
  [[nodiscard]] const Windows& free(int hand) const { return free_[static_cast<std::size_t>(hand)]; }
  /// When the weather allows a stage as it turns out; nothing when it asks for nothing.
  [[nodiscard]] const Windows* good_for(const StageSpec& stage);
  /// When other work may run as it turns out; nothing when at any time.
  [[nodiscard]] const Windows* good_for_work(int other);

  /// What people know on the morning of a day goes into the household: today's sick, the weather of today and
  /// tomorrow. True when somebody is out, or back.
  bool tell(int day, Household& known) const;
  [[nodiscard]] bool weather_changes() const { return has_weather_; }
  /// When other work may run as far as that is known on the morning of a day.
  [[nodiscard]] std::vector<Span> told_work_windows(int other, int day) const {
    return work_windows(other, std::min(project_.days, day + 2) - 1);
  }

 private:
  void draw_people(const Luck& luck);
  void draw_weather(const Luck& luck);
  [[nodiscard]] bool sick(int hand, int day) const {
    return sick_[static_cast<std::size_t>(hand) * static_cast<std::size_t>(project_.days) +
                 static_cast<std::size_t>(day)] != 0;
  }
  [[nodiscard]] std::vector<Span> work_windows(int other, int last_day) const;

  const Project& project_;
  const Spreads& spreads_;
  std::vector<Windows> free_;
  std::vector<char> sick_;
  bool has_weather_ = false;  ///< else windows count as open, as in the plan
  Household sky_;             ///< days and true weather only
  struct Asked {
    almanac::WeatherWindow window;
    Windows good;
  };
  std::vector<Asked> asked_;
  std::vector<Windows> work_;
  std::vector<char> work_known_;
};

}  // namespace stillroom::planning::detail
