#include "app/json.h"

#include <nlohmann/json.hpp>

#include "app/butchering.h"

namespace nlohmann {
template <class T>
struct adl_serializer<std::optional<T>> {
  static void to_json(json& j, const std::optional<T>& v) {
    if (v) {
      j = *v;
    } else {
      j = nullptr;
    }
  }
};
}  // namespace nlohmann

// One line per view: the fields in the order of views.h.
#define STILLROOM_VIEW(Type, ...)                                           \
  static void to_json(nlohmann::json& json_out, const Type& view) {         \
    NLOHMANN_JSON_EXPAND(NLOHMANN_JSON_PASTE(STILLROOM_FIELD, __VA_ARGS__)) \
  }
#define STILLROOM_FIELD(field) json_out[#field] = view.field;

namespace stillroom::app {

STILLROOM_VIEW(HouseholdView, name, place, altitude_ft, units, zone, now, now_utc, sequence, empty)
STILLROOM_VIEW(StartQuestion, key, question, help, answer, skipped)
STILLROOM_VIEW(DaysLeftView, low, likely, high, words)
STILLROOM_VIEW(StripMark, from, to, title, kind)
STILLROOM_VIEW(StripView, lot, name, amount, place, place_key, condition, form, crop, mass_kg, standing, hazard_by,
               days_left, usable, usable_low, usable_high, step_days, marks, loss_per_day, loss_kg_per_day,
               cost_of_waiting, cost_words, next_move, next_at, let_go_reason, caution)
STILLROOM_VIEW(TaskView, start, end, title, why, hands, attention, lot, batch, route, stage, other, state)
STILLROOM_VIEW(NextView, title, why, detail, action, button, lot, batch, route, place, other, parcel, kg, hands,
               minutes)
STILLROOM_VIEW(TimerView, id, name, batch, batch_name, due, seconds_left, note)
STILLROOM_VIEW(RunningView, batch, name, stage, title, state, since, progress)
STILLROOM_VIEW(ObjectiveView, put_by, still_sound, materials, energy, effort, lateness, change, total)
STILLROOM_VIEW(ClashView, kind, what, way_out, about)
STILLROOM_VIEW(HistoryLine, at, words, entry, undone)
STILLROOM_VIEW(DiscrepancyView, about, code, what, said, at, who, before, lot, batch, parcel)
STILLROOM_VIEW(DayView, household, next, timers, running, today, strips, notices, discrepancies, clashes, objective,
               plan_stale, seconds_to_plan)
STILLROOM_VIEW(AheadDay, date, weekday, tasks, weather, hours_planned, hours_free)
STILLROOM_VIEW(AheadView, household, days, strips, objective)
STILLROOM_VIEW(LotChanceView, lot, name, amount, saved, saved_error, loss_kg, loss_kg_error, loss_usd, loss_usd_error,
               chance_words, loss_words)
STILLROOM_VIEW(DayLoadView, date, weekday, hours, hours_low, hours_high)
STILLROOM_VIEW(ForecastView, household, seasons, cut_short, saved_means, lots, days, value, value_error, value_low,
               value_high, planned, at_most, value_words)
STILLROOM_VIEW(ButcheringLine, key, what, amount, then, source)
STILLROOM_VIEW(ButcheringView, crop, words, count, whole, each_kg, dressed_kg, clock, killed, use_by, standing,
               freeze_kg, freeze_days, too_much_to_freeze, lines, cautions)
STILLROOM_VIEW(LearnedLine, route, crop, stage, route_name, what, published, source, checked, yours, sure, from, kg,
               published_value, value, low, high, batches, left_out, lent, used)
STILLROOM_VIEW(LearnedView, household, words, enough, lines)
STILLROOM_VIEW(RouteChoice, route, name, method, product, quality, accepted, why_not, packs, hours, worth, process_line,
               kg_most, planned)
STILLROOM_VIEW(LotView, strip, routes, history, facts, why, lie_apart, best_place)
STILLROOM_VIEW(StepView, stage, title, text, caution, attention, state, expected, started, finished, can_pause,
               shows_process, looks_right, load, put_down_words, gather, timers, hands)
STILLROOM_VIEW(ProcessView, method, jar, time, pressure, headspace, added_acid, altitude_band, source, place, edition,
               requirements)
STILLROOM_VIEW(TroubleSpan, from_min, to_min, then, source, outcomes)
STILLROOM_VIEW(TroubleView, fault, what, asks, see, spans)
STILLROOM_VIEW(DoubtView, parcel, name, why)
STILLROOM_VIEW(TroubleAnswer, what, then, source, outcomes, packs)
STILLROOM_VIEW(AlsoMadeView, food, form, name, amount, kg, place_key)
STILLROOM_VIEW(DeadlineView, what, by, overdue, when_overdue, minutes_left)
STILLROOM_VIEW(BatchView, household, id, name, route, state, kg_in, packs_expected, amount, pack, product_food,
               product_form, store_in, store_key, eat_by, steps, current, process, timers, cautions, defer_to, troubles,
               went_wrong, processed, not_food, in_doubt, lots, seal_check_due, seal_check_from, packed_parcel,
               next_code, also, deadlines, not_before)
STILLROOM_VIEW(PackView, parcel, code, name, food, form, pack, place, place_key, put_by, eat_by, batch, lots, packs,
               mass_kg, seals_unchecked, eat_first, note, process_line, do_not_eat)
STILLROOM_VIEW(LarderShelf, place, place_key, packs, troubles, holds)
STILLROOM_VIEW(LarderView, household, shelves, eat_first, totals)
STILLROOM_VIEW(CropChoice, key, name, foraged, animal, containers, container_kg)
STILLROOM_VIEW(PlaceChoice, key, name, kind)
STILLROOM_VIEW(RecentCrop, crop, place, condition, as_said)
STILLROOM_VIEW(Snapshot, household, crops, recent, places, conditions, people, people_keys, codes)
STILLROOM_VIEW(HelpTask, key, title, text, caution, why, action, batch, stage, state, lot, place, other)
STILLROOM_VIEW(HelpView, household, person, name, tasks, none)
STILLROOM_VIEW(BringInDraft, crop, crop_name, form, amount_said, condition, place, place_name, mass_kg, mass_words,
               how_found, when)

namespace {

template <class View>
std::string view_text(const View& v) {
  return nlohmann::json(v).dump();
}

nlohmann::json refusal_json(const measure::Refusal& r) {
  return {{"ok", false}, {"code", r.code}, {"message", r.message}, {"instead", r.instead}};
}

}  // namespace

std::string to_json(const HouseholdView& v) { return view_text(v); }
std::string to_json(const std::vector<StartQuestion>& v) { return view_text(v); }
std::string to_json(const DayView& v) { return view_text(v); }
std::string to_json(const AheadView& v) { return view_text(v); }
std::string to_json(const ForecastView& v) { return view_text(v); }
std::string to_json(const LotView& v) { return view_text(v); }
std::string to_json(const BatchView& v) { return view_text(v); }
std::string to_json(const std::vector<BatchView>& v) { return view_text(v); }
std::string to_json(const std::vector<TimerView>& v) { return view_text(v); }
std::string to_json(const std::vector<TroubleView>& v) { return view_text(v); }
std::string to_json(const TroubleAnswer& v) { return view_text(v); }
std::string to_json(const LarderView& v) { return view_text(v); }
std::string to_json(const ButcheringView& v) { return view_text(v); }
std::string to_json(const LearnedView& v) { return view_text(v); }
std::string to_json(const HelpView& v) { return view_text(v); }
std::string to_json(const Snapshot& v) { return view_text(v); }
std::string to_json(const BringInDraft& v) { return view_text(v); }
std::string to_json(const std::vector<HistoryLine>& v) { return view_text(v); }

std::string to_json(const std::vector<Received>& v) {
  nlohmann::json out = nlohmann::json::array();
  for (const Received& r : v) {
    nlohmann::json one = {{"id", r.id}, {"stored", r.stored}, {"refusal", nullptr}};
    if (r.refusal) one["refusal"] = refusal_json(*r.refusal);
    out.push_back(std::move(one));
  }
  return out.dump();
}

std::string to_json(const CsvBringIn& v) {
  nlohmann::json bad = nlohmann::json::array();
  for (const BadRow& row : v.bad) {
    nlohmann::json one = refusal_json(row.refusal);
    one["line"] = row.line;
    bad.push_back(std::move(one));
  }
  return nlohmann::json{{"ok", v.bad.empty()}, {"kept", v.kept}, {"bad", bad}}.dump();
}

std::string to_json(const planning::Why& v) {
  nlohmann::json waiting = nlohmann::json::array();
  for (const auto& w : v.waiting) waiting.push_back({{"days", w.days}, {"cost", w.cost}, {"noise", w.noise}});
  return nlohmann::json{{"lot", v.lot},
                        {"sentences", v.sentences},
                        {"waiting", waiting},
                        {"binding", v.binding},
                        {"next_best", v.next_best},
                        {"next_best_loss", v.next_best_loss},
                        {"would_save", v.would_save}}
      .dump();
}

std::string about_json(const std::string& about, const LearnedView& learned) {
  nlohmann::json out = nlohmann::json::parse(about);
  out["learned"] = learned.lines;
  return out.dump();
}

std::string to_json(const measure::Refusal& r) { return refusal_json(r).dump(); }

std::string checked_json(const std::vector<std::string>& faults) {
  return nlohmann::json{{"ok", faults.empty()}, {"faults", faults}}.dump();
}

std::string done_json(const std::string& id) { return nlohmann::json{{"ok", true}, {"id", id}}.dump(); }

}  // namespace stillroom::app
