#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "app/app.h"
#include "app/detail/batch_words.h"
#include "app/detail/names.h"
#include "app/detail/settings.h"

// Entries told in words.
namespace stillroom::app {
namespace {

template <class... Ts>
struct Overloaded : Ts... {
  using Ts::operator()...;
};
template <class... Ts>
Overloaded(Ts...) -> Overloaded<Ts...>;

class Teller {
 public:
  Teller(const House& h, const detail::Settings& settings)
      : h_(h), settings_(settings), units_(detail::units_of(settings)) {}

  [[nodiscard]] std::string told(const ledger::Payload& payload) const {
    return std::visit(
        Overloaded{
            [&](const ledger::BroughtIn& e) {
              return "Brought in " + (e.as_said.empty() ? mass(e.mass) : e.as_said) + " of " +
                     detail::crop_plural(h_.almanac, e.crop) + ", " + e.condition + ", " + place(e.place);
            },
            [&](const ledger::Sorted& e) {
              return fmt::format("Sorted {} into {} parts", thing(e.parcel), e.parts.size());
            },
            [&](const ledger::Moved& e) { return "Moved " + thing(e.parcel) + " to the " + place(e.place); },
            [&](const ledger::Observed& e) { return "Looked at " + thing(e.parcel) + ": " + e.condition; },
            [&](const ledger::Weighed& e) { return "Weighed " + thing(e.parcel) + ": " + mass(e.mass); },
            [&](const ledger::EatenFresh& e) { return "Ate " + mass(e.mass) + " of " + thing(e.parcel); },
            [&](const ledger::GivenAway& e) {
              return "Gave away " + amount(e.mass, e.packs) + " of " + thing(e.parcel);
            },
            [&](const ledger::ThrownAway& e) {
              return "Threw away " + amount(e.mass, e.packs) + " of " + thing(e.parcel) +
                     (e.why.empty() ? "" : ": " + e.why);
            },
            [&](const ledger::FedToStock& e) {
              return "Fed " + mass(e.mass) + " of " + thing(e.parcel) + " to the animals";
            },
            [&](const ledger::BatchStarted& e) { return "Started a batch: " + e.name; },
            [&](const ledger::StageStarted& e) { return "Began " + e.stage + ": " + batch(e.batch); },
            [&](const ledger::StagePutDown& e) { return "Put down " + e.stage + ": " + batch(e.batch); },
            [&](const ledger::StageFinished& e) { return "Finished " + e.stage + ": " + batch(e.batch); },
            [&](const ledger::ClockCorrected& e) {
              return "Said when the clock of " + batch(e.batch) + " began: " + when(e.began);
            },
            [&](const ledger::TroubleMet& e) {
              const std::string about = !e.batch.is_nil()   ? batch(e.batch)
                                        : !e.place.empty()  ? "the " + place(e.place)
                                        : e.parcels.empty() ? std::string("something")
                                                            : thing(e.parcels.front());
              return "Went wrong with " + about + ": " + detail::fault_words(e.fault) + ". " +
                     detail::outcome_words(e.fault, e.outcome);
            },
            [&](const ledger::BatchAbandoned& e) {
              return "Gave up " + batch(e.batch) + (e.why.empty() ? "" : ": " + e.why);
            },
            [&](const ledger::TimerSet& e) { return "Set a timer: " + e.name; },
            [&](const ledger::TimerStopped&) { return std::string("Stopped a timer"); },
            [&](const ledger::Packed& e) {
              return "Put by " + measure::say_count(e.packs, e.pack) + " of " +
                     detail::crop_plural(h_.almanac, e.food) + (e.code.empty() ? "" : ", code " + e.code) +
                     processed(e.parcel);
            },
            [&](const ledger::PutByBefore& e) {
              return "Written down as already there: " + measure::say_count(e.packs, e.pack) + " of " +
                     detail::crop_plural(h_.almanac, e.food);
            },
            [&](const ledger::SealChecked& e) {
              return fmt::format("Checked seals of {}: {:.0f} sealed, {:.0f} not", thing(e.parcel), e.sealed, e.failed);
            },
            [&](const ledger::Taken& e) { return "Took " + measure::say_number(e.packs) + " of " + thing(e.parcel); },
            [&](const ledger::Counted& e) {
              return "Counted " + thing(e.parcel) + ": " + measure::say_number(e.packs);
            },
            [&](const ledger::StandingSet& e) {
              return "Standing: " + mass(e.expected) + " of " + detail::crop_plural(h_.almanac, e.crop);
            },
            [&](const ledger::StandingPicked& e) {
              return (e.form == "carcass" ? "Butchered " : "Picked ") + mass(e.mass) + " from " + e.key;
            },
            [&](const ledger::OtherWorkSet& e) { return "Other work: " + e.name; },
            [&](const ledger::OtherWorkDone& e) { return "Done: " + e.key; },
            [&](const ledger::PersonSet& e) { return "Household: " + e.person.name; },
            [&](const ledger::PersonRemoved& e) { return "No longer helping: " + e.key; },
            [&](const ledger::PlaceSet& e) { return "Place: " + e.place.name; },
            [&](const ledger::EquipmentSet& e) {
              return "Equipment: " + measure::say_number(e.count) + " " + detail::item_words(e.key);
            },
            [&](const ledger::StockSet& e) {
              return "Counted stock: " + measure::say_number(e.amount) + " " + detail::item_words(e.item);
            },
            [&](const ledger::StockArriving& e) {
              return "Coming: " + measure::say_number(e.amount) + " " + detail::item_words(e.item);
            },
            [&](const ledger::MoneySet& e) { return "Money for a week: " + measure::say_money(e.weekly_limit); },
            [&](const ledger::ForecastSet& e) { return fmt::format("Forecast for {} days", e.days.size()); },
            [&](const ledger::TemperatureRead& e) {
              return "Read " + place(e.place) + ": " + measure::say(measure::Temperature::celsius(e.temp_c), units_);
            },
            [&](const ledger::SettingsChanged& e) {
              return "Settings: " + (e.values.empty() ? "" : e.values.begin()->first);
            },
            [&](const ledger::NeedSet& e) { return "Need: " + detail::crop_plural(h_.almanac, e.food); },
            [&](const ledger::PlanAccepted&) { return std::string("Took the plan as the one in force"); },
            [&](const ledger::Undone&) { return std::string("Undid an entry"); },
            [&](const ledger::DiscrepancySettled& e) { return "Settled a difference: " + e.how; },
        },
        payload);
  }

