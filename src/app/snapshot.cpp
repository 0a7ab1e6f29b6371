#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "app/app.h"
#include "app/detail/calendar.h"
#include "app/detail/family_meal.h"
#include "app/detail/learning.h"
#include "app/detail/names.h"
#include "app/detail/need.h"
#include "app/detail/plan_store.h"
#include "app/detail/routes_here.h"
#include "app/detail/waiting.h"
#include "kitchen/batch.h"

// From the ledger to the planner's immutable snapshot.
namespace stillroom::app {
namespace {

constexpr int kDayMinutes = 1440;

struct Frame {  // where minute 0 is
  detail::Settings settings;
  measure::Date first_day;
  planning::Minute now = 0;

  [[nodiscard]] planning::Minute minute_of(Instant t) const {
    const auto local = settings.zone.to_local(t).time_since_epoch();
    const auto zero = measure::LocalTime{first_day.time_since_epoch()}.time_since_epoch();
    return static_cast<planning::Minute>(std::chrono::floor<std::chrono::minutes>(local - zero).count());
  }
  [[nodiscard]] planning::Minute minute_of(measure::Date day) const {
    return static_cast<planning::Minute>((day - first_day).count()) * kDayMinutes;
  }
};

void add_lots(const House& h, Instant now, const Frame& frame, planning::Household& out) {
  const ledger::State& state = h.ledger.state();
  for (const auto& [id, parcel] : state.parcels) {
    if (!detail::goes_on(h.almanac, parcel)) continue;
    const detail::Waiting waiting = detail::waiting_of(h.almanac, state, parcel, now);
    planning::Lot lot{.id = id.hex(),
                      .crop = parcel.food,
                      .name = detail::parcel_name(h.almanac, parcel),
                      .form = parcel.form,
                      .kg = measure::in_kilograms(parcel.mass),
                      .ready = frame.now,
                      .place = parcel.place,
                      .belief = waiting.belief,
                      .model = waiting.model,
                      .hazard_by = std::nullopt,
                      .facts = parcel.facts};
    if (waiting.hazard_by) lot.hazard_by = frame.minute_of(*waiting.hazard_by);
    out.lots.push_back(std::move(lot));
  }
}

void add_standing(const House& h, const Frame& frame, planning::Household& out) {
  const ledger::State& state = h.ledger.state();
  for (const auto& [key, standing] : state.standing) {
    const planning::Minute by = frame.minute_of(standing.set.ready_to) + kDayMinutes;
    if (standing.picked || by <= frame.now) continue;
    const std::string plural = detail::crop_plural(h.almanac, standing.set.crop);
    planning::Lot lot{.id = key,
                      .crop = standing.set.crop,
                      .name = plural + ", " + detail::standing_words(h.almanac, standing.set.crop),
                      .pick_word = detail::is_animal(h.almanac, standing.set.crop) ? "Butcher" : "Pick",
                      .pick_what = plural,
                      .form = detail::usual_form(h.almanac, standing.set.crop),
                      .kg = measure::in_kilograms(standing.set.expected),
                      .ready = std::max(frame.now, frame.minute_of(standing.set.ready_from)),
                      .pick_by = by,
                      .pick_min_per_kg = standing.set.pick_min_per_kg,
                      .facts = {}};
    for (const char* kind : {"cool_room", "porch", "counter", "cellar"}) {
      for (const auto& [place_key, place] : state.places) {
        if (lot.place.empty() && place.kind == kind) lot.place = place_key;
      }
    }
    if (const auto model = keeping::model_for(h.almanac, standing.set.crop)) {
      lot.model = *model;
      lot.belief = keeping::at_bring_in(*model, almanac::Condition::firm);
    }
    out.lots.push_back(std::move(lot));
  }
}

/// Fresh eating: the household's own figure for the food eaten fresh, shared over its waiting lots by mass.
void add_fresh_eating(const ledger::State& state, planning::Household& out) {
  for (const ledger::NeedSet& need : state.needs) {
    if (need.form != "fresh") continue;
    double total = 0;
    for (const planning::Lot& lot : out.lots) total += lot.crop == need.food && lot.form == "fresh" ? lot.kg : 0;
    for (planning::Lot& lot : out.lots) {
      if (lot.crop == need.food && lot.form == "fresh" && total > 0)
        lot.eaten_kg_per_day = need.per_year_kg / 365.0 * lot.kg / total;
    }
  }
}

void add_routes(const House& h, const kitchen::Learned& learned, planning::Household& out) {
  const ledger::State& state = h.ledger.state();
  const double share = detail::meal_share(state);
  std::set<std::string> seen;
  for (const planning::Lot& lot : out.lots) {
    for (const almanac::Route* route : h.almanac.routes.for_crop(h.almanac.crops, lot.crop)) {
      if (!seen.insert(route->key).second) continue;
      const auto process = detail::process_here(h.almanac, state, *route, lot.crop, {});
      if (!process) continue;
      const almanac::Route sized = detail::for_family(*route, share);
      out.routes.push_back(learned.as_here(detail::timed_route(sized, *process)));
    }
  }
}

void add_worth(const House& h, const Frame& frame, planning::Household& out) {
  const ledger::State& state = h.ledger.state();
  const double eaters = detail::eaters_of(state, frame.settings);
  std::map<std::pair<std::string, std::string>, double> price;
  for (const almanac::Route& route : out.routes) {
    if (route.is_hold || route.product_food.empty() || route.yield_kg_per_kg <= 0) continue;
    double& per_kg = price[{route.product_food, route.product_form}];
    per_kg = std::max(per_kg, route.worth_per_kg_in / route.yield_kg_per_kg);
  }
  for (const auto& [product, per_kg] : price) {
    const detail::Need need = detail::need_of(h.almanac, state, eaters, product.first, product.second);
    out.worth.push_back({.food = product.first,
                         .form = product.second,
                         .per_kg = per_kg * need.weight,
                         .need_kg = need.kg_per_year,
                         .have_kg = detail::put_by_kg(h.almanac, state, product.first, product.second)});
  }
}

void add_places_and_rooms(const ledger::State& state, planning::Household& out) {
  double freezer_l = 0, cellar_kg = 0;
  bool freezer_limited = false, cellar_limited = false;
  for (const auto& [key, place] : state.places) {
    std::string room;
    double used = 0;
    for (const auto& [id, parcel] : state.parcels) {
      if (parcel.place == key && parcel.mass > measure::grams(1)) used += measure::in_kilograms(parcel.mass);
    }
    constexpr double kLitresPerKg = 1.6;  // common practice, as in docs/science/planning_model.md
    if (place.kind == "freezer") {
      room = "freezer_l";
      freezer_limited = freezer_limited || place.capacity > 0;
      freezer_l += std::max(0.0, place.capacity - used * kLitresPerKg);
    } else if (place.kind == "cellar") {
      room = "cellar_kg";
      cellar_limited = cellar_limited || place.capacity > 0;
      cellar_kg += std::max(0.0, place.capacity - used);
    } else if (place.kind == "fridge") {
      room = "chill_l";
      if (place.capacity > 0) out.rooms.push_back({"chill_l", std::max(0.0, place.capacity - used * kLitresPerKg)});
    }
    out.places.push_back({.key = key,
                          .name = place.name,
                          .kind = place.kind,
                          .temp_c = detail::temperature_now(state, key).in_celsius(),
                          .humidity_pct = place.humidity_pct,
                          .room = room});
  }
  if (freezer_limited) out.rooms.push_back({"freezer_l", freezer_l});
  if (cellar_limited) out.rooms.push_back({"cellar_kg", cellar_kg});
  const auto daily = state.settings.find("freeze_kg_per_day");
  if (daily != state.settings.end()) {
    out.rooms.push_back({"freezer_kg_per_day", std::strtod(daily->second.c_str(), nullptr)});
  } else if (freezer_limited) {
    // Makers and extension bulletins give 2 to 3 lb per cubic foot a day: 2.5 lb = 40 g per litre (common practice).
    double all_l = 0;
    for (const auto& [key, place] : state.places) all_l += place.kind == "freezer" ? place.capacity : 0;
    out.rooms.push_back({"freezer_kg_per_day", all_l * 0.04});
  }
}

void add_stock(const ledger::State& state, const Frame& frame, planning::Household& out) {
  for (const auto& [item, amount] : state.stock) {
    planning::StockLevel level{.item = item, .amount = amount, .arriving = {}};
    for (const ledger::StockArriving& coming : state.arriving) {
      const planning::Minute at = frame.minute_of(coming.day) + 12 * 60;
      if (coming.item == item && at > frame.now) level.arriving.push_back({at, coming.amount});
    }
    out.stock.push_back(std::move(level));
  }
}

void add_other_work(const ledger::State& state, const Frame& frame, planning::Household& out) {
  for (const auto& [key, work] : state.other_work) {
    if (work.done) continue;
    const ledger::OtherWorkSet& set = work.set;
    out.other.push_back(
        {.key = key,
         .name = set.name,
         .minutes = std::max(5, static_cast<int>(std::lround(set.minutes))),
         .hands = set.hands,
         .least_age = set.least_age,
         .not_before = set.not_before ? std::max(0, frame.minute_of(*set.not_before)) : 0,
         .deadline = set.deadline ? std::max(1, frame.minute_of(*set.deadline) + kDayMinutes) : 0,
         .importance = set.importance,
         .can_split = set.can_split,
         .weather_windows = detail::windows_of(set, frame.settings, out.weather, frame.first_day, out.days)});
  }
}

/// How this kitchen's minutes compare with the published ones at a step; 1 until there are batches enough.
double pace_of(const kitchen::Learned& learned, const almanac::Route* route, const std::string& step) {
  if (route == nullptr) return 1;
  const kitchen::Refined r = learned.of(*route, kitchen::stage_of_step(step));
  return r.weight >= kitchen::kEnoughWeight ? r.factor : 1;
}

/// The eldest who is there the whole time and old enough, or nobody; a person named on the stage would need an entry of
/// its own.
const planning::Hand* hand_for(const std::vector<planning::Hand>& hands, const kitchen::Step& step,
                               const planning::Span& span) {
  const planning::Hand* who = nullptr;
  for (const planning::Hand& hand : hands) {
    if (hand.age < step.least_age || (who != nullptr && hand.age <= who->age)) continue;
    const bool there = std::ranges::any_of(
        hand.free, [&](const planning::Span& free) { return free.from <= span.from && free.to >= span.to; });
    if (there) who = &hand;
  }
  return who;
}

/// What a step holds: a load's own step what one canner load takes, any other what the whole batch does.
std::vector<almanac::EquipmentUse> equipment_held(const almanac::Route& route, double kg, const kitchen::Step& step) {
  std::vector<almanac::EquipmentUse> held;
  const almanac::Stage* stage = kitchen::route_stage(route, step.stage);
  if (stage == nullptr) return held;
  const double full = almanac::canner_load_kg(route);
  const double of_step = step.load > 0 ? std::min(full, kg - (step.load - 1) * full) : kg;
  // The batch as a whole counts loads of its pot; the card's are those of the canner.
  const int loads = step.load > 0 ? 1 : almanac::loads_for(route, kg);
  for (const almanac::EquipmentUse& use : stage->equipment)
    held.push_back({use.key, {use.amount.at(of_step, loads), 0, 0}});
  return held;
}

/// Puts the steps of a card one after another. Jars of a load that rest hold up nothing but the step that looks at
/// them after the last load.
class OneAfterAnother {
 public:
  explicit OneAfterAnother(planning::Minute now) : now_(now), line_(now), rested_(now) {}

