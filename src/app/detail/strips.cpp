#include "app/detail/strips.h"

#include <fmt/format.h>

#include <algorithm>

#include "app/detail/names.h"
#include "app/detail/settings.h"

namespace stillroom::app::detail {
namespace {

constexpr double kStepDays = 0.5;

/// Temperature of where the lot waits at a minute, by its own place and the plan's holds.
struct Whereabouts {
  struct From {
    planning::Minute at;
    double temp_c;
  };
  std::vector<From> moves;  ///< in time order, the first from now

  [[nodiscard]] double temp_c(planning::Minute t) const {
    double temp = moves.front().temp_c;
    for (const From& move : moves) temp = move.at <= t ? move.temp_c : temp;
    return temp;
  }
};

double place_temp(const planning::Household& snapshot, std::string_view key_or_kind) {
  for (const auto& place : snapshot.places) {
    if (place.key == key_or_kind) return place.temp_c;
  }
  for (const auto& place : snapshot.places) {
    if (place.kind == key_or_kind) return place.temp_c;
  }
  return 20.0;
}

const almanac::Route* route_of(const planning::Household& snapshot, std::string_view key) {
  const auto it =
      std::find_if(snapshot.routes.begin(), snapshot.routes.end(), [&](const auto& r) { return r.key == key; });
  return it == snapshot.routes.end() ? nullptr : &*it;
}

bool has_part(const planning::PlannedBatch& batch, std::string_view lot) {
  return std::any_of(batch.parts.begin(), batch.parts.end(), [&](const auto& p) { return p.lot == lot; });
}

Whereabouts whereabouts_of(const planning::Household& snapshot, const planning::Plan& plan, const planning::Lot& lot) {
  Whereabouts w;
  w.moves.push_back({snapshot.now, place_temp(snapshot, lot.place)});
  for (const planning::PlannedHold& hold : plan.holds) {
    if (hold.lot == lot.id) w.moves.push_back({hold.from, place_temp(snapshot, hold.place)});
  }
  for (const planning::PlannedBatch& batch : plan.batches) {
    const almanac::Route* route = route_of(snapshot, batch.route);
    if (route == nullptr || !route->is_hold || !has_part(batch, lot.id) || batch.stages.empty()) continue;
    w.moves.push_back({batch.stages.back().span.to, place_temp(snapshot, route->hold_place)});
  }
  std::sort(w.moves.begin() + 1, w.moves.end(), [](const auto& a, const auto& b) { return a.at < b.at; });
  return w;
}

double days_from_now(const planning::Household& snapshot, planning::Minute t) { return (t - snapshot.now) / 1440.0; }

void add_marks(const planning::Household& snapshot, const planning::Plan& plan, const planning::Lot& lot,
               StripView& strip) {
  for (const planning::PlannedHold& hold : plan.holds) {
    if (hold.lot != lot.id) continue;
    const double at = days_from_now(snapshot, hold.from);
    strip.marks.push_back({at, at, "to the " + hold.place, "hold"});
  }
  for (const planning::PlannedBatch& batch : plan.batches) {
    if (!has_part(batch, lot.id) || batch.stages.empty()) continue;
    const almanac::Route* route = route_of(snapshot, batch.route);
    const bool hold = route != nullptr && route->is_hold;
    for (const planning::PlacedStage& stage : batch.stages) {
      if (stage.attention == almanac::Attention::unattended && !hold) continue;  // waiting on a rack is no mark
      strip.marks.push_back({days_from_now(snapshot, stage.span.from), days_from_now(snapshot, stage.span.to),
                             stage.name,
                             stage.stage == "pick" ? "pick"
                             : hold                ? "hold"
                                                   : "stage"});
    }
  }
  std::sort(strip.marks.begin(), strip.marks.end(), [](const auto& a, const auto& b) { return a.from < b.from; });
}

void add_curve(const planning::Household& snapshot, const planning::Plan& plan, const planning::Lot& lot,
               StripView& strip) {
  const int steps = static_cast<int>(snapshot.days / kStepDays) + 1;
  strip.step_days = kStepDays;
  if (!lot.model) {
    // Food on a hard clock is all there until the clock ends; food that does not fade is all there throughout.
    for (int i = 0; i < steps; ++i) {
      const double at = snapshot.now + i * kStepDays * 1440;
      const double share = lot.hazard_by && at > *lot.hazard_by ? 0.0 : 1.0;
      strip.usable.push_back(share);
      strip.usable_low.push_back(share);
      strip.usable_high.push_back(share);
    }
    return;
  }
  const Whereabouts where = whereabouts_of(snapshot, plan, lot);
  keeping::Belief belief = lot.belief;
  for (int i = 0; i < steps; ++i) {
    strip.usable.push_back(keeping::usable_share(*lot.model, belief.age));
    strip.usable_low.push_back(keeping::usable_share(*lot.model, belief.age_high));
    strip.usable_high.push_back(keeping::usable_share(*lot.model, belief.age_low));
    const auto at = snapshot.now + static_cast<planning::Minute>(i * kStepDays * 1440);
    if (at < lot.ready) continue;  // still growing
    belief =
        keeping::advance(*lot.model, belief, measure::days(kStepDays), measure::Temperature::celsius(where.temp_c(at)));
  }
}

}  // namespace

const planning::Lot* lot_of(const planning::Household& snapshot, std::string_view id) {
  const auto it = std::find_if(snapshot.lots.begin(), snapshot.lots.end(), [&](const auto& l) { return l.id == id; });
  return it == snapshot.lots.end() ? nullptr : &*it;
}

StripView strip_of(const House& h, const planning::Household& snapshot, const planning::Plan& plan,
                   const planning::LotOutlook& outlook) {
  StripView strip;
  strip.lot = outlook.lot;
  const planning::Lot* lot = lot_of(snapshot, outlook.lot);
  if (lot == nullptr) return strip;
  const ledger::State& state = h.ledger.state();
  const Settings settings = settings_of(state);
  const measure::Units units = units_of(settings);
  strip.crop = lot->crop;
  strip.form = lot->form;
  strip.mass_kg = lot->kg;
  strip.standing = lot->pick_by > 0;
  strip.place_key = lot->place;
  strip.place = strip.standing ? standing_words(h.almanac, lot->crop) : place_name(state, lot->place);
  strip.amount = measure::say(measure::kilograms(lot->kg), units);
  strip.name = crop_plural(h.almanac, lot->crop);
  if (lot->form != "fresh" && !strip.standing) {
    std::string form = lot->form;
    std::replace(form.begin(), form.end(), '_', ' ');
    strip.name += ", " + form;
  }
  strip.condition = lot->model ? std::string(almanac::to_word(keeping::condition_of(lot->belief))) : "";
  if (lot->hazard_by) strip.hazard_by = local_text(snapshot.first_day, *lot->hazard_by);
  strip.days_left = days_words(outlook.days_left_low, outlook.days_left, outlook.days_left_high);
  if (!lot->model && !lot->hazard_by) strip.days_left.words = "keeps beyond the days planned";
  strip.loss_kg_per_day = outlook.loss_kg_per_day;
  strip.cost_of_waiting = outlook.cost_of_waiting;
  if (outlook.loss_kg_per_day >= 0.01) {
    strip.loss_per_day = "about " + measure::say(measure::kilograms(outlook.loss_kg_per_day), units) + " a day";
  }
  if (outlook.cost_of_waiting >= 0.05) {
    strip.cost_words = "about " + measure::say_money(outlook.cost_of_waiting) + " a day, estimated";
  }
  strip.next_move = outlook.next_move;
  if (outlook.next_at) strip.next_at = local_text(snapshot.first_day, *outlook.next_at);
  strip.let_go_reason = outlook.let_go_reason;
  const almanac::Crop* crop = h.almanac.crops.find(lot->crop);
  if (crop != nullptr && crop->foraged) strip.caution = "Foraged: be certain what it is before anyone eats it.";
  add_marks(snapshot, plan, *lot, strip);
  add_curve(snapshot, plan, *lot, strip);
  return strip;
}

std::vector<StripView> strips_of(const House& h, const planning::Household& snapshot, const planning::Plan& plan) {
  std::vector<StripView> out;
  out.reserve(plan.lots.size());
  for (const planning::LotOutlook& outlook : plan.lots) out.push_back(strip_of(h, snapshot, plan, outlook));
  return out;
}

}  // namespace stillroom::app::detail
