#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "almanac/almanac.h"
#include "app/views.h"
#include "ledger/ledger.h"
#include "measure/id.h"
#include "measure/result.h"
#include "measure/time.h"
#include "planning/plan.h"
#include "planning/rehearse.h"

/// One function per thing a person does: the only place where the ledger and the planner meet.
namespace stillroom::app {

using measure::Instant;
using measure::Result;

/// An open household. Not thread-safe: the door that owns it holds a mutex; planning works on an immutable snapshot
/// outside it.
struct House {
  const almanac::Almanac& almanac;
  ledger::Ledger ledger;
  measure::Random random;  ///< for entry ids; seeded by the door
  std::string who;         ///< person key of whoever speaks, or empty
};

// ---- looking ------------------------------------------------------------------------------------------------------
[[nodiscard]] HouseholdView household_view(const House& h, Instant now);
[[nodiscard]] std::vector<StartQuestion> start_questions(const House& h);
/// The planner's snapshot of this moment; also the input of bench and rehearsal.
[[nodiscard]] Result<planning::Household> snapshot_for_planning(const House& h, Instant now);
/// Views drawn from a plan made earlier (or just now) for this household.
[[nodiscard]] DayView day_view(const House& h, Instant now, const planning::Household& snapshot,
                               const planning::Plan& plan);
[[nodiscard]] AheadView ahead_view(const House& h, Instant now, const planning::Household& snapshot,
                                   const planning::Plan& plan);
[[nodiscard]] Result<LotView> lot_view(const House& h, Instant now, std::string_view lot,
                                       const planning::Household& snapshot, const planning::Plan& plan);
/// A rehearsal in words, the least sure lots first. `at_most`: USD that no plan can be worth more than; 0 = not known.
[[nodiscard]] ForecastView forecast_view(const House& h, Instant now, const planning::Household& snapshot,
                                         const planning::Rehearsal& rehearsal, double at_most);
/// The card of a batch that is not started yet.
[[nodiscard]] Result<BatchView> draft_view(const House& h, Instant now, const ledger::BatchStarted& draft);
[[nodiscard]] Result<BatchView> batch_view(const House& h, Instant now, std::string_view batch);
/// Every batch that is not put by or given up, and those whose lids wait to be looked at; what presses most comes
/// first.
[[nodiscard]] std::vector<BatchView> open_batches(const House& h, Instant now);
/// Every timer that was set and not stopped, the one due first in front; also those that are over.
[[nodiscard]] std::vector<TimerView> timers(const House& h, Instant now);
/// What this person can help with now, of batches underway and of the plan's day. Refuses "unknown_person".
[[nodiscard]] Result<HelpView> help_view(const House& h, Instant now, std::string_view person,
                                         const planning::Household& snapshot, const planning::Plan& plan);
[[nodiscard]] LarderView larder_view(const House& h, Instant now);
/// What the household's own finished batches make of the published figures; of one crop and its kin, or of all (empty).
[[nodiscard]] LearnedView learned_view(const House& h, Instant now, std::string_view crop);
[[nodiscard]] Snapshot client_snapshot(const House& h, Instant now);
[[nodiscard]] std::vector<HistoryLine> history(const House& h, std::size_t most);
/// What is still to be settled, oldest first.
[[nodiscard]] std::vector<DiscrepancyView> discrepancies(const House& h);
/// Everything that happened to one parcel or batch, newest first.
[[nodiscard]] std::vector<HistoryLine> history_of(const House& h, const ledger::Id& about);

/// Takes a plan that was shown as the one in force: the next plan changes its near term only for a real gain. False,
/// and nothing written, when that near term is in force already.
[[nodiscard]] Result<bool> follow(House& h, Instant now, const planning::Household& snapshot,
                                  const planning::Plan& plan);

// ---- understanding what was typed -----------------------------------------------------------------------------------
/// "2 bu pears, firm, in the pantry". Unknown crop, place, amount or condition is a Refusal that suggests near words.
[[nodiscard]] Result<BringInDraft> read_bring_in(const House& h, Instant now, std::string_view line);
/// One bad row of a CSV import; good rows are kept.
struct BadRow {
  int line = 0;
  measure::Refusal refusal;
};
struct CsvBringIn {
  int kept = 0;
  std::vector<BadRow> bad;
};
/// Columns crop, amount, unit, condition, place, when (any order, header required).
[[nodiscard]] Result<CsvBringIn> bring_in_csv(House& h, Instant now, std::string_view csv);

// ---- doing: each makes entries and appends them; the answer is the id of what was made or changed
// ---------------------
[[nodiscard]] Result<std::string> answer_start(House& h, Instant now, std::string_view key, std::string_view answer);
[[nodiscard]] Result<std::string> set(House& h, Instant now, std::string_view key, std::string_view value);
[[nodiscard]] Result<std::string> bring_in(House& h, Instant now, const BringInDraft& draft);
struct SortPart {
  double kg = 0;
  std::string condition, place;
};
/// Parts as written: "10 lb firm", "4 lb soft, in the fridge"; `discarded` an amount or empty.
struct SortRead {
  std::vector<SortPart> parts;
  double discarded_kg = 0;
};
[[nodiscard]] Result<SortRead> read_sort(const House& h, const std::vector<std::string>& parts,
                                         std::string_view discarded);
[[nodiscard]] Result<std::string> sort_lot(House& h, Instant now, std::string_view lot,
                                           const std::vector<SortPart>& parts, double discarded_kg);
[[nodiscard]] Result<std::string> move(House& h, Instant now, std::string_view lot, std::string_view place);
[[nodiscard]] Result<std::string> observe(House& h, Instant now, std::string_view lot, std::string_view condition);
enum class Leaves { eaten, given_away, thrown_away, fed_to_stock };
/// `amount` as written ("2 lb", "3 jars", "all").
[[nodiscard]] Result<std::string> leave(House& h, Instant now, std::string_view parcel, std::string_view amount,
                                        Leaves how, std::string_view note);
/// Draft of a batch: the card with scaled steps and the frozen process. kg 0 = all that is there.
[[nodiscard]] Result<ledger::BatchStarted> draft_batch(House& h, Instant now, std::string_view route,
                                                       const std::vector<std::string>& lots, double kg);
[[nodiscard]] Result<std::string> start_batch(House& h, Instant now, std::string_view route,
                                              const std::vector<std::string>& lots, double kg);
[[nodiscard]] Result<std::string> start_stage(House& h, Instant now, std::string_view batch, std::string_view stage);
[[nodiscard]] Result<std::string> finish_stage(House& h, Instant now, std::string_view batch, std::string_view stage);
/// When the clock of a heat process truly began: "14:05" (today, or yesterday when that is still to come) or
/// "2026-09-14T14:05", in the family's zone. Written down as the word of whoever says it.
[[nodiscard]] Result<std::string> correct_clock(House& h, Instant now, std::string_view batch, std::string_view stage,
                                                std::string_view began);
[[nodiscard]] Result<std::string> put_down_stage(House& h, Instant now, std::string_view batch, std::string_view stage);
/// `batch` empty = beside no batch; `note` says whose time it is where it is the person's own, such as a leaflet's. A
/// timer is never a heat process.
[[nodiscard]] Result<std::string> set_timer(House& h, Instant now, std::string_view batch, std::string_view name,
                                            double minutes, std::string_view note = {});
/// `timer` is the id or the first letters of it, or the name of the only one so called. Refuses "no_such_timer" and
/// "not_unique".
[[nodiscard]] Result<std::string> stop_timer(House& h, Instant now, std::string_view timer);
/// Gives a batch up. `give_back`: the food is still sound and waits again as the lots it came from.
[[nodiscard]] Result<std::string> abandon_batch(House& h, Instant now, std::string_view batch, std::string_view why,
                                                bool give_back);
/// Finishes a batch into packs; place empty = where the route stores it.
[[nodiscard]] Result<std::string> pack(House& h, Instant now, std::string_view batch, double packs,
                                       std::string_view place);
[[nodiscard]] Result<std::string> check_seals(House& h, Instant now, std::string_view parcel, double sealed,
                                              double failed);
/// `what` is a code, a parcel id or a food's name (then the first to eat is taken).
[[nodiscard]] Result<std::string> take(House& h, Instant now, std::string_view what, double packs);
[[nodiscard]] Result<std::string> count(House& h, Instant now, std::string_view parcel, double packs);
/// Something went wrong with a batch, with packs, or in a place ("freezer").
struct WentWrong {
  std::string about;                  ///< batch, pack code or id, or place, as typed
  std::string fault;                  ///< key of data/kitchen/trouble.csv
  std::optional<double> elapsed_min;  ///< as the fault asks; nothing = nobody knows
  std::string outcome;                ///< one of the answer's; empty = the one meant
  std::string stage;                  ///< of a batch: the load concerned; empty = all
  double packs = 0;                   ///< of one pack entry: so many; 0 = all
};
/// What can have gone wrong there.
[[nodiscard]] Result<std::vector<TroubleView>> troubles_of(const House& h, std::string_view about);
struct TroubleAnswer {
  std::string what, then, source;
  std::vector<std::string> outcomes;  ///< the first is meant
  std::vector<std::string> packs;     ///< packs concerned, in words
};
/// What to do now. What no published row covers is thrown out.
[[nodiscard]] Result<TroubleAnswer> what_now(const House& h, const WentWrong& what);
/// Writes it down. A wrong setting found later concerns every pack whose process is less than the tables ask for at the
/// settings of now, whichever batch it came out of. Refuses (code "not_that_way") an outcome the answer does not offer.
[[nodiscard]] Result<std::string> meet_trouble(House& h, Instant now, const WentWrong& what);
[[nodiscard]] Result<std::string> undo(House& h, Instant now, std::string_view entry);  ///< empty = the last one
/// Entries made by a client (page outbox), JSON array. Live ones may be refused one by one, but live "packed" entries
/// of one batch that stand side by side are kept together or not at all; facts are never refused.
struct Received {
  std::string id;
  bool stored = false;
  std::optional<measure::Refusal> refusal;
};
[[nodiscard]] Result<std::vector<Received>> receive_entries(House& h, Instant now, std::string_view json_array);
[[nodiscard]] std::vector<std::string> check(const House& h, Instant now);

/// Resolves what a person types for a lot, batch or pack: id, id prefix (4+), code, or a name that is unique.
[[nodiscard]] Result<ledger::Id> resolve(const House& h, std::string_view typed);

}  // namespace stillroom::app