  /// `begun`: when it was, if it was. Empty for a step that should be over.
  planning::Span place(const kitchen::Step& step, std::optional<planning::Minute> begun, double minutes) {
    if (step.load == 0 && after_rest_) line_ = std::max(line_, rested_);
    const int lag = static_cast<int>(std::ceil(step.lag_min_min.value_or(0)));
    const planning::Minute from = begun ? *begun : line_ + lag;
    const planning::Span span{std::max(from, now_), from + std::max(5, static_cast<int>(std::ceil(minutes)))};
    after_rest_ = step.load > 0 && step.attention == "unattended";
    planning::Minute& end = after_rest_ ? rested_ : line_;
    end = std::max(end, span.to);
    return span;
  }

 private:
  planning::Minute now_;
  planning::Minute line_;    ///< where whoever does the work, and the canner, have come to
  planning::Minute rested_;  ///< when the jars of every load so far have rested
  bool after_rest_ = false;
};

/// Stages of batches underway that are still to come hold their people and equipment, every canner load its own: one
/// after another from now, or from when they began, each as long as its card says, or as this kitchen is known to take.
void add_committed(const House& h, const kitchen::Learned& learned, const Frame& frame, planning::Household& out) {
  for (const auto& [id, batch] : h.ledger.state().batches) {
    if (batch.finished || batch.abandoned) continue;
    const auto card = kitchen::card_from_json(batch.steps_json);
    if (!card) continue;
    const almanac::Route* route = h.almanac.routes.find(batch.route);
    OneAfterAnother order(frame.now);
    for (const kitchen::Step& step : card->steps) {
      if (batch.stage_finished.contains(step.stage)) continue;
      const auto begun = batch.stage_started.find(step.stage);
      const auto since =
          begun == batch.stage_started.end() ? std::nullopt : std::optional(frame.minute_of(begun->second));
      const planning::Span span = order.place(step, since, step.expected_min * pace_of(learned, route, step.stage));
      if (span.to <= span.from) continue;
      planning::Committed held{
          .batch = id.hex(), .stage = step.stage, .name = step.title, .span = span, .hands = {}, .equipment = {}};
      const planning::Hand* who = step.attention == "unattended" ? nullptr : hand_for(out.hands, step, span);
      if (who != nullptr) held.hands.push_back(who->key);
      if (route != nullptr) held.equipment = equipment_held(*route, card->kg_in, step);
      out.committed.push_back(std::move(held));
      if (step.load == 0 && step.attention == "unattended" && step.expected_min > kDayMinutes)
        break;  // what follows weeks later does not bind now
    }
  }
}

}  // namespace

Result<planning::Household> snapshot_for_planning(const House& h, Instant now) {
  const ledger::State& state = h.ledger.state();
  Frame frame;
  frame.settings = detail::settings_of(state);
  frame.first_day = frame.settings.zone.date_of(now);
  frame.now = frame.minute_of(now);
  const kitchen::Learned learned = detail::learned_by(h);
  planning::Household out;
  out.first_day = frame.first_day;
  out.now = frame.now;
  out.days = frame.settings.horizon_days;
  out.effort_per_hour = frame.settings.effort_per_hour;
  out.hands = detail::hands_of(state, frame.settings, frame.first_day, out.days);
  out.weather = detail::weather_of(state, frame.settings, frame.first_day, out.days);
  out.equipment = detail::equipment_of(state);
  add_places_and_rooms(state, out);
  add_stock(state, frame, out);
  add_lots(h, now, frame, out);
  add_standing(h, frame, out);
  add_fresh_eating(state, out);
  add_routes(h, learned, out);
  add_worth(h, frame, out);
  add_other_work(state, frame, out);
  add_committed(h, learned, frame, out);
  out.money_per_week = state.weekly_money.value_or(0);
  if (frame.settings.one_job_day && *frame.settings.one_job_day >= frame.first_day) {
    out.one_job_day = frame.minute_of(*frame.settings.one_job_day);
  }
  out.in_force = detail::placed_before(state.plan_json, frame.first_day);
  return out;
}

}  // namespace stillroom::app
