#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>

#include "ledger/detail/card.h"
#include "ledger/detail/clock.h"
#include "ledger/detail/folding.h"
#include "measure/text.h"

// Something went wrong: what it does to the batch, and to packs that stand on the shelf already.
namespace stillroom::ledger::detail {
namespace {

constexpr std::array<std::string_view, 5> kOutcomes = {"process_again", "chill", "discard", "keep_watch", "go_on"};

/// What it befell, looked up before anything is changed.
struct Befallen {
  BatchState* batch = nullptr;
  CardFacts card;
  std::vector<Parcel*> parcels;
};

Result<Befallen> look_up(Folding& f, const TroubleMet& p) {
  Befallen all;
  if (!p.batch.is_nil()) {
    all.batch = f.batch(p.batch);
    if (all.batch == nullptr) STILLROOM_TRY(f.no_such_batch(p.batch));
  }
  if (all.batch != nullptr) all.card = card_facts(all.batch->steps_json).value_or(CardFacts{});
  if (!p.stage.empty() && !is_process(all.card, p.stage)) {
    STILLROOM_TRY(f.broken("no_clock", fmt::format("'{}' is no step at which a heat process runs.", p.stage),
                           {"Leave the step out: then every load is meant."}, p.batch));
  }
  std::vector<Id> ids = p.parcels;
  if (ids.empty() && p.stage.empty() && all.batch != nullptr) ids = all.batch->packed;
  for (const Id& id : ids) {
    Parcel* parcel = f.parcel(id);
    if (parcel == nullptr) {
      STILLROOM_TRY(f.no_such_parcel(id));
    } else {
      all.parcels.push_back(parcel);
    }
  }
  return all;
}

void withdraw(Parcel& p, const std::string& fault, std::string_view fact) {
  p.process_json.clear();  // whatever it went through, it is not said of it any more
  p.seals_unchecked = false;
  add_facts(p, {fault, std::string(fact)});
}

/// Out of the shelf's year and into the days of the fridge.
void keep_cold(const Folding& f, Parcel& p, const std::string& fault) {
  withdraw(p, fault, kKeptCold);
  const measure::Date by = std::chrono::floor<std::chrono::days>(f.at) + kFridgeDays;
  p.eat_by = p.eat_by ? std::min(*p.eat_by, by) : by;
  move_to_fridge(f, p);
}

/// The timers of clocks that failed: none of them may ring before the whole time has run again.
void stop_timers(Folding& f, const BatchState& b, const CardFacts& card, const std::string& stage) {
  constexpr std::chrono::minutes kSetBeside{1};  // a timer is set by hand, or with the same tap as the clock
  const auto whole = std::chrono::seconds(std::llround(std::min(card.process_min.value_or(0), 1e6) * 60));
  for (const auto& load : card.loads) {
    const auto from = b.clock_from.find(load.stage);
    if (from == b.clock_from.end() || (!stage.empty() && load.stage != stage)) continue;
    for (auto& [id, timer] : f.state.timers) {
      if (timer.batch != b.id || timer.stopped || std::chrono::abs(timer.due - from->second - whole) > kSetBeside)
        continue;
      f.changes(Table::timers, id);
      timer.stopped = true;
    }
  }
}

void befall_batch(Folding& f, BatchState& b, const CardFacts& card, const TroubleMet& p) {
  b.troubles.push_back({f.entry.id, f.at, p.fault, p.outcome, p.stage});
  if (p.outcome != "go_on" && p.outcome != "keep_watch") stop_timers(f, b, card, p.stage);
  if (p.outcome == "process_again") fail_clock(b, card, p.stage, f.at);
  const bool ends_process = p.outcome == "chill" || p.outcome == "discard";
  if (!ends_process) return;
  if (!p.stage.empty()) {
    fail_clock(b, card, p.stage, f.at);  // one load is lost; the others stand
    return;
  }
  b.not_processed = true;
  if (p.outcome == "discard" && !b.finished && !b.abandoned) give_up(f, b);
}

void befall_parcel(Folding& f, Parcel& p, const TroubleMet& t) {
  if (t.outcome == "discard") withdraw(p, t.fault, kDoNotEat);
  if (t.outcome == "chill") keep_cold(f, p, t.fault);
  // Only packs that had a process can have it again; the batch they came out of gives it back when it has run.
  const bool unsealed = std::find(p.facts.begin(), p.facts.end(), "unsealed") != p.facts.end();
  if (t.outcome == "process_again" && (unsealed || !p.process_json.empty())) withdraw(p, t.fault, kProcessAgain);
  settle(f.state, p);
}

/// Some of the packs only: they become a parcel of their own, whose id is the entry's.
Result<void> befall_some(Folding& f, Parcel& from, const TroubleMet& p) {
  const auto share = share_of(f, from, {}, p.packs);
  if (!share) return tl::unexpected(share.error());
  if (share->packs >= from.packs) {
    befall_parcel(f, from, p);
    return {};
  }
  const auto fresh = f.fresh_id(f.entry.id, Table::parcels);
  if (!fresh) return tl::unexpected(fresh.error());
  if (!*fresh) return {};
  Parcel apart = part_of(f, from, *share);
  take_out(f, from, *share, "split");
  befall_parcel(f, apart, p);
  f.changes(Table::parcels, apart.id);
  f.state.parcels[apart.id] = std::move(apart);
  return {};
}

}  // namespace

Result<void> apply(Folding& f, const TroubleMet& p) {
  STILLROOM_TRY(f.check_key(p.fault, "trouble"));
  if (std::find(kOutcomes.begin(), kOutcomes.end(), p.outcome) == kOutcomes.end())
    return f.broken("bad_value", fmt::format("'{}' is nothing that can be done about it.", p.outcome),
                    {"It is one of process_again, chill, discard, keep_watch and go_on."});
  if (p.batch.is_nil() && p.parcels.empty() && p.place.empty())
    return f.broken("nothing_named", "Nobody knows what that befell.", {"Name the batch, the packs or the place."});
  STILLROOM_TRY(f.check_place(p.place));
  if (p.elapsed_min) {
    if (const auto minutes = f.amount(*p.elapsed_min, "The time", false); !minutes)
      return tl::unexpected(minutes.error());
  }
  const auto packs = f.amount(p.packs, "The number of packs", false);
  if (!packs) return tl::unexpected(packs.error());
  auto all = look_up(f, p);
  if (!all) return tl::unexpected(all.error());
  if (*packs > 0 && all->parcels.size() == 1) {
    if (auto some = befall_some(f, *all->parcels.front(), p); !some) return some;
    if (all->batch == nullptr) return {};
    all->batch->troubles.push_back({f.entry.id, f.at, p.fault, p.outcome, p.stage});
    // A few jars go through one more load; the last one's step is free again for it.
    if (p.outcome == "process_again" && !all->card.loads.empty())
      fail_clock(*all->batch, all->card, all->card.loads.back().stage, f.at);
    return {};
  }
  if (all->batch != nullptr) befall_batch(f, *all->batch, all->card, p);
  for (Parcel* parcel : all->parcels) befall_parcel(f, *parcel, p);
  return {};
}

}  // namespace stillroom::ledger::detail
