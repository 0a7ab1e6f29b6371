#pragma once

#include "ledger/detail/entry_fields.h"
#include "ledger/state.h"

/// JSON of the folded state, for the stored tables. Unlike entry fields these may change: raise
/// kStateShape in rows.h and every household is folded again when it is next opened.
namespace stillroom::ledger {

template <class IO>
void fields(IO& io, Parcel::Stay& v) {
  io.must("from", v.from);
  io.must("place", v.place);
}
template <class IO>
void fields(IO& io, Parcel::Sight& v) {
  io.must("at", v.at);
  io.must("condition", v.condition);
}
template <class IO>
void fields(IO& io, Parcel::Line& v) {
  io.must("at", v.at);
  io.must("way", v.way);
  io.must("mass_g", v.mass);
  io.must("packs", v.packs);
}
template <class IO>
void fields(IO& io, Parcel& v) {
  io.must("id", v.id);
  io.must("food", v.food);
  io.must("form", v.form);
  io.must("mass_g", v.mass);
  io.must("packs", v.packs);
  io.must("pack", v.pack);
  io.must("place", v.place);
  io.must("condition", v.condition);
  std::string state(to_word(v.state));
  io.must("state", state);
  for (const ParcelState s : {ParcelState::waiting, ParcelState::underway, ParcelState::resting, ParcelState::put_by,
                              ParcelState::let_go, ParcelState::eaten}) {
    if (to_word(s) == state) v.state = s;
  }
  io.must("as_said", v.as_said);
  io.must("note", v.note);
  io.must("code", v.code);
  io.must("facts", v.facts);
  io.must("parents", v.parents);
  io.must("batch", v.batch);
  io.must("since", v.since);
  io.must("stays", v.stays);
  io.must("sights", v.sights);
  io.must("lines", v.lines);
  io("eat_by", v.eat_by);
  io.must("process_json", v.process_json);
  io.must("seals_unchecked", v.seals_unchecked);
  io.must("eaten_g", v.eaten);
  io.must("given_g", v.given);
  io.must("thrown_g", v.thrown);
  io.must("fed_g", v.fed);
  io.must("came_g", v.came);
  io.must("used_g", v.used);
  io.must("split_g", v.split);
  io.must("adjusted_g", v.adjusted);
  io.must("packs_made", v.packs_made);
  io.must("made_by", v.made_by);
  io.must("split_from", v.split_from);
}
template <class IO>
void fields(IO& io, BatchState::Trouble& v) {
  io.must("entry", v.entry);
  io.must("at", v.at);
  io.must("fault", v.fault);
  io.must("outcome", v.outcome);
  io.must("stage", v.stage);
}
template <class IO>
void fields(IO& io, BatchState& v) {
  io.must("id", v.id);
  io.must("route", v.route);
  io.must("name", v.name);
  io.must("steps_json", v.steps_json);
  io.must("inputs", v.inputs);
  io.must("started", v.started);
  io.must("stage_started", v.stage_started);
  io.must("stage_finished", v.stage_finished);
  io.must("current_stage", v.current_stage);
  io.must("put_down", v.put_down);
  io.must("finished", v.finished);
  io.must("abandoned", v.abandoned);
  io.must("packed", v.packed);
  io.must("in_g", v.in);
  io.must("packed_g", v.packed_mass);
  io.must("added_g", v.added);
  io.must("lost_g", v.lost);
  io.must("packs_made", v.packs_made);
  io.must("stock_taken", v.stock_taken);
  io.must("stage_who", v.stage_who);
  io.must("clock_from", v.clock_from);
  io.must("clock_failed", v.clock_failed);
  io.must("clock_said", v.clock_said);
  io.must("not_processed", v.not_processed);
  io.must("troubles", v.troubles);
}
template <class IO>
void fields(IO& io, Timer& v) {
  io.must("id", v.id);
  io.must("batch", v.batch);
  io.must("name", v.name);
  io.must("set", v.set);
  io.must("due", v.due);
  io.must("stopped", v.stopped);
  io("note", v.note);
}
template <class IO>
void fields(IO& io, Standing& v) {
  io.must("set", v.set);
  io.must("picked", v.picked);
}
template <class IO>
void fields(IO& io, OtherWork& v) {
  io.must("set", v.set);
  io.must("done", v.done);
}
template <class IO>
void fields(IO& io, Discrepancy& v) {
  io.must("about", v.about);
  io.must("what", v.what);
  io.must("settled", v.settled);
  io.must("code", v.code);
  io.must("thing", v.thing);
  io.must("how", v.how);
}
template <class IO>
void fields(IO& io, TemperaturePoint& v) {
  io.must("at", v.at);
  io.must("temp_c", v.temp_c);
  io("humidity_pct", v.humidity_pct);
}

}  // namespace stillroom::ledger