 private:
  [[nodiscard]] std::string mass(measure::Mass m) const { return measure::say(m, units_); }
  [[nodiscard]] std::string amount(measure::Mass m, double packs) const {
    return packs > 0 ? measure::say_number(packs) : mass(m);
  }
  [[nodiscard]] std::string place(const std::string& key) const { return detail::place_name(h_.ledger.state(), key); }
  [[nodiscard]] std::string thing(const ledger::Id& id) const {
    const auto it = h_.ledger.state().parcels.find(id);
    return it == h_.ledger.state().parcels.end() ? "something undone" : detail::parcel_name(h_.almanac, it->second);
  }
  [[nodiscard]] std::string batch(const ledger::Id& id) const {
    const auto it = h_.ledger.state().batches.find(id);
    return it == h_.ledger.state().batches.end() ? "a batch undone" : it->second.name;
  }

  /// What its record says of the heat process, after a full stop; nothing when it says nothing.
  [[nodiscard]] std::string processed(const ledger::Id& id) const {
    const auto it = h_.ledger.state().parcels.find(id);
    if (it == h_.ledger.state().parcels.end()) return "";
    const std::string said = detail::process_record(h_.almanac, it->second);
    return said.empty() ? "" : ". " + said;
  }
  [[nodiscard]] std::string when(Instant t) const { return detail::local_text(settings_, t); }

