#include "ledger/every_kind.h"

#include "ledger/support.h"

namespace stillroom::ledger::tests {
namespace {

std::vector<Payload> of_the_household() {
  const Person person{.key = "ann",
                      .name = "Ann",
                      .age = 41,
                      .skills = {"pressure_canning", "butchering"},
                      .free = {{0, std::nullopt, 480, 720}, {-1, day("2026-09-20"), 600, 600}},
                      .usable_minutes_per_hour = 50,
                      .most_minutes_per_day = 480,
                      .needs_minding = true};
  return {
      SettingsChanged{{{"altitude_ft", "2900"}, {"units", "us"}}},
      PersonSet{person},
      PersonRemoved{"bo"},
      PlaceSet{{"cellar", "North cellar", "cellar", 10.5, 85, 400}},
      EquipmentSet{"boiling_water_canner", 2},
      StockSet{"jar_quart", 42},
      StockArriving{"lid", 144, day("2026-09-20")},
      MoneySet{35.5},
      ForecastSet{{{day("2026-09-15"), 6.5, 19, 0.4, 22}, {day("2026-09-16"), -1, 12, 3, 40}}},
      TemperatureRead{"cellar", 11.2, 82},
      StandingSet{"far-tree", "pear", kilograms(40), day("2026-09-20"), day("2026-10-01"), 1.5, "ladder needed"},
      OtherWorkSet{.key = "firewood",
                   .name = "Split firewood",
                   .minutes = 240,
                   .hands = 2,
                   .least_age = 14,
                   .not_before = day("2026-09-20"),
                   .deadline = day("2026-11-01"),
                   .importance = 5,
                   .can_split = false,
                   .daylight = false,
                   .dry = true,
                   .min_temp_c = -5.0,
                   .max_wind_kmh = 30.0},
      OtherWorkDone{"firewood"},
      NeedSet{"tomato", "canned", 60, 2},
      PlanAccepted{R"({"stages":[]})", id_of("last")},
      Undone{id_of("mistake"), {}},
      DiscrepancySettled{id_of("count"), "two jars were broken"},
  };
}

std::vector<Payload> of_lots() {
  return {
      BroughtIn{.parcel = id_of("A"),
                .crop = "plum",
                .mass = grams(10432.625),
                .condition = "going_over",
                .place = "porch",
                .form = "frozen_raw",
                .note = "from the hedge, \"wild\"",
                .as_said = "half a bushel",
                .facts = {"windfall", "frozen_raw"}},
      StandingPicked{"far-tree", id_of("B"), kilograms(12), "firm", "porch", true},
      Sorted{id_of("A"),
             {{id_of("A1"), kilograms(6), "firm", "cellar"}, {id_of("A2"), kilograms(3), "soft", "porch"}},
             kilograms(0.5)},
      Moved{id_of("A"), "cellar"},
      Observed{id_of("A"), "soft", {"mould"}},
      Weighed{id_of("A"), kilograms(9.75)},
      EatenFresh{id_of("A"), kilograms(1)},
      GivenAway{id_of("A"), kilograms(2), 3, "the neighbours"},
      ThrownAway{id_of("A"), kilograms(0.25), 1, "mould"},
      FedToStock{id_of("A"), kilograms(0.75)},
  };
}

std::vector<Payload> of_batches() {
  return {
      plum_batch("K", "A", 4),
      StageStarted{id_of("K"), "pit", "ann"},
      StagePutDown{id_of("K"), "pit"},
      StageFinished{id_of("K"), "pit"},
      BatchAbandoned{id_of("K"), "the jars broke", true},
      TimerSet{id_of("T"), id_of("K"), "Boil", at("2026-09-14T12:25:00Z"), "the leaflet's time"},
      TimerStopped{id_of("T")},
      Packed{.batch = id_of("K"),
             .parcel = id_of("P"),
             .food = "plum",
             .form = "canned halves",
             .pack = "quart jar",
             .packs = 7,
             .mass = kilograms(6.125),
             .place = "cellar",
             .code = "7K3QD-4",
             .eat_by = day("2027-09-14"),
             .keeps_months = 18},
      SealChecked{id_of("P"), 6, 1},
      Taken{id_of("P"), 2, "Sunday"},
      Counted{id_of("P"), 3},
      PutByBefore{.parcel = id_of("Q"),
                  .food = "bean",
                  .form = "canned",
                  .pack = "pint jar",
                  .packs = 12,
                  .mass = kilograms(5.5),
                  .place = "cellar",
                  .code = "7K3QE-5",
                  .note = "from last year",
                  .eat_by = day("2027-01-01"),
                  .keeps_months = 6},
      ClockCorrected{id_of("K"), "process", at("2026-09-14T11:30:00Z")},
      TroubleMet{.fault = "boil_stopped",
                 .outcome = "process_again",
                 .batch = id_of("K"),
                 .stage = "process",
                 .place = "freezer",
                 .parcels = {id_of("P")},
                 .packs = 2,
                 .elapsed_min = 12.5,
                 .note = "gas ran out"},
  };
}

}  // namespace

std::vector<Entry> every_kind() {
  std::vector<Entry> all;
  for (const auto& subject : {of_the_household(), of_lots(), of_batches()}) {
    for (const Payload& what : subject) {
      const std::string name = "every " + std::to_string(all.size());
      all.push_back({id_of(name), kNoon + std::chrono::minutes(all.size()), "ann", all.size() % 2 == 0, what});
    }
  }
  return all;
}

}  // namespace stillroom::ledger::tests
