#pragma once

#include <span>
#include <vector>

#include "planning/detail/search.h"

namespace stillroom::planning::detail {

/// Whose turn is next.
enum class Turn {
  first_come,        ///< in order of coming in
  spoils_first,      ///< earliest past use
  least_laxity,      ///< least time to spare once its own work is taken off
  dearest_lot,       ///< worth most in all
  dearest_kg,        ///< worth most per kg
  paid_hour,         ///< worth most per hand-hour now (c-mu on what is left)
  lost_per_hour,     ///< a day's wait costs most per hand-hour
  paid_over_fading,  ///< worth per hand-hour divided by how fast it fades: in a glut the fastest is lost anyway
  worst_looking,     ///< furthest over, least of it sound; what is on a hard clock before all
  by_number,         ///< smallest of the numbers given first
};

/// A rule of thumb: no search, no looking back.
struct Rule {
  Turn turn = Turn::paid_hour;
  double hour_price = 0;    ///< USD on top of the household's own: what an hour counts when ways are compared
  bool day_by_day = false;  ///< every morning anew among what is in hand; else one list, each lot as early as it fits
  bool hold_cold = false;   ///< first of all everything goes where it keeps longest, as far as there is room
  bool work_first = true;   ///< other work before food, else after (of the day, day by day)
  bool one_lot_a_day = false;  ///< one lot by one way each day, nothing else of food
  bool operator==(const Rule&) const = default;
};

/// Fills a schedule by a rule: lots in turn, each by the way it values most at that moment, in as many batches as fit,
/// by the next way when the first does not fit or no longer pays. Shops once a week where that is possible and keeps
/// the trips that brought something. Deterministic.
class Dispatcher {
 public:
  explicit Dispatcher(PlanSearch& search);

  /// Clears what stands in the search's schedule and fills it. `number` per lot, for Turn::by_number. Gives the cost.
  double run(const Rule& rule, std::span<const double> number = {});

 private:
  struct Way {
    const Option* option;
    double net, per_kg_hours;
    Time when;  ///< at its best
  };
  void go_shopping();
  void hold_cold();
  void place_work(Time from, Time until);
  void whole_list();
  void days();
  bool today(int lot, Time morning, Time night);
  void use_by_products();
  void finish();

  /// Ways worth the doing at `t`, best first.
  void ways_at(int lot, Time t);
  [[nodiscard]] double turn_of(int lot, Time t);
  bool place_lot(int lot, Time t, Time until);
  bool try_way(int lot, const Way& way, Time t, Time until);
  bool take(const Job& job, Time until);
  [[nodiscard]] bool make_job(int lot, const Way& way, Time until, Job& job) const;
  bool add_seconds(int lot, const RouteSpec& route, Job& job) const;
  [[nodiscard]] double left(int lot) const;
  [[nodiscard]] const LotSpec& lot_spec(int lot) const { return project_.lots[static_cast<std::size_t>(lot)]; }
  [[nodiscard]] const RouteSpec& route_of(int route) const { return project_.routes[static_cast<std::size_t>(route)]; }

  PlanSearch& search_;
  Schedule& schedule_;
  const Project& project_;
  const Appraiser& appraiser_;
  Rule rule_;
  std::span<const double> number_;
  bool giving_ = false;  ///< last of all: what nobody here can use
  double cost_ = 0;      ///< of what stands
  std::vector<Way> ways_;
  std::vector<char> work_done_;
  struct Ranked {
    double turn;
    int lot;
  };
  std::vector<Ranked> ranked_;
  std::vector<int> refused_;  ///< routes that did not fit this lot this time
};

}  // namespace stillroom::planning::detail
