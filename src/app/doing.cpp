#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/app.h"
#include "app/detail/batch_words.h"
#include "app/detail/names.h"
#include "app/detail/record.h"
#include "app/detail/settings.h"

// Everything a person does that is one entry.
namespace stillroom::app {
namespace {

Result<const ledger::Parcel*> parcel_named(const House& h, std::string_view typed) {
  const auto id = resolve(h, typed);
  if (!id) return tl::unexpected(id.error());
  const auto it = h.ledger.state().parcels.find(*id);
  if (it == h.ledger.state().parcels.end()) {
    return measure::refuse("not_a_lot", fmt::format("\"{}\" is not a lot or a pack.", typed),
                           {"stillroom today lists the lots; stillroom larder lists the packs."});
  }
  return &it->second;
}

std::string condition_list() { return "underripe, firm, ripe, soft, going over"; }

Result<std::string> condition_word(std::string_view typed) {
  const auto condition = almanac::condition_from_word(typed);
  if (!condition) {
    return measure::refuse("unknown_condition", fmt::format("\"{}\" is not a condition.", typed),
                           {"Use one of: " + condition_list() + "."});
  }
  return std::string(almanac::to_word(*condition));
}

}  // namespace

Result<std::string> set(House& h, Instant now, std::string_view key, std::string_view value) {
  return detail::record(h, now, ledger::SettingsChanged{{{std::string(key), std::string(value)}}}, std::string(key));
}

Result<SortRead> read_sort(const House& h, const std::vector<std::string>& parts, std::string_view discarded) {
  const measure::Units units = detail::units_of(detail::settings_of(h.ledger.state()));
  SortRead out;
  for (const std::string& part : parts) {
    const std::size_t comma = part.find(',');
    std::string head = part.substr(0, comma);
    SortPart read;
    for (const char* word : {"going over", "underripe", "firm", "ripe", "soft"}) {
      const std::string ending = std::string(" ") + word;
      if (!head.ends_with(ending)) continue;
      read.condition = word;
      head.resize(head.size() - ending.size());
      break;
    }
    if (read.condition.empty()) {
      return measure::refuse("unknown_condition", fmt::format("\"{}\" does not end in a condition.", part),
                             {"For example \"10 lb firm\". Conditions: " + condition_list() + "."});
    }
    const auto amount = measure::parse_amount_as(head, measure::AmountKind::mass, units);
    if (!amount) return tl::unexpected(amount.error());
    read.kg = measure::in_kilograms(amount->mass());
    if (comma != std::string::npos) {
      std::string_view place = std::string_view(part).substr(comma + 1);
      for (const std::string_view lead : {" ", "in ", "on ", "the "}) {
        while (place.starts_with(lead)) place.remove_prefix(lead.size());
      }
      read.place = place;
    }
    out.parts.push_back(std::move(read));
  }
  if (!discarded.empty()) {
    const auto amount = measure::parse_amount_as(discarded, measure::AmountKind::mass, units);
    if (!amount) return tl::unexpected(amount.error());
    out.discarded_kg = measure::in_kilograms(amount->mass());
  }
  return out;
}

Result<std::string> sort_lot(House& h, Instant now, std::string_view lot, const std::vector<SortPart>& parts,
                             double discarded_kg) {
  const auto parcel = parcel_named(h, lot);
  if (!parcel) return tl::unexpected(parcel.error());
  ledger::Sorted sorted{.parcel = (*parcel)->id, .parts = {}, .discarded = measure::kilograms(discarded_kg)};
  for (const SortPart& part : parts) {
    const auto condition = condition_word(part.condition);
    if (!condition) return tl::unexpected(condition.error());
    std::string place = (*parcel)->place;
    if (!part.place.empty()) {
      const auto key = detail::place_key(h.ledger.state(), part.place);
      if (!key) return tl::unexpected(key.error());
      place = *key;
    }
    sorted.parts.push_back({h.random.id(), measure::kilograms(part.kg), *condition, place});
  }
  const std::string id = (*parcel)->id.hex();
  return detail::record(h, now, std::move(sorted), id);
}

Result<std::string> move(House& h, Instant now, std::string_view lot, std::string_view place) {
  const auto parcel = parcel_named(h, lot);
  if (!parcel) return tl::unexpected(parcel.error());
  const auto key = detail::place_key(h.ledger.state(), place);
  if (!key) return tl::unexpected(key.error());
  const ledger::Id id = (*parcel)->id;
  return detail::record(h, now, ledger::Moved{id, *key}, id.hex());
}

Result<std::string> observe(House& h, Instant now, std::string_view lot, std::string_view condition) {
  const auto parcel = parcel_named(h, lot);
  if (!parcel) return tl::unexpected(parcel.error());
  const auto word = condition_word(condition);
  if (!word) return tl::unexpected(word.error());
  const ledger::Id id = (*parcel)->id;
  return detail::record(h, now, ledger::Observed{id, *word, {}}, id.hex());
}

Result<std::string> leave(House& h, Instant now, std::string_view parcel_typed, std::string_view amount, Leaves how,
                          std::string_view note) {
  const auto parcel = parcel_named(h, parcel_typed);
  if (!parcel) return tl::unexpected(parcel.error());
  const auto part = detail::part_of(h, **parcel, amount);
  if (!part) return tl::unexpected(part.error());
  const ledger::Id id = (*parcel)->id;
  const std::string words(note);
  switch (how) {
    case Leaves::eaten:
      if ((*parcel)->packs > 0) return detail::record(h, now, ledger::Taken{id, part->packs, words}, id.hex());
      return detail::record(h, now, ledger::EatenFresh{id, part->mass}, id.hex());
    case Leaves::given_away:
      return detail::record(h, now, ledger::GivenAway{id, part->mass, part->packs, words}, id.hex());
    case Leaves::thrown_away:
      return detail::record(h, now, ledger::ThrownAway{id, part->mass, part->packs, words}, id.hex());
    case Leaves::fed_to_stock:
      break;
  }
  return detail::record(h, now, ledger::FedToStock{id, part->mass}, id.hex());
}

Result<std::string> take(House& h, Instant now, std::string_view what, double packs) {
  const ledger::State& state = h.ledger.state();
  // A code or an id names one parcel; a food's name means the one to eat first.
  const auto id = resolve(h, what);
  const ledger::Parcel* chosen = nullptr;
  if (id && state.parcels.contains(*id)) {
    chosen = &state.parcels.at(*id);
  } else if (const auto crop = h.almanac.crops.named(what)) {
    for (const auto& [key, parcel] : state.parcels) {
      if (parcel.state != ledger::ParcelState::put_by || parcel.packs < 1 ||
          !h.almanac.crops.is_a(parcel.food, (*crop)->key) || !ledger::barred_as_food(parcel).empty() ||
          detail::doubt_of(h, parcel) || detail::ran_out(h, parcel, now))
        continue;
      if (chosen == nullptr || parcel.eat_by < chosen->eat_by) chosen = &parcel;
    }
  }
  if (chosen == nullptr) {
    if (!id) return tl::unexpected(id.error());
    return measure::refuse("nothing_put_by", fmt::format("No \"{}\" is put by.", what),
                           {"stillroom larder shows what there is."});
  }
  const ledger::Id parcel = chosen->id;
  return detail::record(h, now, ledger::Taken{parcel, packs, ""}, parcel.hex());
}

Result<std::string> count(House& h, Instant now, std::string_view parcel_typed, double packs) {
  const auto parcel = parcel_named(h, parcel_typed);
  if (!parcel) return tl::unexpected(parcel.error());
  const ledger::Id id = (*parcel)->id;
  return detail::record(h, now, ledger::Counted{id, packs}, id.hex());
}

Result<std::string> check_seals(House& h, Instant now, std::string_view parcel_typed, double sealed, double failed) {
  const auto parcel = parcel_named(h, parcel_typed);
  if (!parcel) return tl::unexpected(parcel.error());
  const ledger::Id id = (*parcel)->id;
  return detail::record(h, now, ledger::SealChecked{id, sealed, failed}, id.hex());
}

Result<std::string> undo(House& h, Instant now, std::string_view entry) {
  ledger::Id id;
  if (entry.empty()) {
    const auto last = h.ledger.last_entry();
    if (!last) return measure::refuse("nothing_to_undo", "Nothing has been written down yet.");
    id = last->id;
  } else {
    const std::vector<ledger::Entry> all = h.ledger.entries();
    const auto found =
        std::find_if(all.rbegin(), all.rend(), [&](const auto& e) { return e.id.hex().starts_with(entry); });
    if (found == all.rend()) {
      return measure::refuse("unknown_entry", fmt::format("No entry begins with \"{}\".", entry),
                             {"stillroom history lists them."});
    }
    id = found->id;
  }
  return detail::record(h, now, ledger::Undone{id}, id.hex());
}

Result<std::string> start_stage(House& h, Instant now, std::string_view batch, std::string_view stage) {
  const auto id = resolve(h, batch);
  if (!id) return tl::unexpected(id.error());
  return detail::record(h, now, ledger::StageStarted{*id, std::string(stage), h.who}, id->hex());
}

Result<std::string> finish_stage(House& h, Instant now, std::string_view batch, std::string_view stage) {
  const auto id = resolve(h, batch);
  if (!id) return tl::unexpected(id.error());
  return detail::record(h, now, ledger::StageFinished{*id, std::string(stage)}, id->hex());
}

Result<std::string> correct_clock(House& h, Instant now, std::string_view batch, std::string_view stage,
                                  std::string_view began) {
  const auto id = resolve(h, batch);
  if (!id) return tl::unexpected(id.error());
  const auto at = detail::moment_said(detail::settings_of(h.ledger.state()).zone, now, began);
  if (!at) return tl::unexpected(at.error());
  return detail::record(h, now, ledger::ClockCorrected{*id, std::string(stage), *at}, id->hex());
}

Result<std::string> put_down_stage(House& h, Instant now, std::string_view batch, std::string_view stage) {
  const auto id = resolve(h, batch);
  if (!id) return tl::unexpected(id.error());
  return detail::record(h, now, ledger::StagePutDown{*id, std::string(stage)}, id->hex());
}

Result<std::string> abandon_batch(House& h, Instant now, std::string_view batch, std::string_view why, bool give_back) {
  const auto id = resolve(h, batch);
  if (!id) return tl::unexpected(id.error());
  if (!h.ledger.state().batches.contains(*id))
    return measure::refuse("unknown_batch", fmt::format("\"{}\" is not a batch.", batch),
                           {"stillroom batch list lists the open ones."});
  return detail::record(h, now, ledger::BatchAbandoned{*id, std::string(why), give_back}, id->hex());
}

std::vector<std::string> check(const House& h, Instant /*now*/) { return h.ledger.check(); }

}  // namespace stillroom::app
