#include "ledger/random_entries.h"

#include <array>

#include "ledger/support.h"

namespace stillroom::ledger::tests {
namespace {

Id parcel_id(int i) { return id_of("parcel " + std::to_string(i % 9)); }
Id batch_id(int i) { return id_of("batch " + std::to_string(i % 4)); }
Id timer_id(int i) { return id_of("timer " + std::to_string(i % 3)); }
std::string place_of(int i) {
  static constexpr std::array<const char*, 5> kPlaces = {"", "porch", "cellar", "fridge", "attic"};
  return kPlaces.at(static_cast<std::size_t>(i) % kPlaces.size());
}
std::string stage_of(int i) {
  static constexpr std::array<const char*, 4> kStages = {"pit", "fill", "process", "polish"};
  return kStages.at(static_cast<std::size_t>(i) % kStages.size());
}

/// Awkward on purpose: thirds, negatives, nothing, far too much.
double amount_of(const Step& s) {
  static constexpr std::array<double, 10> kAmounts = {1, 2, 10.0 / 3, 0.25, 5, 8, 0, -1, 1e5, 2e5};
  return kAmounts.at(static_cast<std::size_t>(s.amount) % kAmounts.size());
}
double count_of(const Step& s) { return s.amount % 12 == 11 ? -2 : s.amount % 12; }
Mass mass_of(const Step& s) { return kilograms(amount_of(s)); }

Payload lots(const Step& s) {
  switch (s.kind % 10) {
    case 0:
    case 1:
      return BroughtIn{.parcel = parcel_id(s.a),
                       .crop = "plum",
                       .mass = mass_of(s),
                       .condition = "firm",
                       .place = place_of(s.b),
                       .form = "fresh",
                       .note = "",
                       .as_said = "",
                       .facts = {}};
    case 2:
      return Sorted{parcel_id(s.a),
                    {{parcel_id(s.b), mass_of(s), "soft", place_of(s.b)}, {parcel_id(s.b + 1), kilograms(1), "", ""}},
                    kilograms(s.amount % 3 * 0.5)};
    case 3:
      return Moved{parcel_id(s.a), place_of(s.b)};
    case 4:
      return Observed{parcel_id(s.a), s.b % 2 == 0 ? "soft" : "", {s.b % 3 == 0 ? "mould" : "windfall"}};
    case 5:
      return Weighed{parcel_id(s.a), mass_of(s)};
    case 6:
      return EatenFresh{parcel_id(s.a), mass_of(s)};
    case 7:
      return GivenAway{parcel_id(s.a), mass_of(s), s.b % 2 == 0 ? count_of(s) : 0, ""};
    case 8:
      return ThrownAway{parcel_id(s.a), mass_of(s), s.b % 2 == 0 ? count_of(s) : 0, ""};
    default:
      return FedToStock{parcel_id(s.a), mass_of(s)};
  }
}

Payload batches(const Step& s) {
  if (s.minutes % 7 == 0)
    return ClockCorrected{batch_id(s.a), stage_of(s.b), kNoon - std::chrono::minutes(s.amount * 3)};
  if (s.minutes % 7 == 1) {
    static constexpr std::array<const char*, 6> kOutcomes = {"process_again", "chill", "discard",
                                                             "keep_watch",    "go_on", "boil_it"};
    TroubleMet t{.fault = "boil_stopped",
                 .outcome = kOutcomes.at(static_cast<std::size_t>(s.b) % kOutcomes.size()),
                 .batch = s.a % 3 == 0 ? Id{} : batch_id(s.a),
                 .stage = s.amount % 4 == 0 ? "process" : "",
                 .place = "",
                 .parcels = {},
                 .packs = static_cast<double>(s.amount % 3)};
    if (s.b % 2 == 0) t.parcels = {parcel_id(s.b)};
    return t;
  }
  switch (s.kind % 12) {
    case 0:
    case 1:
      return BatchStarted{batch_id(s.b),
                          "plum-canned",
                          "Plums",
                          {{parcel_id(s.a), mass_of(s)}, {parcel_id(s.a + 1 + s.b % 2), kilograms(0.7)}},
                          s.b % 3 == 0 ? "" : std::string(kCard)};
    case 2:
      return StageStarted{batch_id(s.a), stage_of(s.b), s.amount % 4 == 0 ? "bo" : ""};
    case 3:
      return StagePutDown{batch_id(s.a), stage_of(s.b)};
    case 4:
      return StageFinished{batch_id(s.a), stage_of(s.b)};
    case 5:
      return BatchAbandoned{batch_id(s.a), "", s.b % 2 == 0};
    case 6:
      return TimerSet{timer_id(s.a), s.b % 2 == 0 ? Id{} : batch_id(s.b), "boil",
                      kNoon + std::chrono::minutes(s.amount)};
    case 7:
      return TimerStopped{timer_id(s.a)};
    case 8:
      return SealChecked{parcel_id(s.a), count_of(s), static_cast<double>(s.b % 3)};
    case 9:
      return Counted{parcel_id(s.a), count_of(s)};
    case 10:
      return Taken{parcel_id(s.a), count_of(s) / (1 + s.b % 3), ""};
    default:
      return PutByBefore{.parcel = parcel_id(s.a),
                         .food = "bean",
                         .form = "canned",
                         .pack = "pint jar",
                         .packs = count_of(s),
                         .mass = mass_of(s),
                         .place = place_of(s.b)};
  }
}

Payload household(const Step& s) {
  switch (s.kind % 9) {
    case 0:
      return PlaceSet{{.key = place_of(s.a), .kind = s.b % 2 == 0 ? "fridge" : "cellar"}};
    case 1:
      return PersonSet{{.key = s.a % 2 == 0 ? "ann" : "bo", .age = s.amount - 1}};
    case 2:
      return PersonRemoved{s.a % 2 == 0 ? "ann" : "bo"};
    case 3:
      return StockSet{"jar_quart", count_of(s)};
    case 4:
      return TemperatureRead{place_of(s.a), static_cast<double>(s.amount), std::nullopt};
    case 5:
      return SettingsChanged{
          {{"altitude_ft", s.a % 2 == 0 ? "2900" : "high"}, {"units", s.b % 2 == 0 ? "metric" : ""}}};
    case 6:
      return StandingSet{
          "tree " + std::to_string(s.a % 3), "pear", mass_of(s), day("2026-09-01"), day("2026-10-01"), 2, ""};
    case 7:
      return StandingPicked{
          "tree " + std::to_string(s.a % 3), parcel_id(s.b), mass_of(s), "firm", place_of(s.b), s.amount % 2 == 0};
    default:
      return DiscrepancySettled{entry_id(static_cast<std::size_t>(s.a + s.b)), "looked"};
  }
}

Payload payload_of(const Step& s, std::size_t n) {
  switch (s.kind / 12 % 8) {
    case 0:
    case 1:
    case 2:
      return lots(s);
    case 3:
    case 4:
      return batches(s);
    case 5: {
      Packed p = quarts("", "", count_of(s), 0);
      p.batch = batch_id(s.a);
      p.parcel = parcel_id(s.b);
      p.mass = s.amount % 4 == 0 ? Mass{} : mass_of(s);
      p.code = s.amount % 5 == 0 ? "7K3QD-4" : "";
      return p;
    }
    case 6:
      return household(s);
    default: {
      // Mostly one of the latest entries; sometimes one that is still to come.
      const auto back = static_cast<std::size_t>(s.a % 9);
      return Undone{entry_id(n + 1 >= back ? n + 1 - back : n + 40)};
    }
  }
}

}  // namespace

void showValue(const Step& s, std::ostream& os) {
  os << "{kind " << s.kind << ", a " << s.a << ", b " << s.b << ", amount " << s.amount << ", minutes " << s.minutes
     << (s.live ? ", live}" : ", fact}");
}

rc::Gen<std::vector<Step>> steps() {
  const auto small = rc::gen::inRange(0, 24);
  return rc::gen::container<std::vector<Step>>(
      rc::gen::build<Step>(rc::gen::set(&Step::kind, rc::gen::inRange(0, 96)), rc::gen::set(&Step::a, small),
                           rc::gen::set(&Step::b, small), rc::gen::set(&Step::amount, small),
                           rc::gen::set(&Step::minutes, rc::gen::inRange(-60, 9)), rc::gen::set(&Step::live)));
}

Id entry_id(std::size_t n) { return id_of("entry " + std::to_string(n)); }

Entry entry_of(const Step& step, std::size_t n) {
  const std::string who = step.minutes % 10 == 0 ? "ann" : "";
  return {entry_id(n), kNoon + std::chrono::minutes(step.minutes), who, step.live, payload_of(step, n)};
}

}  // namespace stillroom::ledger::tests
