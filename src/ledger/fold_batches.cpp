#include <fmt/format.h>

#include <algorithm>

#include "ledger/detail/card.h"
#include "ledger/detail/clock.h"
#include "ledger/detail/folding.h"
#include "ledger/detail/milligrams.h"
#include "measure/text.h"

// A batch from its start to its last stage, and the timers beside it. What comes out of it is in fold_larder.cpp.
namespace stillroom::ledger::detail {
namespace {

struct Drawn {
  Parcel* parcel = nullptr;
  Share share;
};

/// The inputs as they can be taken, each parcel once; nothing is taken yet.
Result<std::vector<Drawn>> drawn_inputs(Folding& f, const BatchStarted& p) {
  std::vector<Drawn> drawn;
  for (const BatchStarted::Input& input : p.inputs) {
    Parcel* parcel = f.parcel(input.parcel);
    if (parcel == nullptr) {
      STILLROOM_TRY(f.no_such_parcel(input.parcel));
      continue;
    }
    const bool twice = std::any_of(drawn.begin(), drawn.end(), [&](const Drawn& d) { return d.parcel == parcel; });
    if (twice) {
      STILLROOM_TRY(f.broken("parcel_twice", fmt::format("{} goes into the batch twice.", f.name_of(*parcel)),
                             {"Name each lot once, with all that goes in."}, parcel->id));
      continue;
    }
    STILLROOM_TRY(check_is_food(f, *parcel));
    const auto share = share_of(f, *parcel, input.mass, 0);
    if (!share) return tl::unexpected(share.error());
    if (share->mass > Mass{}) drawn.push_back({parcel, *share});
  }
  return drawn;
}

void draw_stock(Folding& f, BatchState& b, const CardFacts& card) {
  for (const auto& [item, amount] : card.stock) {
    const auto it = f.state.stock.find(item);
    if (it == f.state.stock.end()) continue;  // never counted, so not kept track of
    const double taken = std::min(it->second, amount);
    if (taken < amount) {
      f.note("stock_short",
             fmt::format("{} wants {} {}; the book had {}.", b.name.empty() ? "The batch" : b.name,
                         measure::say_number(amount), item, measure::say_number(it->second)),
             b.id);
    }
    f.changes(Table::stock, item);
    it->second -= taken;
    b.stock_taken[item] += taken;
  }
}

Result<void> is_running(Folding& f, const BatchState& b) {
  if (!b.abandoned) return {};
  return f.broken("batch_over", fmt::format("The batch {} was abandoned.", b.name),
                  {"Undo that if it goes on after all, or start a new batch."}, b.id);
}

Result<void> stage_is_known(Folding& f, const BatchState& b, const std::string& stage) {
  const auto card = card_facts(b.steps_json);
  if (!card || card->stages.empty()) return f.check_key(stage, "stage");
  if (std::find(card->stages.begin(), card->stages.end(), stage) != card->stages.end()) return {};
  return f.broken("unknown_stage", fmt::format("{} has no stage '{}'.", b.name, stage),
                  {"Its stages are " + measure::say_list(card->stages) + "."}, b.id);
}

/// What a stage asks decides whether the process after it is the right one: it is never passed over. `ending` is over
/// when `stage` begins.
Result<void> holds_before(Folding& f, const BatchState& b, const CardFacts& card, const std::string& stage,
                          const std::string& ending = {}) {
  for (const std::string& earlier : card.stages) {
    if (earlier == stage) return {};
    if (!card.hold_points.contains(earlier) || b.stage_finished.contains(earlier) || earlier == ending) continue;
    return f.broken(
        "hold_point",
        fmt::format("'{}' of {} comes first: what is found there decides whether this process fits.", earlier, b.name),
        {"Look, say that it is done, and go on.", "If it is not so, write down what went wrong."}, b.id);
  }
  return {};
}

/// Gives the food of an abandoned batch back to its lots, in proportion; the last one takes the rounding.
void give_back(Folding& f, BatchState& b) {
  const std::int64_t held = milligrams(still_in(b));
  std::int64_t taken = 0, given = 0, so_far = 0;
  for (const auto& input : b.inputs) taken += milligrams(input.mass);
  for (const auto& input : b.inputs) {
    Parcel* lot = f.parcel(input.parcel);
    if (lot == nullptr || taken == 0) continue;
    so_far += milligrams(input.mass);
    // Shares of a running total: each lot gets its part and the parts add up to the whole.
    const auto upto =
        static_cast<std::int64_t>(static_cast<double>(held) * static_cast<double>(so_far) / static_cast<double>(taken));
    const Mass back = from_milligrams((so_far == taken ? held : upto) - given);
    given = so_far == taken ? held : upto;
    const bool in_packs = lot->packs_made > 0 && lot->came > Mass{};
    if (lot->batch == b.id) lot->batch = lot->made_by;
    enter(f, *lot, "used", Mass{} - back, in_packs ? -rounded_packs(lot->packs_made * (back / lot->came)) : 0);
  }
  b.in = from_milligrams(milligrams(b.in) - given);
}

/// Packs that waited for their whole process have it, once every load has run again: new lids, so seals to look at.
void processed_again(Folding& f, const BatchState& b) {
  if (b.packs_made > packs_processed(b)) return;
  const auto card = card_facts(b.steps_json);
  if (!card) return;
  for (auto& [id, p] : f.state.parcels) {
    if (p.made_by != b.id || barred_as_food(p) != kProcessAgain) continue;
    f.changes(Table::parcels, id);
    std::erase(p.facts, kProcessAgain);
    std::erase(p.facts, "unsealed");
    if (!barred_as_food(p).empty()) continue;
    p.process_json = card->process_json;
    p.seals_unchecked = p.packs > 0;
  }
}

}  // namespace

Result<void> apply(Folding& f, const BatchStarted& p) {
  const auto fresh = f.fresh_id(p.batch, Table::batches);
  if (!fresh) return tl::unexpected(fresh.error());
  auto card = card_facts(p.steps_json);
  if (!card) {
    STILLROOM_TRY(f.broken("bad_card", "The steps of the batch cannot be read.",
                           {"Start it again from its route: the card is made anew."}, p.batch));
    card.emplace();
  }
  const auto drawn = drawn_inputs(f, p);
  if (!drawn) return tl::unexpected(drawn.error());
  if (drawn->empty()) {
    STILLROOM_TRY(f.broken("no_inputs", "Nothing goes into the batch.", {"Name the lots it is made of."}, p.batch));
  }
  if (!*fresh) return {};

  BatchState b;
  b.id = p.batch;
  b.route = p.route;
  b.name = p.name;
  b.steps_json = p.steps_json;
  b.started = f.at;
  for (const Drawn& d : *drawn) {
    b.inputs.push_back({d.parcel->id, d.share.mass});
    b.in = rounded(b.in + d.share.mass);
  }
  draw_stock(f, b, *card);
  f.changes(Table::batches, b.id);
  f.state.batches[b.id] = std::move(b);
  for (const Drawn& d : *drawn) {
    if (d.parcel->made_by.is_nil() || d.share.mass == d.parcel->mass) d.parcel->batch = p.batch;
    take_out(f, *d.parcel, d.share, "used");
  }
  return {};
}

Result<void> apply(Folding& f, const StageStarted& p) {
  BatchState* b = f.batch(p.batch);
  if (b == nullptr) return f.no_such_batch(p.batch);
  STILLROOM_TRY(is_running(f, *b));
  STILLROOM_TRY(stage_is_known(f, *b, p.stage));
  STILLROOM_TRY(f.check_person(p.who));
  const bool picked_up = b->current_stage == p.stage && b->put_down;
  if (b->stage_started.contains(p.stage) && !picked_up)
    return f.broken("stage_started_already", fmt::format("'{}' of {} has been started already.", p.stage, b->name),
                    {"Finish it, or go on with the next stage."}, b->id);
  if (p.stage.empty()) return {};
  const CardFacts card = card_facts(b->steps_json).value_or(CardFacts{});
  // Starting the next stage without a word about the one before means that one is done, unless it is another load's.
  const std::string before = b->current_stage;
  const int load = load_of(card, p.stage), load_before = load_of(card, before);
  const bool ends_it = !before.empty() && before != p.stage && (load == load_before || load == 0 || load_before == 0);
  STILLROOM_TRY(holds_before(f, *b, card, p.stage, ends_it ? before : std::string{}));
  if (ends_it) {
    STILLROOM_TRY(may_finish(f, *b, card, before));
    b->stage_finished.emplace(before, f.at_most_now());
    processed_again(f, *b);
  }
  b->stage_started.emplace(p.stage, f.at);
  start_clock(f, *b, card, p.stage);
  b->current_stage = p.stage;
  b->put_down = false;
  if (!p.who.empty()) b->stage_who[p.stage] = p.who;
  return {};
}

Result<void> apply(Folding& f, const StagePutDown& p) {
  BatchState* b = f.batch(p.batch);
  if (b == nullptr) return f.no_such_batch(p.batch);
  STILLROOM_TRY(is_running(f, *b));
  if (b->current_stage != p.stage || p.stage.empty() || b->put_down)
    return f.broken("stage_not_running", fmt::format("'{}' of {} is not being worked on.", p.stage, b->name),
                    {"Look at the batch again: somebody may have put it down or finished it."}, b->id);
  const CardFacts card = card_facts(b->steps_json).value_or(CardFacts{});
  if (card.cannot_pause.contains(p.stage)) {
    STILLROOM_TRY(f.broken(
        "cannot_be_put_down",
        fmt::format("'{}' of {} cannot be put down: heat, a clock or open food would be left alone.", p.stage, b->name),
        {"See it through, or ask somebody to stay with it.", "If it was left alone, write down what went wrong."},
        b->id));
  }
  b->clock_from.erase(p.stage);
  b->put_down = true;
  return {};
}

Result<void> apply(Folding& f, const StageFinished& p) {
  BatchState* b = f.batch(p.batch);
  if (b == nullptr) return f.no_such_batch(p.batch);
  STILLROOM_TRY(is_running(f, *b));
  STILLROOM_TRY(stage_is_known(f, *b, p.stage));
  if (b->stage_finished.contains(p.stage))
    return f.broken("stage_finished_already", fmt::format("'{}' of {} is finished already.", p.stage, b->name), {},
                    b->id);
  if (!b->stage_started.contains(p.stage)) {
    STILLROOM_TRY(f.broken("stage_not_started", fmt::format("'{}' of {} was never started.", p.stage, b->name),
                           {"Start it first."}, b->id));
  }
  const CardFacts card = card_facts(b->steps_json).value_or(CardFacts{});
  STILLROOM_TRY(holds_before(f, *b, card, p.stage));
  STILLROOM_TRY(may_finish(f, *b, card, p.stage));
  b->stage_started.emplace(p.stage, f.at);
  b->stage_finished.emplace(p.stage, f.at_most_now());
  if (b->current_stage == p.stage) {
    b->current_stage.clear();
    b->put_down = false;
  }
  processed_again(f, *b);
  return {};
}

Result<void> apply(Folding& f, const ClockCorrected& p) {
  BatchState* b = f.batch(p.batch);
  if (b == nullptr) return f.no_such_batch(p.batch);
  STILLROOM_TRY(is_running(f, *b));
  const CardFacts card = card_facts(b->steps_json).value_or(CardFacts{});
  if (!is_process(card, p.stage))
    return f.broken("no_clock", fmt::format("'{}' of {} has no process clock.", p.stage, b->name),
                    {"Name the step at which the heat process runs."}, b->id);
  const auto failed = b->clock_failed.find(p.stage);
  const auto ended = b->stage_finished.find(p.stage);
  const Instant latest = ended == b->stage_finished.end() ? f.at_most_now() : ended->second;
  if (p.began > latest)
    return f.broken("future", "The clock cannot have started after that.", {"Say when it started, not when it ends."},
                    b->id);
  if (p.began < b->started || (failed != b->clock_failed.end() && p.began < failed->second))
    return f.broken("before_the_batch",
                    fmt::format("{} was not in the canner then, or the time has had to start again since.", b->name),
                    {"Say when the clock last started."}, b->id);
  STILLROOM_TRY(holds_before(f, *b, card, p.stage));
  b->clock_from[p.stage] = p.began;
  b->clock_said[p.stage] = f.entry.who;
  const auto begun = b->stage_started.emplace(p.stage, p.began).first;
  begun->second = std::min(begun->second, p.began);
  if (ended == b->stage_finished.end() && b->current_stage.empty()) b->current_stage = p.stage;
  if (b->current_stage == p.stage) b->put_down = false;
  return {};
}

Result<void> apply(Folding& f, const BatchAbandoned& p) {
  BatchState* b = f.batch(p.batch);
  if (b == nullptr) return f.no_such_batch(p.batch);
  if (b->abandoned || b->finished)
    return f.broken("batch_over", fmt::format("The batch {} is over already.", b->name),
                    {"What came out of it can be thrown away or given away pack by pack."}, b->id);
  if (b->stage_started.empty()) {
    for (const auto& [item, amount] : b->stock_taken) {
      f.changes(Table::stock, item);
      f.state.stock[item] += amount;
    }
    b->stock_taken.clear();
  }
  if (p.give_back || b->stage_started.empty()) give_back(f, *b);
  give_up(f, *b);
  return {};
}

Result<void> apply(Folding& f, const TimerSet& p) {
  const auto fresh = f.fresh_id(p.timer, Table::timers);
  if (!fresh) return tl::unexpected(fresh.error());
  if (!p.batch.is_nil() && f.batch(p.batch) == nullptr) STILLROOM_TRY(f.no_such_batch(p.batch));
  if (p.due < f.entry.happened) {
    STILLROOM_TRY(f.broken("negative", "The timer would have rung before it was set.",
                           {"Give the moment at which it should ring."}, p.timer));
  }
  if (!*fresh) return {};
  f.changes(Table::timers, p.timer);
  f.state.timers[p.timer] = {p.timer, p.batch, p.name, f.at, p.due, false, p.note};
  return {};
}

Result<void> apply(Folding& f, const TimerStopped& p) {
  const auto it = f.state.timers.find(p.timer);
  if (it == f.state.timers.end())
    return f.broken("unknown_timer", "There is no such timer.", {"It may have been undone."}, p.timer);
  f.changes(Table::timers, p.timer);
  it->second.stopped = true;  // stopped on two phones at once is stopped
  return {};
}

}  // namespace stillroom::ledger::detail
