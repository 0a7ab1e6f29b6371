#pragma once

#include <optional>
#include <string>
#include <vector>

/// What a person is shown: plain values with ready-made words in the household's units. The CLI prints them, the
/// service sends them as JSON with exactly these field names (app/json.cpp), the pages draw them. Local times are
/// "YYYY-MM-DDThh:mm".
namespace stillroom::app {

struct HouseholdView {
  std::string name, place;
  std::optional<double> altitude_ft;
  std::string units = "us";  ///< "us" or "metric"
  std::string zone;
  std::string now;             ///< local time
  std::string now_utc;         ///< the same moment, UTC: clients make entries by this clock, not by their own
  std::uint64_t sequence = 0;  ///< of the last entry: a page refetches when an event carries a larger one
  bool empty = true;           ///< nothing entered yet: show the start questions
};

/// One of at most six questions for an empty household; each can be skipped.
struct StartQuestion {
  std::string key;  ///< "altitude","hands","canners","jars","freezer","waiting"
  std::string question, help;
  std::string answer;  ///< as it stands, in words; empty = not answered
  bool skipped = false;
};

struct DaysLeftView {
  double low = 0, likely = 0, high = 0;
  std::string words;
};  ///< "2 to 4 days"

/// One planned mark on a strip, days from now (fractional).
struct StripMark {
  double from = 0, to = 0;
  std::string title;
  std::string kind;
};  ///< kind: "stage","pick","hold"

/// A fading strip: one lot.
struct StripView {
  std::string lot, name, amount, place, place_key, condition, form, crop;
  double mass_kg = 0;
  bool standing = false;                 ///< not picked yet
  std::optional<std::string> hazard_by;  ///< hard: local time
  DaysLeftView days_left;
  std::vector<double> usable, usable_low,
      usable_high;  ///< shares 0..1, one per `step_days` from now, following planned holds
  double step_days = 0.5;
  std::vector<StripMark> marks;
  std::string loss_per_day;  ///< "about 3 lb a day"
  double loss_kg_per_day = 0, cost_of_waiting = 0;
  std::string cost_words;          ///< "about $9 a day, estimated"
  std::string next_move, next_at;  ///< words; local time or empty
  std::string let_go_reason;
  std::string caution;  ///< "foraged: be certain what it is"
};

struct TaskView {
  std::string start, end;  ///< local
  std::string title, why;
  std::vector<std::string> hands;               ///< names
  std::string attention;                        ///< "hands_on","nearby","unattended"
  std::string lot, batch, route, stage, other;  ///< what it is about; empty when not
  std::string state;                            ///< "planned","underway","put_down"
};

/// The one next thing.
struct NextView {
  std::string title, why, detail;
  std::string
      action;  ///< "start_batch","move","next_stage","pick","butcher","other_work","check_seals","give_away","bring_in","none"
  std::string button;  ///< words on the one button
  std::string lot, batch, route, place, other, parcel;
  double kg = 0;
  std::string hands, minutes;
};

struct TimerView {
  std::string id, name, batch, batch_name, due;
  double seconds_left = 0;
  std::string note = {};  ///< whose time it is, where it is the person's own
};
struct RunningView {
  std::string batch, name, stage, title, state, since;
  double progress = 0;
};
struct ObjectiveView {
  double put_by = 0, still_sound = 0, materials = 0, energy = 0, effort = 0, lateness = 0, change = 0, total = 0;
};

/// Something asked for that cannot be, with the cheapest way out.
struct ClashView {
  std::string kind;  ///< "work","hours","lot","picking"
  std::string what, way_out;
  std::vector<std::string> about;  ///< keys of other work, ids of lots
};

struct HistoryLine {
  std::string at, words, entry;
  bool undone = false;
};

/// Book and kitchen differ: something that was said could not be so, and a person must say what is right.
struct DiscrepancyView {
  std::string about;                ///< id of the entry that raised it; `discrepancy_settled` and `undone` name it
  std::string code;                 ///< as the ledger's refusals, or "count_differs", "stock_short"
  std::string what;                 ///< where the two part, in words
  std::string said, at, who;        ///< what that entry said, when it happened (local) and by whom; `who` may be empty
  std::vector<HistoryLine> before;  ///< what the book has of the same thing, newest first, three at most
  std::string lot, batch, parcel;   ///< page of the thing, where it has one; empty otherwise
};

struct DayView {
  HouseholdView household;
  NextView next;
  std::vector<TimerView> timers;
  std::vector<RunningView> running;
  std::vector<TaskView> today;       ///< rest of today, by time
  std::vector<StripView> strips;     ///< by cost of waiting, largest first
  std::vector<std::string> notices;  ///< "altitude unknown: heat processes are withheld", frost tonight, low jars...
  std::vector<DiscrepancyView> discrepancies;  ///< to be settled, oldest first
  std::vector<ClashView> clashes;              ///< what cannot all be done
  ObjectiveView objective;
  bool plan_stale = false;  ///< a newer plan is being made
  double seconds_to_plan = 0;
};

struct AheadDay {
  std::string date, weekday;
  std::vector<TaskView> tasks;
  std::string weather;
  double hours_planned = 0, hours_free = 0;
};
struct AheadView {
  HouseholdView household;
  std::vector<AheadDay> days;
  std::vector<StripView> strips;
  ObjectiveView objective;
};

/// What a rehearsal says of one lot.
struct LotChanceView {
  std::string lot, name, amount;
  double saved = 0, saved_error = 0;  ///< share of the seasons
  double loss_kg = 0, loss_kg_error = 0, loss_usd = 0, loss_usd_error = 0;
  std::string chance_words;  ///< "saved in 7 seasons of 10"
  std::string loss_words;    ///< "loses about 6 lb, $9"; empty for next to nothing
};
struct DayLoadView {
  std::string date, weekday;
  double hours = 0, hours_low = 0, hours_high = 0;  ///< of hands: mean, and what 8 seasons of 10 lie between
};
struct ForecastView {
  HouseholdView household;
  int seasons = 0;
  bool cut_short = false;           ///< stopped before all seasons were lived through
  std::string saved_means;          ///< what counts as saved, in words
  std::vector<LotChanceView> lots;  ///< least sure first
  std::vector<DayLoadView> days;
  double value = 0, value_error = 0, value_low = 0, value_high = 0, planned = 0;
  double at_most = 0;  ///< USD: no plan can be worth more; 0 = not known
  std::string value_words;
};

/// One figure of a route that own batches have refined. `value`, `low`, `high` and `published_value` are minutes, or
/// packs when `stage` is empty, for `kg` going in.
struct LearnedLine {
  std::string route, crop, stage;
  std::string route_name, what;
  std::string published, source, checked;
  std::string yours;  ///< the middle of what is believed, in words
  std::string sure;   ///< "8 in 10 between 1 h and 1 h 25 min"
  std::string from;   ///< "3 batches; 1 left out (...)"
  double kg = 0, published_value = 0, value = 0, low = 0, high = 0;
  int batches = 0, left_out = 0, lent = 0;
  bool used = false;  ///< the plan goes by it
};
struct LearnedView {
  HouseholdView household;
  std::string words;
  int enough = 3;  ///< batches from which on the plan goes by them
  std::vector<LearnedLine> lines;
};

struct RouteChoice {  ///< what could be made of a lot now
  std::string route, name, method, product;
  double quality = 0;
  bool accepted = false;
  std::string why_not;
  std::string packs, hours, worth, process_line;  ///< "about 7 quart jars", "3 h 10 min of hands", ...
  double kg_most = 0;
  bool planned = false;
};
struct LotView {
  StripView strip;
  std::vector<RouteChoice> routes;
  std::vector<HistoryLine> history;
  std::vector<std::string> facts;      ///< what is known of the keeping, with source
  std::vector<std::string> why;        ///< filled by why()
  std::vector<std::string> lie_apart;  ///< what must not lie beside it where it is
  std::string best_place;
};

struct StepView {
  std::string stage, title, text, caution, attention, state;  ///< state: "done","underway","put_down","next","later"
  std::string expected, started, finished;
  bool can_pause = false, shows_process = false;
  std::string looks_right;     ///< what good looks like at the end of it
  int load = 0;                ///< canner load, from 1; 0 = the whole batch, or the only load
  std::string put_down_words;  ///< said before it starts: that it cannot be put down; empty where it can
  std::vector<std::string> gather;
  std::vector<TimerView> timers;   ///< offered timers: due empty, seconds_left = length
  std::vector<std::string> hands;  ///< who may do it
};
struct ProcessView {
  std::string method, jar, time, pressure, headspace, added_acid, altitude_band, source, place, edition;
  std::vector<std::string> requirements;
};
/// What to do about a fault while its time lies in this span, already for the batch's acid class.
struct TroubleSpan {
  double from_min = 0;
  std::optional<double> to_min;  ///< null = without end
  std::string then, source;
  std::vector<std::string> outcomes;  ///< the first is meant; the others may be chosen
};
/// What can have gone wrong.
struct TroubleView {
  std::string fault, what, asks, see;  ///< `asks` empty: the time does not matter
  std::vector<TroubleSpan> spans;
};
/// Packs whose heat process is less than what the tables ask for at the settings of now.
struct DoubtView {
  std::string parcel, name, why;
};
/// What a batch leaves beside its packs, as a lot of its own.
struct AlsoMadeView {
  std::string food, form, name, amount;
  double kg = 0;
  std::string place_key;
};
/// A step of a batch that must begin before a moment.
struct DeadlineView {
  std::string what, by;  ///< "\"Lift the fat\" must begin"; local
  bool overdue = false;
  std::string when_overdue;  ///< what to do once it is
  double minutes_left = 0;
};
struct BatchView {
  HouseholdView household;
  std::string id, name, route, state;  ///< "underway","put_down","resting","finished","abandoned"
  double kg_in = 0, packs_expected = 0;
  std::string amount, pack, product_food, product_form, store_in, store_key, eat_by;
  std::vector<StepView> steps;
  int current = 0;
  std::optional<ProcessView> process;
  std::vector<TimerView> timers;
  std::vector<std::string> cautions;
  std::string defer_to;
  std::vector<TroubleView> troubles;    ///< what can have gone wrong with it
  std::vector<std::string> went_wrong;  ///< what was written down, newest last
  std::string processed;                ///< the record's sentence, once its packs have it; else empty
  std::string not_food;                 ///< why its packs must not be eaten; empty when nothing speaks against it
  std::vector<DoubtView> in_doubt;      ///< packs of the household that the settings of now put in doubt
  std::vector<std::string> lots;        ///< names of what went in
  bool seal_check_due = false;
  std::string seal_check_from;  ///< local
  std::string packed_parcel;    ///< parcel id once packed
  std::string next_code;        ///< code the packs will carry
  std::vector<AlsoMadeView> also;
  std::vector<DeadlineView> deadlines;  ///< soonest first
  std::string not_before;               ///< local; the next step must wait until then; empty = it may begin
};

struct PackView {
  std::string parcel, code, name, food, form, pack, place, place_key, put_by, eat_by, batch, lots;
  double packs = 0;
  double mass_kg = 0;
  bool seals_unchecked = false;
  bool eat_first = false;
  std::string note, process_line;
  std::string do_not_eat;  ///< why not, in words; empty when nothing speaks against it
};
struct LarderShelf {
  std::string place, place_key;
  std::vector<PackView> packs;
  std::vector<TroubleView> troubles;  ///< what can befall the place itself, such as a freezer without power
  std::vector<std::string> holds;     ///< where something can befall it: ids of all that lies there, lots as well
};
struct LarderView {
  HouseholdView household;
  std::vector<LarderShelf> shelves;
  std::vector<PackView> eat_first;  ///< what to use next, oldest eat-by first
  std::vector<std::string> totals;  ///< "pear: 21 quart jars; covers about 5 months"
};

/// For the bring-in page and offline use.
struct CropChoice {
  std::string key, name;
  bool foraged = false, animal = false;
  std::vector<std::string> containers;
  std::vector<double> container_kg;
};
struct PlaceChoice {
  std::string key, name, kind;
};
/// A crop this household brought in lately, and what was said of it then.
struct RecentCrop {
  std::string crop, place, condition, as_said;
};
struct Snapshot {
  HouseholdView household;
  std::vector<CropChoice> crops;
  std::vector<RecentCrop> recent;  ///< newest first, each crop once
  std::vector<PlaceChoice> places;
  std::vector<std::string> conditions, people, people_keys;
  std::vector<std::string> codes;  ///< preallocated pack codes this client may use
};

/// One thing a person can do to help.
struct HelpTask {
  std::string key, title, text;
  std::string caution;  ///< said first
  std::string why;
  std::string action;               ///< "stage","move","other_work"
  std::string batch, stage, state;  ///< of a stage; state "next","underway","put_down"
  std::string lot, place, other;    ///< of a move: lot and where to; of other work: its key
};
struct HelpView {
  HouseholdView household;
  std::string person, name;
  std::vector<HelpTask> tasks;  ///< only what suits them, the most pressing first; a page shows one
  std::string none;             ///< why there is no task; empty when there is one
};

/// A line such as "2 bu pears, firm, in the pantry" understood.
struct BringInDraft {
  std::string crop, crop_name, form, amount_said, condition, place, place_name;
  double mass_kg = 0;
  std::string mass_words, how_found;
  std::string when;
};

}  // namespace stillroom::app