  const House& h_;
  const detail::Settings& settings_;
  measure::Units units_;
};

/// The parcels and batches an entry speaks of.
std::vector<ledger::Id> subjects(const ledger::Payload& payload) {
  return std::visit(
      [](const auto& e) {
        std::vector<ledger::Id> out;
        if constexpr (requires { e.parcel; }) out.push_back(e.parcel);
        if constexpr (requires { e.batch; }) out.push_back(e.batch);
        if constexpr (requires { e.parcels; }) out.insert(out.end(), e.parcels.begin(), e.parcels.end());
        if constexpr (requires { e.inputs; }) {
          for (const auto& input : e.inputs) out.push_back(input.parcel);
        }
        if constexpr (requires { e.parts; }) {
          for (const auto& part : e.parts) out.push_back(part.parcel);
        }
        return out;
      },
      payload);
}

std::vector<HistoryLine> lines(const House& h, std::size_t most, const ledger::Id* about) {
  const detail::Settings settings = detail::settings_of(h.ledger.state());
  const Teller teller(h, settings);
  const std::vector<ledger::Entry> entries = h.ledger.entries();
  std::set<ledger::Id> undone;
  for (const ledger::Entry& entry : entries) {
    if (const auto* u = std::get_if<ledger::Undone>(&entry.what)) {
      undone.insert(u->entry);
      undone.insert(u->also.begin(), u->also.end());
    }
  }
  std::vector<HistoryLine> out;
  for (auto it = entries.rbegin(); it != entries.rend() && out.size() < most; ++it) {
    // Undos show as marks; the plan in force follows by itself.
    if (std::holds_alternative<ledger::Undone>(it->what) || std::holds_alternative<ledger::PlanAccepted>(it->what))
      continue;
    if (about != nullptr) {
      const std::vector<ledger::Id> of = subjects(it->what);
      if (std::find(of.begin(), of.end(), *about) == of.end()) continue;
    }
    out.push_back({.at = detail::local_text(settings, it->happened),
                   .words = teller.told(it->what),
                   .entry = it->id.hex(),
                   .undone = undone.contains(it->id)});
  }
  return out;
}

}  // namespace

std::vector<HistoryLine> history(const House& h, std::size_t most) { return lines(h, most, nullptr); }

std::vector<DiscrepancyView> discrepancies(const House& h) {
  const ledger::State& state = h.ledger.state();
  std::vector<DiscrepancyView> out;
  std::vector<ledger::Id> things;
  for (const ledger::Discrepancy& d : state.discrepancies) {
    if (d.settled) continue;
    DiscrepancyView v{.about = d.about.hex(), .code = d.code, .what = detail::with_crop_names(h.almanac, d.what)};
    if (state.batches.contains(d.thing)) v.batch = d.thing.hex();
    if (const auto it = state.parcels.find(d.thing); it != state.parcels.end())
      (it->second.packs_made > 0 ? v.parcel : v.lot) = d.thing.hex();
    out.push_back(std::move(v));
    things.push_back(d.thing);
  }
  if (out.empty()) return out;  // the entries are on disk: read only where there is something to settle
  constexpr std::size_t kBefore = 3;
  const detail::Settings settings = detail::settings_of(state);
  const Teller teller(h, settings);
  const std::vector<ledger::Entry> entries = h.ledger.entries();
  for (std::size_t i = 0; i < out.size(); ++i) {
    bool earlier = false;
    for (auto it = entries.rbegin(); it != entries.rend() && out[i].before.size() < kBefore; ++it) {
      const std::string told = teller.told(it->what);
      if (it->id.hex() == out[i].about) {
        earlier = true;
        const auto person = state.people.find(it->who);
        out[i].said = told;
        out[i].at = detail::local_text(settings, it->happened);
        out[i].who = person == state.people.end() ? it->who : person->second.name;
      } else if (earlier && !h.ledger.is_undone(it->id)) {
        const std::vector<ledger::Id> of = subjects(it->what);
        if (!things[i].is_nil() && std::find(of.begin(), of.end(), things[i]) != of.end())
          out[i].before.push_back(
              {.at = detail::local_text(settings, it->happened), .words = told, .entry = it->id.hex()});
      }
    }
  }
  return out;
}

std::vector<HistoryLine> history_of(const House& h, const ledger::Id& about) { return lines(h, 200, &about); }

}  // namespace stillroom::app
