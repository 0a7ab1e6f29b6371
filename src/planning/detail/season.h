#pragma once

#include <deque>
#include <map>
#include <vector>

#include "planning/detail/appraise.h"
#include "planning/detail/sampled_days.h"
#include "planning/detail/sampled_food.h"

namespace stillroom::planning::detail {

/// What one season came to.
struct SeasonOutcome {
  double value = 0;             ///< USD, without the cost of change
  std::vector<char> saved;      ///< per lot of the household
  std::vector<double> loss_kg;  ///< per lot
  std::vector<double> hours;    ///< hand-hours per day
};

/// Lives one season after another through from the same morning and plan. Each morning people see how things stand and
/// plan again; in the day what was begun takes the time it takes, what follows is pushed, and what no longer fits is
/// put off. A scratch object: one per thread.
class Season {
 public:
  /// `base` is the household on the first morning; it, the plan and the options must outlive this.
  Season(const Project& base, const Plan& plan, const RehearseOptions& options);
  [[nodiscard]] SeasonOutcome live(int season);

 private:
  static constexpr std::size_t kNotYet = static_cast<std::size_t>(-1);
  struct Draw {                  ///< what a batch takes from a food
    std::size_t food = kNotYet;  ///< kNotYet: what an earlier batch has still to make
    double kg = 0;
    bool main = true;
    std::string lot;  ///< as the plan names it
    Time picked = 0;
  };
  struct Step {  ///< a picking or own stage of a batch
    const StageSpec* spec = nullptr;
    std::uint32_t team = 0;  ///< mask of hands
    Time planned = 0, length = 0;
    std::size_t part = kNotYet;  ///< a picking: whose
    bool done = false;
    Time end = 0;
  };
  struct Batch {
    int route = 0;
    std::vector<Draw> parts;
    std::vector<Step> steps;
    int picks = 0;
    double kg = 0;
    int loads = 1, number = 0;  ///< number: which batch of this lot by this route, for its luck
    int pool = -1;              ///< index of the food a hold makes
    bool begun = false, settled = false, given_up = false;
    std::string plan_key, about;
  };
  struct Work {  ///< a piece of other work as planned
    int other = 0;
    std::uint32_t team = 0;
    Span span;
    bool last = false, over = false;
  };
  struct Errand {  ///< a shopping trip or a move, by its place in the plan
    std::size_t index = 0;
    Time at = 0;
    bool over = false;
  };
  struct Busy {
    Time from, to;
    Amount share;
  };
  struct Used {
    Time from, to;
    double amount;
  };
  /// Something that is to happen next.
  struct Next {
    enum class Kind { none, step, work, trip, move } kind = Kind::none;
    Time at = kNever;
    std::size_t index = 0;
    int step = 0;
  };
  struct Slot {
    Time start = kNever, end = kNever;
    std::uint32_t team = 0;
    Windows pieces;  ///< when people are held
  };
  struct Ask {
    const StageSpec* spec = nullptr;
    const Windows* good = nullptr;
    Time expected = 0, length = 0;  ///< as people think, and as it turns out
    double kg = 0;
    int loads = 1;
    Time from = 0, latest = kNever;
    bool unbroken = false;  ///< although the stage may be put down
  };

  // season.cpp: mornings
  void begin(int season);
  bool morning(int day);
  bool arrive(Food& food);
  void lay_out_lots();
  void lay_out_committed();
  void lay_out_work(int day);
  void plan_again(int day);
  void take_out_what_began();
  void set_in_force();

  // season_day.cpp: days
  void day(Time until);
  void open_day(Time until);
  Batch batch_of(const PlannedBatch& planned) const;
  [[nodiscard]] bool gather(Batch& batch) const;
  [[nodiscard]] Next next_of(Time until) const;
  [[nodiscard]] Time due(const Batch& batch, int step) const;
  void do_step(Batch& batch, int step, Time at, Time until);
  void do_work(Work& work, Time at, Time until);
  void do_trip(Errand& trip, Time at, Time until);
  void do_move(Errand& move, Time at);
  void push_later(Batch& batch, int step);
  [[nodiscard]] double own_factor(const Batch& batch, int step) const;

  // season_slots.cpp: finding time
  [[nodiscard]] Slot find(const Ask& ask, std::uint32_t team) const;
  [[nodiscard]] Slot find_any(const Ask& ask, std::uint32_t team) const;
  [[nodiscard]] bool fits_from(const Ask& ask, const Windows& open, std::size_t window, Slot& slot) const;
  [[nodiscard]] Windows open_time(std::uint32_t team, const Ask& ask) const;
  [[nodiscard]] Time after_equipment(const Ask& ask, Time start) const;
  [[nodiscard]] Time length_of(const StageSpec& spec, std::uint32_t team, double minutes) const;
  void hold(const Slot& slot, const Ask& ask, bool of_batches);

  // season_food.cpp: what goes in and comes out
  [[nodiscard]] bool can_begin(Batch& batch, int step, Time start);
  [[nodiscard]] double in_stock(int item, Time t) const;
  void take(Batch& batch);
  void settle(Batch& batch, Time start);
  void open_pool(Batch& batch, Time start);
  void finish(Batch& batch, Time end);
  void leave_by_product(const Food& from, const almanac::ByProduct& by, double kg, Time at);
  void change_room(int place, double kg);
  double still_sound();
  void count_left();
  [[nodiscard]] SeasonOutcome sum_up();

  [[nodiscard]] int food_of(const std::string& id) const;
  [[nodiscard]] int source_of(const std::string& lot, const almanac::Route& route) const;
  [[nodiscard]] const RouteSpec& route(int r) const { return base_.routes[static_cast<std::size_t>(r)]; }

  const Project& base_;
  const Household& h_;
  const Plan& first_plan_;
  const RehearseOptions& options_;
  std::vector<double> worked_first_;  ///< hand x day: minutes of what is committed at the start

  Luck luck_{0, 0};
  SampledDays days_;
  Household known_;  ///< what people know this morning
  Plan plan_;
  bool otherwise_ = false;  ///< something came otherwise than planned since the last planning
  Time now_ = 0;
  std::vector<Food> foods_;
  std::deque<Batch> batches_;  ///< begun, or to begin today
  std::vector<Work> work_today_;
  std::vector<Errand> trips_today_, moves_today_;
  std::vector<std::vector<Busy>> busy_;             ///< per hand
  std::vector<std::vector<Used>> used_;             ///< per equipment
  std::vector<double> work_left_, work_left_true_;  ///< per other job: minutes as people think, and as it turns out
  std::vector<Time> work_done_;                     ///< per other job; -1 = not yet
  std::map<std::string, int> begun_;                ///< batches of a lot by a route so far
  double spent_ = 0;                                ///< of this week's money

  // books
  std::vector<double> put_by_;  ///< per worth row
  std::vector<double> saved_kg_, total_kg_;
  double other_put_by_ = 0, materials_ = 0, energy_ = 0, later_effort_ = 0;
  std::vector<double> worked_, batch_worked_;  ///< hand x day, weighted minutes
};

}  // namespace stillroom::planning::detail
