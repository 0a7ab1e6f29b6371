#pragma once

#include <deque>
#include <string>
#include <vector>

#include "planning/detail/fading.h"
#include "planning/detail/windows.h"
#include "planning/household.h"
#include "scheduling/calendar.h"

/// A household made ready for the search: names become indices, calendars and fading are computed once, routes that can
/// never run are set aside with the reason. Immutable; shared by all workers.
namespace stillroom::planning::detail {

/// Amount of something indexed, as the route scales it.
struct Use {
  int index = 0;
  almanac::Scaled amount;
};

/// People who could do a stage together.
struct Team {
  std::uint32_t mask = 0;
  int size = 0;
  std::array<std::uint8_t, kMostTeam> members{};
  double usable = 1;                               ///< of the slowest
  const scheduling::Calendar* together = nullptr;  ///< when all are free and the weather is good
};

struct StageSpec {
  const almanac::Stage* source = nullptr;  ///< null for picking, other work and trips
  almanac::Scaled duration;
  almanac::Attention attention = almanac::Attention::hands_on;
  Amount share = kWhole;  ///< of each person
  int hands = 0;          ///< 0 for unattended
  bool can_pause = false;
  int window = -1;          ///< index into Project::windows; -1 = any time
  std::vector<Team> teams;  ///< the least able first; one without members for unattended
  std::vector<Use> equipment, stock, rooms, day_rooms;
  Time lag_min = 0, lag_max = kNever;  ///< after the stage before, hazard clock included
  [[nodiscard]] bool attended() const { return attention != almanac::Attention::unattended; }
  /// Length on the grain for working minutes `d` by `team`.
  [[nodiscard]] Time length(double d, const Team& team) const {
    return grain_length(attention == almanac::Attention::hands_on ? d / team.usable : d);
  }
};

/// What must be over by a lot's hard clock.
struct HazardStage {
  int stage = 0;
  bool by_start = false;  ///< heat: must have begun; else must have ended
};

/// Why a route can never run in this household.
enum class Barred { no, equipment, people, stages, hold_place };

struct RouteSpec {
  const almanac::Route* source = nullptr;
  Barred barred = Barred::no;
  std::string lacking;  ///< equipment key or skill behind `barred`
  std::vector<StageSpec> stages;
  int worth = -1;           ///< index into Project::worth; -1 = by worth_per_kg_in
  bool gives_away = false;  ///< "given away", "fed to stock", "composted"
  double floor = kUsableFloor;
  int hold_place = -1;
  HazardStage hazard;
  double hours_per_kg = 0;                ///< hand-hours at the reference batch
  std::vector<int> mains;                 ///< lots that can go this way themselves, ascending
  std::vector<std::vector<int>> seconds;  ///< per many_lot_with: lots that serve, from their own pool
  std::vector<int> near_term;             ///< what of the plan in force is by this route: indices
};

/// Where a part of a batch comes from.
enum class Source { lot, held, by_product };

/// One way a lot can go.
struct Option {
  int route = 0;
  Source source = Source::lot;
  int pool = -1;  ///< index into Project::pools unless from the lot itself
};

struct LotSpec {
  const Lot* source = nullptr;
  Time from = 0;     ///< max(now, ready), on the grain
  Time pick_by = 0;  ///< 0 = in hand
  bool standing = false;
  Time hazard_by = kNever;
  double eaten_per_minute = 0;
  int place = 0;  ///< index into Project::places
  Fade fade;      ///< where it lies now; for a standing crop from = 0 is the end of picking
  StageSpec pick;
  std::vector<Option> options;   ///< main parts, in order of routes
  std::vector<int> hold_places;  ///< where it may be moved
};

/// Held or by-product food of one lot.
struct PoolSpec {
  int lot = 0;
  Source source = Source::held;
  std::string crop, form;
};

struct WorthSpec {
  double per_kg = 0, full_until = 0, second_until = 0, second_share = 0, tail_share = 0;
  [[nodiscard]] double worth(double amount) const {
    const double a = std::max(0.0, amount);
    return per_kg *
           (std::min(a, full_until) + second_share * std::clamp(a - full_until, 0.0, second_until - full_until) +
            tail_share * std::max(0.0, a - second_until));
  }
  /// Share of per_kg that one kg more brings.
  [[nodiscard]] double slope(double amount) const {
    return amount < full_until ? 1 : amount < second_until ? second_share : tail_share;
  }
};

struct PlaceSpec {
  const HoldPlace* source = nullptr;  ///< null: the unnamed place at 20 degC
  double temp_c = kHoldWarmthC;
  int room = -1;
  double room_per_kg = 1;
};

struct OtherSpec {
  const OtherJob* source = nullptr;
  StageSpec stage;
  Time from = 0;
  Time due = 0;  ///< deadline, or the horizon when there is none
};

/// Hands by their keys, as in Team::mask; who is not here is left out.
[[nodiscard]] std::uint32_t mask_of(const Household& h, const std::vector<std::string>& hands);

/// A near-term stage of the plan in force.
struct NearTerm {
  int lot = 0, route = 0, stage = 0;  ///< stage -1: picking
  Time start = 0;
  std::uint32_t hands = 0;
};

class Project {
 public:
  explicit Project(const Household& household);
  Project(const Project&) = delete;
  Project& operator=(const Project&) = delete;

  const Household& h;
  Time now = 0, horizon = 0;
  int days = 0;
  std::vector<PlaceSpec> places;
  std::vector<RouteSpec> routes;  ///< as in the household
  std::vector<LotSpec> lots;      ///< as in the household
  std::vector<PoolSpec> pools;
  std::vector<WorthSpec> worth;  ///< as in the household
  std::vector<OtherSpec> other;  ///< as in the household
  std::vector<NearTerm> near_term;
  StageSpec trip;  ///< teams empty: nothing can be bought
  int one_job_day = -1;
  double later_minutes = 0;  ///< hand-minutes of the week after

  std::vector<Windows> hand_free;
  std::vector<const scheduling::Calendar*> hand_calendars;
  std::vector<const scheduling::Calendar*> windows;  ///< weather and opening hours, capacity 1

  [[nodiscard]] const Option* option(int lot, int route) const;
  /// Facts of the lot allow the route.
  [[nodiscard]] static bool facts_allow(const Lot& lot, const almanac::Route& route);

 private:
  const scheduling::Calendar* keep(const Windows& windows, Amount capacity);
  int window_for(const almanac::WeatherWindow& asked);
  int window_of_spans(const std::vector<Span>& spans);
  const scheduling::Calendar* together(std::uint32_t mask, int window);
  void build_people();
  void build_places();
  void build_lots();
  void build_routes();
  void build_options();
  void build_other();
  void build_near_term();
  void fill_teams(StageSpec& stage, int least_age, const std::string& skill);
  RouteSpec route_spec(const almanac::Route& route);
  StageSpec stage_spec(const almanac::Stage& stage, const almanac::Stage* before, RouteSpec& route);
  StageSpec picking(const Lot& lot);

  std::deque<scheduling::Calendar> calendars_;  ///< addresses stay
  std::deque<FadeModel> models_;
  std::vector<Windows> window_windows_;
  std::vector<almanac::WeatherWindow> window_asked_;
  std::vector<int> rank_;  ///< of each hand: how many stages it could do
  struct Together {
    std::uint32_t mask;
    int window;
    const scheduling::Calendar* calendar;
  };
  std::vector<Together> together_;
};

}  // namespace stillroom::planning::detail
