#include "kitchen/trouble.h"

#include <fmt/format.h>

#include <algorithm>

#include "app/app.h"
#include "app/detail/batch_words.h"
#include "app/detail/names.h"
#include "app/detail/record.h"
#include "app/detail/settings.h"
#include "app/detail/trouble.h"

// When something goes wrong: what it can be, what to do, and writing it down.
namespace stillroom::app {
namespace {

/// The one fault that concerns every batch at once.
constexpr std::string_view kWrongSetting = "wrong_setting";

TroubleView trouble_view(const std::vector<kitchen::Trouble>& table, const std::string& fault,
                         kitchen::AcidClass acid) {
  TroubleView v{.fault = fault, .what = "", .asks = "", .see = "", .spans = {}};
  // Where the answer can change: the ends of the fault's spans, whichever class they are for.
  std::vector<double> starts;
  for (const kitchen::Trouble& t : table) {
    if (t.fault != fault) continue;
    v.what = t.what;
    v.asks = t.asks;
    v.see = t.see;
    starts.push_back(t.from_min);
    if (t.to_min) starts.push_back(*t.to_min);
  }
  std::sort(starts.begin(), starts.end());
  starts.erase(std::unique(starts.begin(), starts.end()), starts.end());
  for (std::size_t i = 0; i < starts.size(); ++i) {
    const kitchen::Trouble t = kitchen::what_now(table, fault, acid, starts[i]);
    const auto to = i + 1 < starts.size() ? std::optional(starts[i + 1]) : std::nullopt;
    if (!v.spans.empty() && v.spans.back().then == t.then) {
      v.spans.back().to_min = to;
    } else {
      v.spans.push_back(
          {.from_min = starts[i], .to_min = to, .then = t.then, .source = t.source, .outcomes = t.outcomes});
    }
  }
  return v;
}

/// What a person named, looked up.
struct About {
  ledger::Id batch;
  std::string place;
  std::vector<const ledger::Parcel*> packs;
  kitchen::AcidClass acid = kitchen::AcidClass::low_acid;
  std::vector<TroubleView> can_be;
};

std::vector<TroubleView> troubles_of_place() {
  std::vector<TroubleView> all;
  for (const kitchen::Trouble& t : kitchen::troubles()) {
    const bool listed = std::any_of(all.begin(), all.end(), [&](const TroubleView& v) { return v.fault == t.fault; });
    if (!listed && t.when == std::vector<std::string>{"frozen"})
      all.push_back(trouble_view(kitchen::troubles(), t.fault, kitchen::AcidClass::low_acid));
  }
  return all;
}

Result<About> about_batch(const House& h, const ledger::Id& id) {
  const ledger::BatchState& batch = h.ledger.state().batches.at(id);
  const auto card = kitchen::card_from_json(batch.steps_json);
  if (!card) return tl::unexpected(card.error());
  About about{.batch = id, .place = "", .packs = {}};
  about.acid = kitchen::acid_class_of(*card);
  about.can_be = detail::troubles_of_card(*card);
  for (const ledger::Id& packed : batch.packed) {
    const auto it = h.ledger.state().parcels.find(packed);
    if (it != h.ledger.state().parcels.end() && ledger::is_here(it->second)) about.packs.push_back(&it->second);
  }
  return about;
}

Result<About> look_up(const House& h, const std::string& typed) {
  const ledger::State& state = h.ledger.state();
  if (const auto place = detail::place_key(state, typed); place && state.places.contains(*place)) {
    About about{.batch = {}, .place = *place, .packs = {}};
    if (state.places.at(*place).kind != "freezer")
      return measure::refuse("not_that_place", fmt::format("Nothing is written down about the {}.", typed),
                             {"Name the freezer, a batch, or a pack."});
    for (const auto& [id, parcel] : state.parcels)
      if (parcel.place == *place && ledger::is_here(parcel)) about.packs.push_back(&parcel);
    about.can_be = troubles_of_place();
    return about;
  }
  const auto id = resolve(h, typed);
  if (!id) return tl::unexpected(id.error());
  if (state.batches.contains(*id)) return about_batch(h, *id);
  const auto parcel = state.parcels.find(*id);
  if (parcel == state.parcels.end() || !state.batches.contains(parcel->second.made_by))
    return measure::refuse("no_batch", fmt::format("\"{}\" came out of no batch of this book.", typed),
                           {"In doubt, throw it out: stillroom throw."});
  auto about = about_batch(h, parcel->second.made_by);
  if (about) about->packs = {&parcel->second};
  return about;
}

/// Packs of the whole household, for a setting that was wrong.
std::vector<const ledger::Parcel*> doubtful(const House& h) {
  std::vector<const ledger::Parcel*> all;
  for (const auto& [id, parcel] : h.ledger.state().parcels)
    if (detail::doubt_of(h, parcel)) all.push_back(&parcel);
  return all;
}

Result<kitchen::Trouble> answer_for(const About& about, const WentWrong& what) {
  const bool can_be =
      std::any_of(about.can_be.begin(), about.can_be.end(), [&](const auto& t) { return t.fault == what.fault; });
  if (!can_be) {
    std::vector<std::string> keys;
    for (const TroubleView& t : about.can_be) keys.push_back(t.fault);
    return measure::refuse("unknown_trouble", fmt::format("\"{}\" is nothing that befalls this.", what.fault),
                           {"It can be: " + measure::say_list(keys) + ".", "In doubt, throw it out."});
  }
  return kitchen::what_now(kitchen::troubles(), what.fault, about.acid, what.elapsed_min);
}

}  // namespace

namespace detail {

std::vector<TroubleView> troubles_of_card(const kitchen::BatchCard& card) {
  std::vector<TroubleView> all;
  for (const kitchen::Trouble& t : kitchen::troubles_for(card))
    all.push_back(trouble_view(kitchen::troubles(), t.fault, kitchen::acid_class_of(card)));
  return all;
}

std::vector<DoubtView> packs_in_doubt(const House& h) {
  std::vector<DoubtView> all;
  for (const auto& [id, parcel] : h.ledger.state().parcels) {
    auto why = doubt_of(h, parcel);
    if (why) all.push_back({.parcel = id.hex(), .name = parcel_name(h.almanac, parcel), .why = std::move(*why)});
  }
  return all;
}

}  // namespace detail

Result<std::vector<TroubleView>> troubles_of(const House& h, std::string_view about) {
  const auto found = look_up(h, std::string(about));
  if (!found) return tl::unexpected(found.error());
  return found->can_be;
}

Result<TroubleAnswer> what_now(const House& h, const WentWrong& what) {
  const auto about = look_up(h, what.about);
  if (!about) return tl::unexpected(about.error());
  const auto answer = answer_for(*about, what);
  if (!answer) return tl::unexpected(answer.error());
  TroubleAnswer out{
      .what = answer->what, .then = answer->then, .source = answer->source, .outcomes = answer->outcomes, .packs = {}};
  for (const ledger::Parcel* p : what.fault == kWrongSetting ? doubtful(h) : about->packs)
    out.packs.push_back(detail::parcel_name(h.almanac, *p));
  return out;
}

Result<std::string> meet_trouble(House& h, Instant now, const WentWrong& what) {
  const auto about = look_up(h, what.about);
  if (!about) return tl::unexpected(about.error());
  const auto answer = answer_for(*about, what);
  if (!answer) return tl::unexpected(answer.error());
  const std::string outcome = what.outcome.empty() ? answer->outcomes.front() : what.outcome;
  // Throwing it out is always allowed; anything else only where a row says so.
  if (outcome != "discard" && std::ranges::find(answer->outcomes, outcome) == answer->outcomes.end())
    return measure::refuse("not_that_way", fmt::format("\"{}\" is not what to do about that.", outcome),
                           {answer->then, "Throwing it out is always right."});
  ledger::TroubleMet met{.fault = what.fault,
                         .outcome = outcome,
                         .batch = about->batch,
                         .stage = what.stage,
                         .place = about->place,
                         .parcels = {},
                         .packs = what.packs,
                         .elapsed_min = what.elapsed_min};
  const auto concerned = what.fault == kWrongSetting ? doubtful(h) : about->packs;
  if (what.fault == kWrongSetting && concerned.empty() && !about->packs.empty())
    return measure::refuse("settings_first", "By the settings of now, no pack was processed for too little.",
                           {"Correct the altitude or the canner first; then every pack it concerns is found.",
                            "If another mistake was made with this batch, name that."});
  for (const ledger::Parcel* p : concerned) met.parcels.push_back(p->id);
  return detail::record(h, now, std::move(met), (about->batch.is_nil() ? h.random.id() : about->batch).hex());
}

}  // namespace stillroom::app
