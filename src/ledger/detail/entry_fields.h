#pragma once

#include <array>
#include <string_view>
#include <variant>

#include "ledger/entry.h"

/// The JSON fields of every kind of entry, named once for reading and writing (see json_io.h). These names are on
/// people's disks: add, never rename. docs/ledger.md lists them; tests/ledger/older/entries_v1.ndjson pins them.
namespace stillroom::ledger {

/// Kind names in the order of Payload's alternatives.
inline constexpr std::array<std::string_view, std::variant_size_v<Payload>> kKindNames = {"settings_changed",
                                                                                          "person_set",
                                                                                          "person_removed",
                                                                                          "place_set",
                                                                                          "equipment_set",
                                                                                          "stock_set",
                                                                                          "stock_arriving",
                                                                                          "money_set",
                                                                                          "forecast_set",
                                                                                          "temperature_read",
                                                                                          "brought_in",
                                                                                          "standing_set",
                                                                                          "standing_picked",
                                                                                          "sorted",
                                                                                          "moved",
                                                                                          "observed",
                                                                                          "weighed",
                                                                                          "eaten_fresh",
                                                                                          "given_away",
                                                                                          "thrown_away",
                                                                                          "fed_to_stock",
                                                                                          "batch_started",
                                                                                          "stage_started",
                                                                                          "stage_put_down",
                                                                                          "stage_finished",
                                                                                          "batch_abandoned",
                                                                                          "timer_set",
                                                                                          "timer_stopped",
                                                                                          "packed",
                                                                                          "seal_checked",
                                                                                          "taken",
                                                                                          "counted",
                                                                                          "other_work_set",
                                                                                          "other_work_done",
                                                                                          "need_set",
                                                                                          "plan_accepted",
                                                                                          "undone",
                                                                                          "discrepancy_settled",
                                                                                          "put_by_before",
                                                                                          "clock_corrected",
                                                                                          "trouble_met"};

template <class IO>
void fields(IO& io, FreeTime& v) {
  io("weekday", v.weekday);
  io("date", v.date);
  io.must("from_min", v.from_min);
  io.must("to_min", v.to_min);
}
template <class IO>
void fields(IO& io, Person& v) {
  io.must("key", v.key);
  io("name", v.name);
  io("age_years", v.age);
  io("skills", v.skills);
  io("free", v.free);
  io("usable_min_per_h", v.usable_minutes_per_hour);
  io("most_min_per_day", v.most_minutes_per_day);
  io("needs_minding", v.needs_minding);
}
template <class IO>
void fields(IO& io, Place& v) {
  io.must("key", v.key);
  io("name", v.name);
  io("kind", v.kind);
  io("temp_c", v.temp_c);
  io("humidity_pct", v.humidity_pct);
  io("capacity", v.capacity);
}
template <class IO>
void fields(IO& io, Weather& v) {
  io.must("day", v.day);
  io("low_c", v.low_c);
  io("high_c", v.high_c);
  io("rain_mm", v.rain_mm);
  io("wind_kmh", v.wind_kmh);
}
template <class IO>
void fields(IO& io, SettingsChanged& v) {
  io.must("values", v.values);
}
template <class IO>
void fields(IO& io, PersonSet& v) {
  io.must("person", v.person);
}
template <class IO>
void fields(IO& io, PersonRemoved& v) {
  io.must("key", v.key);
}
template <class IO>
void fields(IO& io, PlaceSet& v) {
  io.must("place", v.place);
}
template <class IO>
void fields(IO& io, EquipmentSet& v) {
  io.must("key", v.key);
  io.must("count", v.count);
}
template <class IO>
void fields(IO& io, StockSet& v) {
  io.must("item", v.item);
  io.must("amount", v.amount);
}
template <class IO>
void fields(IO& io, StockArriving& v) {
  io.must("item", v.item);
  io.must("amount", v.amount);
  io.must("day", v.day);
}
template <class IO>
void fields(IO& io, MoneySet& v) {
  io.must("weekly_limit", v.weekly_limit);
}
template <class IO>
void fields(IO& io, ForecastSet& v) {
  io.must("days", v.days);
}
template <class IO>
void fields(IO& io, TemperatureRead& v) {
  io.must("place", v.place);
  io.must("temp_c", v.temp_c);
  io("humidity_pct", v.humidity_pct);
}
template <class IO>
void fields(IO& io, BroughtIn& v) {
  io.must("parcel", v.parcel);
  io.must("crop", v.crop);
  io.must("mass_g", v.mass);
  io("condition", v.condition);
  io("place", v.place);
  io("form", v.form);
  io("note", v.note);
  io("as_said", v.as_said);
  io("facts", v.facts);
}
template <class IO>
void fields(IO& io, StandingSet& v) {
  io.must("key", v.key);
  io.must("crop", v.crop);
  io.must("expected_g", v.expected);
  io.must("ready_from", v.ready_from);
  io.must("ready_to", v.ready_to);
  io("pick_min_per_kg", v.pick_min_per_kg);
  io("note", v.note);
}
template <class IO>
void fields(IO& io, StandingPicked& v) {
  io.must("key", v.key);
  io.must("parcel", v.parcel);
  io.must("mass_g", v.mass);
  io("condition", v.condition);
  io("place", v.place);
  io("more_to_come", v.more_to_come);
  const StandingPicked usual;
  io.added("form", v.form, usual.form);
  io.added("note", v.note, usual.note);
  io.added("facts", v.facts, usual.facts);
}
template <class IO>
void fields(IO& io, Sorted::Part& v) {
  io.must("parcel", v.parcel);
  io.must("mass_g", v.mass);
  io("condition", v.condition);
  io("place", v.place);
}
template <class IO>
void fields(IO& io, Sorted& v) {
  io.must("parcel", v.parcel);
  io.must("parts", v.parts);
  io("discarded_g", v.discarded);
}
template <class IO>
void fields(IO& io, Moved& v) {
  io.must("parcel", v.parcel);
  io.must("place", v.place);
}
template <class IO>
void fields(IO& io, Observed& v) {
  io.must("parcel", v.parcel);
  io("condition", v.condition);
  io("facts", v.facts);
}
template <class IO>
void fields(IO& io, Weighed& v) {
  io.must("parcel", v.parcel);
  io.must("mass_g", v.mass);
}
template <class IO>
void fields(IO& io, EatenFresh& v) {
  io.must("parcel", v.parcel);
  io.must("mass_g", v.mass);
}
template <class IO>
void fields(IO& io, GivenAway& v) {
  io.must("parcel", v.parcel);
  io("mass_g", v.mass);
  io("packs", v.packs);
  io("to", v.to);
}
template <class IO>
void fields(IO& io, ThrownAway& v) {
  io.must("parcel", v.parcel);
  io("mass_g", v.mass);
  io("packs", v.packs);
  io("why", v.why);
}
template <class IO>
void fields(IO& io, FedToStock& v) {
  io.must("parcel", v.parcel);
  io.must("mass_g", v.mass);
}
template <class IO>
void fields(IO& io, BatchStarted::Input& v) {
  io.must("parcel", v.parcel);
  io.must("mass_g", v.mass);
}
template <class IO>
void fields(IO& io, BatchStarted& v) {
  io.must("batch", v.batch);
  io("route", v.route);
  io("name", v.name);
  io.must("inputs", v.inputs);
  io("steps_json", v.steps_json);
}
template <class IO>
void fields(IO& io, StageStarted& v) {
  io.must("batch", v.batch);
  io.must("stage", v.stage);
  io("who", v.who);
}
template <class IO>
void fields(IO& io, StagePutDown& v) {
  io.must("batch", v.batch);
  io.must("stage", v.stage);
}
template <class IO>
void fields(IO& io, StageFinished& v) {
  io.must("batch", v.batch);
  io.must("stage", v.stage);
}
template <class IO>
void fields(IO& io, ClockCorrected& v) {
  io.must("batch", v.batch);
  io.must("stage", v.stage);
  io.must("began", v.began);
}
template <class IO>
void fields(IO& io, TroubleMet& v) {
  io.must("fault", v.fault);
  io.must("outcome", v.outcome);
  io("batch", v.batch);
  io("stage", v.stage);
  io("place", v.place);
  io("parcels", v.parcels);
  io("packs", v.packs);
  io("elapsed_min", v.elapsed_min);
  io("note", v.note);
}
template <class IO>
void fields(IO& io, BatchAbandoned& v) {
  io.must("batch", v.batch);
  io("why", v.why);
  io("give_back", v.give_back);
}
template <class IO>
void fields(IO& io, TimerSet& v) {
  io.must("timer", v.timer);
  io("batch", v.batch);
  io("name", v.name);
  io.must("due", v.due);
  io("note", v.note);
}
template <class IO>
void fields(IO& io, TimerStopped& v) {
  io.must("timer", v.timer);
}
template <class IO>
void fields(IO& io, Packed& v) {
  io.must("batch", v.batch);
  io.must("parcel", v.parcel);
  io.must("food", v.food);
  io("form", v.form);
  io("pack", v.pack);
  io.must("packs", v.packs);
  io("mass_g", v.mass);
  io("place", v.place);
  io("code", v.code);
  io.day_if_said("eat_by", v.eat_by);
  io("keeps_months", v.keeps_months);
}
template <class IO>
void fields(IO& io, PutByBefore& v) {
  io.must("parcel", v.parcel);
  io.must("food", v.food);
  io("form", v.form);
  io("pack", v.pack);
  io.must("packs", v.packs);
  io.must("mass_g", v.mass);
  io("place", v.place);
  io("code", v.code);
  io("note", v.note);
  io.day_if_said("eat_by", v.eat_by);
  io("keeps_months", v.keeps_months);
}
template <class IO>
void fields(IO& io, SealChecked& v) {
  io.must("parcel", v.parcel);
  io.must("sealed", v.sealed);
  io.must("failed", v.failed);
}
template <class IO>
void fields(IO& io, Taken& v) {
  io.must("parcel", v.parcel);
  io.must("packs", v.packs);
  io("why", v.why);
}
template <class IO>
void fields(IO& io, Counted& v) {
  io.must("parcel", v.parcel);
  io.must("packs", v.packs);
}
template <class IO>
void fields(IO& io, OtherWorkSet& v) {
  io.must("key", v.key);
  io("name", v.name);
  io("minutes", v.minutes);
  io("hands", v.hands);
  io("least_age_years", v.least_age);
  io("not_before", v.not_before);
  io("deadline", v.deadline);
  io("importance", v.importance);
  io("can_split", v.can_split);
  io("daylight", v.daylight);
  io("dry", v.dry);
  io("min_temp_c", v.min_temp_c);
  io("max_wind_kmh", v.max_wind_kmh);
}
template <class IO>
void fields(IO& io, OtherWorkDone& v) {
  io.must("key", v.key);
}
template <class IO>
void fields(IO& io, NeedSet& v) {
  io.must("food", v.food);
  io("form", v.form);
  io("per_year_kg", v.per_year_kg);
  io("weight", v.weight);
}
template <class IO>
void fields(IO& io, PlanAccepted& v) {
  io.must("plan_json", v.plan_json);
  io("last_entry", v.last_entry);
}
template <class IO>
void fields(IO& io, Undone& v) {
  io.must("entry", v.entry);
  io("also", v.also);
}
template <class IO>
void fields(IO& io, DiscrepancySettled& v) {
  io.must("about", v.about);
  io("how", v.how);
}

}  // namespace stillroom::ledger
