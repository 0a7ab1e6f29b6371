#include "app/detail/batch_words.h"

#include <fmt/format.h>

#include <algorithm>

#include "app/detail/names.h"
#include "app/detail/settings.h"
#include "app/detail/waiting.h"
#include "kitchen/process_words.h"
#include "kitchen/trouble.h"

namespace stillroom::app::detail {
namespace {

/// The household lies in the band the process was published for.
bool in_band(const process::Choice& c, measure::Altitude altitude) {
  const double feet = altitude.in_feet();
  return (feet > c.altitude_over_ft || c.altitude_over_ft <= 0) && (!c.altitude_to_ft || feet <= *c.altitude_to_ft);
}

/// What the tables ask for at another altitude: the question the batch's card once answered, put again.
std::optional<process::Choice> asked_again(const House& h, const ledger::Parcel& p, const process::Choice& done,
                                           measure::Altitude altitude) {
  const auto batch = h.ledger.state().batches.find(p.made_by);
  const almanac::Route* route =
      batch == h.ledger.state().batches.end() ? nullptr : h.almanac.routes.find(batch->second.route);
  const auto card =
      route == nullptr ? tl::unexpected(measure::Refusal{}) : kitchen::card_from_json(batch->second.steps_json);
  if (!card || !route->process) return std::nullopt;
  process::Question where;
  where.food = card->crop;
  where.altitude = altitude;
  where.canner = process::canner_key(done);
  const auto published = kitchen::process_for(h.almanac, *route, where);
  return published ? *published : std::nullopt;
}

/// Not less than a published row in anything that heats.
bool meets(const process::Choice& done, const process::Choice& published) {
  return done.method == published.method && done.time_min >= published.time_min &&
         done.pressure_psi.value_or(0) >= published.pressure_psi.value_or(0);
}

}  // namespace

ProcessView process_view(const almanac::Almanac& almanac, const process::Choice& c) {
  ProcessView v;
  v.method = process::canner_words(c);
  v.jar = item_words(c.jar);
  v.time = measure::say_minutes(measure::minutes(c.time_min));
  if (c.pressure_psi) v.pressure = measure::say_number(*c.pressure_psi) + " psi";
  v.headspace = measure::say_number(c.headspace_in) + " in";
  v.added_acid = c.added_acid;
  v.altitude_band = process::altitude_band(c);
  v.source = c.source;
  v.place = c.source_place;
  v.edition = c.edition_read;
  v.requirements = kitchen::requirement_sentences(almanac.processes, c);
  return v;
}

StepView step_view(const kitchen::Step& step) {
  StepView v{.stage = step.stage,
             .title = step.title,
             .text = step.text,
             .caution = step.caution,
             .attention = step.attention,
             .state = "later"};
  v.expected = measure::say(measure::minutes(step.expected_min));
  v.can_pause = step.can_pause;
  v.shows_process = step.shows_process;
  v.looks_right = step.looks_right;
  v.load = step.load;
  if (!step.can_pause && step.attention != "unattended")
    v.put_down_words = "Once begun, this cannot be put down: have the time, or somebody to take over.";
  v.gather = step.gather;
  for (const kitchen::TimerSpec& timer : step.timers)
    v.timers.push_back({.name = timer.name, .due = "", .seconds_left = timer.minutes * 60});
  return v;
}

std::string pack_place(const ledger::State& state, std::string_view store_in) {
  for (const auto& [key, place] : state.places) {
    if (place.kind == store_in) return key;
  }
  return std::string(store_in);
}

std::uint32_t next_code_number(const ledger::State& state) {
  std::uint32_t most = 0;
  for (const auto& [id, parcel] : state.parcels) {
    if (parcel.code.empty()) continue;
    if (const auto number = kitchen::number_of_code(parcel.code)) most = std::max(most, *number + 1);
  }
  return most;
}

std::string process_record(const almanac::Almanac& almanac, const ledger::Parcel& p) {
  const auto process = kitchen::process_from_json(p.process_json);
  const bool on_record = process && ledger::barred_as_food(p).empty();
  return on_record && kitchen::is_published(almanac.processes, *process) ? kitchen::processed_sentence(*process)
                                                                         : std::string();
}

std::string not_food_words(const ledger::Parcel& p) {
  const std::string_view why = ledger::barred_as_food(p);
  if (why.empty()) return "";
  if (why == ledger::kNotKnownProcessed)
    return "Do not eat: not known to be processed. If it was, undo what was written down and say when the clock began.";
  if (why == ledger::kProcessAgain) return "Not yet food: to be processed again in full, with new lids.";
  if (why == ledger::kInDoubt) return "Do not eat: found unsealed after a day. Throw it away.";
  std::string words = "Do not eat: throw it away, untasted.";
  for (const std::string& fact : p.facts)
    if (fact_is_fault(fact)) words = "Do not eat: " + lower_first(fault_words(fact)) + ". Throw it away, untasted.";
  return words;
}

std::optional<std::string> doubt_of(const House& h, const ledger::Parcel& p) {
  if (p.process_json.empty() || !ledger::is_here(p)) return std::nullopt;
  const Settings settings = settings_of(h.ledger.state());
  const auto done = kitchen::process_from_json(p.process_json);
  if (!settings.altitude || !done) return std::nullopt;
  if (!kitchen::is_published(h.almanac.processes, *done))
    return "Its heat process stands in no table that is known here: in doubt, do not eat it.";
  if (in_band(*done, *settings.altitude)) return std::nullopt;
  const auto published = asked_again(h, p, *done, *settings.altitude);
  if (published && meets(*done, *published)) return std::nullopt;
  return fmt::format(
      "Processed for {}; the altitude is set to {} now, where that is not enough. Do not eat it before this is "
      "settled: "
      "see \"the altitude or the canner in the settings was wrong\".",
      process::altitude_band(*done), measure::say(*settings.altitude, units_of(settings)));
}

std::optional<Instant> ran_out(const House& h, const ledger::Parcel& p, Instant now) {
  if (p.packs > 0 && !is_frozen(p)) return std::nullopt;  // jars and dry packs run no clock until they are opened
  const auto by = waiting_of(h.almanac, h.ledger.state(), p, now).hazard_by;
  return by && *by < now ? by : std::nullopt;
}

std::string ran_out_words(const House& h, const ledger::Parcel& p, Instant ran_out_at) {
  return fmt::format("Do not eat: its time out of the {} was over at {}. Throw it away, untasted.",
                     is_frozen(p) ? "freezer" : "cold", local_text(settings_of(h.ledger.state()), ran_out_at));
}

std::string lower_first(std::string words) {
  if (!words.empty() && words.front() >= 'A' && words.front() <= 'Z')
    words.front() = static_cast<char>(words.front() + 32);
  return words;
}

bool fact_is_fault(std::string_view fact) {
  return std::ranges::find(kitchen::troubles(), fact, &kitchen::Trouble::fault) != kitchen::troubles().end();
}

std::string fault_words(std::string_view fault) {
  const auto row = std::ranges::find(kitchen::troubles(), fault, &kitchen::Trouble::fault);
  return row == kitchen::troubles().end() ? item_words(std::string(fault)) : row->what;
}

std::string outcome_words(std::string_view fault, std::string_view outcome) {
  if (outcome == "process_again") return "To be processed again in full";
  // What was drying is not jars: it is kept cold only until it dries on.
  if (outcome == "chill" && fault == "dryer_stopped") return "In the fridge, to be dried on within a day";
  if (outcome == "chill") return "Chilled, to be eaten within days or frozen";
  if (outcome == "discard") return "Not to be eaten: thrown out";
  return outcome == "keep_watch" ? "Kept under watch" : "Gone on with";
}

Result<Instant> moment_said(const measure::Zone& zone, Instant now, std::string_view said) {
  const auto bad = measure::refuse("bad_time", fmt::format("\"{}\" is no time.", said),
                                   {"Say it as 14:05, or as 2026-09-14T14:05."});
  const bool with_day = said.size() == 16 && said[10] == 'T';
  if (!with_day && !(said.size() == 5 && said[2] == ':')) return bad;
  const std::string day = with_day ? std::string(said.substr(0, 10)) : measure::to_iso(zone.date_of(now));
  const auto wall = measure::parse_instant(day + "T" + std::string(said.substr(with_day ? 11 : 0)) + "Z");
  if (!wall) return bad;
  const auto local = measure::LocalTime(wall->time_since_epoch());
  const Instant at = zone.to_instant(local);
  if (with_day || at <= now) return at;
  return zone.to_instant(local - std::chrono::days(1));
}

}  // namespace stillroom::app::detail
