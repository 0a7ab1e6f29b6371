#include "almanac/keeping_tables.h"

#include <fmt/format.h>

#include "almanac/csv.h"
#include "almanac/detail/cells.h"

namespace stillroom::almanac {

namespace {

constexpr double kYearsAsDays = 4000;

Condition condition_cell(Cells& c, std::string_view column) {
  const auto word = c.row.text(column);
  const auto condition = condition_from_word(word);
  if (!condition)
    c.row.fail(column, fmt::format("found \"{}\", wanted underripe, firm, ripe, soft or going over", word));
  return condition.value_or(Condition::firm);
}

const std::vector<std::string> kClasses{"low", "med", "high"};

}  // namespace

measure::Result<std::vector<FreshStorage>> read_fresh_storage(std::string_view text, const Crops& crops) {
  return read_rows<FreshStorage>(
      "keeping/fresh_storage.csv", text, crops,
      {"crop", "group", "part", "temp_low_c", "temp_high_c", "rh_low_pct", "rh_high_pct", "life_low_days",
       "life_high_days", "chilling_sensitive", "chilling_below_c", "ethylene_producer", "ethylene_sensitivity",
       "highest_freezing_point_c", "source", "checked"},
      [](Cells& c) {
        FreshStorage f{.crop = c.crop(),
                       .group = c.row.text("group"),
                       .part = c.row.text("part"),
                       .temp_c = c.span("temp_low_c", "temp_high_c", -2, 30),
                       .humidity_pct = c.span("rh_low_pct", "rh_high_pct", 0, 100),
                       .life_days = c.span("life_low_days", "life_high_days", 0.1, kYearsAsDays),
                       .chilling_sensitive = c.yes("chilling_sensitive"),
                       .chilling_below_c = c.row.number("chilling_below_c", 0, 20),
                       .ethylene_producer = c.row.one_of("ethylene_producer", kClasses),
                       .ethylene_sensitivity = c.row.one_of("ethylene_sensitivity", kClasses),
                       .highest_freezing_c = c.row.number("highest_freezing_point_c", -5, 0),
                       .from = c.provenance()};
        if (f.chilling_sensitive && !f.chilling_below_c)
          c.row.fail("chilling_below_c", "chilling-sensitive, but no limit");
        if (f.highest_freezing_c && f.temp_c.low < *f.highest_freezing_c) {
          c.row.fail("temp_low_c", "below the highest freezing point");
        }
        return f;
      });
}

measure::Result<std::vector<RoomLife>> read_room_life(std::string_view text, const Crops& crops) {
  return read_rows<RoomLife>("keeping/room_life.csv", text, crops,
                             {"crop", "state", "seen", "place", "temp_c", "life_low_days", "life_high_days",
                              "fixes_life", "sign_to_watch", "source", "checked"},
                             [](Cells& c) {
                               return RoomLife{
                                   .crop = c.crop(),
                                   .state = c.row.text("state"),
                                   .seen = condition_cell(c, "seen"),
                                   .place = c.row.one_of("place", {"counter", "cool_room", "cellar", "fridge"}),
                                   .temp_c = c.row.required_number("temp_c", 0, 30),
                                   .life_days = c.span("life_low_days", "life_high_days", 0.05, kYearsAsDays),
                                   .fixes_life = c.yes("fixes_life"),
                                   .sign = c.row.text("sign_to_watch"),
                                   .from = c.provenance()};
                             });
}

measure::Result<std::vector<Respiration>> read_respiration(std::string_view text, const Crops& crops) {
  return read_rows<Respiration>(
      "keeping/respiration.csv", text, crops,
      {"crop", "part", "temp_c", "rate_low_mg_co2_per_kg_h", "rate_high_mg_co2_per_kg_h", "source", "checked"},
      [](Cells& c) {
        return Respiration{.crop = c.crop(),
                           .part = c.row.text("part"),
                           .temp_c = c.row.required_number("temp_c", -1, 45),
                           .rate = c.span("rate_low_mg_co2_per_kg_h", "rate_high_mg_co2_per_kg_h", 0.1, 2000),
                           .from = c.provenance()};
      });
}

measure::Result<std::vector<Q10>> read_q10(std::string_view text, const Crops& crops) {
  return read_rows<Q10>("keeping/q10.csv", text, crops,
                        {"crop", "part", "q10_0_10", "q10_10_20", "q10_fit", "source", "checked"}, [](Cells& c) {
                          return Q10{.crop = c.crop(),
                                     .part = c.row.text("part"),
                                     .from_0_to_10 = c.row.number("q10_0_10", 0.5, 10),
                                     .from_10_to_20 = c.row.number("q10_10_20", 0.5, 10),
                                     .fitted = c.row.required_number("q10_fit", 0.5, 10),
                                     .from = c.provenance()};
                        });
}

measure::Result<std::vector<Curing>> read_curing(std::string_view text, const Crops& crops) {
  return read_rows<Curing>(
      "keeping/curing.csv", text, crops,
      {"crop", "way", "cure_temp_c_low", "cure_temp_c_high", "cure_rh_low_pct", "cure_rh_high_pct", "cure_days_low",
       "cure_days_high", "then_store_temp_c_low", "then_store_temp_c_high", "then_store_rh_low_pct",
       "then_store_rh_high_pct", "then_keep_months_low", "then_keep_months_high", "notes", "source", "checked"},
      [](Cells& c) {
        return Curing{.crop = c.crop(),
                      .way = c.row.text("way"),
                      .temp_c = c.optional_span("cure_temp_c_low", "cure_temp_c_high", 5, 50),
                      .humidity_pct = c.optional_span("cure_rh_low_pct", "cure_rh_high_pct", 0, 100),
                      .days = c.span("cure_days_low", "cure_days_high", 0, 90),
                      .then_temp_c = c.span("then_store_temp_c_low", "then_store_temp_c_high", -2, 30),
                      .then_humidity_pct = c.span("then_store_rh_low_pct", "then_store_rh_high_pct", 0, 100),
                      .then_months = c.span("then_keep_months_low", "then_keep_months_high", 0, 60),
                      .notes = c.row.text("notes"),
                      .from = c.provenance()};
      });
}

measure::Result<std::vector<FrozenLife>> read_frozen_storage(std::string_view text, const Crops& crops) {
  return read_rows<FrozenLife>("keeping/frozen_storage.csv", text, crops,
                               {"crops", "food", "form", "months_best_quality_low", "months_best_quality_high",
                                "blanch_min", "steam_blanch_min", "headspace_note", "pack", "source", "checked"},
                               [](Cells& c) {
                                 return FrozenLife{
                                     .crops = c.crop_list(),
                                     .food = c.words("food"),
                                     .form = c.words("form"),
                                     .months = c.span("months_best_quality_low", "months_best_quality_high", 0, 36),
                                     .blanch_min = c.row.number("blanch_min", 0.1, 30),
                                     .steam_blanch_min = c.row.number("steam_blanch_min", 0.1, 30),
                                     .headspace = c.row.text("headspace_note"),
                                     .pack = c.row.text("pack"),
                                     .from = c.provenance()};
                               });
}

measure::Result<std::vector<ShelfLife>> read_shelf_life(std::string_view text, const Crops& crops) {
  return read_rows<ShelfLife>(
      "keeping/canned_dried_storage.csv", text, crops,
      {"crops", "food", "form", "method", "months_low", "months_high", "temp_c", "temp_note", "source", "checked"},
      [](Cells& c) {
        return ShelfLife{
            .crops = c.crop_list(),
            .food = c.words("food"),
            .form = c.words("form"),
            .method = c.row.one_of("method", {"canned", "dried", "fermented", "cured", "vinegar", "rendered", "oil"}),
            .months = c.span("months_low", "months_high", 0.01, 240),
            .temp_c = c.row.number("temp_c", -30, 45),
            .where = c.row.text("temp_note"),
            .from = c.provenance()};
      });
}

measure::Result<std::vector<Drying>> read_drying(std::string_view text, const Crops& crops) {
  return read_rows<Drying>(
      "keeping/drying.csv", text, crops,
      {"crops", "food", "form", "pretreat", "temp_c", "hours_low", "hours_high", "final_moisture_pct_wb",
       "fresh_moisture_pct_wb", "dry_yield_ratio", "doneness_test", "source", "checked"},
      [](Cells& c) {
        return Drying{.crops = c.crop_list(),
                      .food = c.words("food"),
                      .form = c.words("form"),
                      .pretreatment = c.row.text("pretreat"),
                      .temp_c = c.row.required_number("temp_c", 20, 80),
                      .hours = c.span("hours_low", "hours_high", 0.5, 96),
                      .final_moisture_pct = c.row.required_number("final_moisture_pct_wb", 1, 40),
                      .fresh_moisture_pct = c.row.required_number("fresh_moisture_pct_wb", 5, 99),
                      .yield_ratio = c.row.required_number("dry_yield_ratio", 1, 30),
                      .doneness = c.row.text("doneness_test"),
                      .from = c.provenance()};
      });
}

measure::Result<std::vector<ColdFact>> read_cold_chain(std::string_view text, const Crops& crops) {
  return read_rows<ColdFact>("keeping/cold_chain.csv", text, crops,
                             {"number", "topic", "fact", "quantity", "low", "high", "unit", "source", "checked"},
                             [](Cells& c) {
                               ColdFact f{.number = static_cast<int>(c.row.required_number("number", 1, 999)),
                                          .topic = c.words("topic"),
                                          .fact = c.words("fact"),
                                          .quantity = c.row.text("quantity"),
                                          .value = c.optional_span("low", "high", -40, 1000),
                                          .unit = c.row.text("unit"),
                                          .from = c.provenance()};
                               if (f.quantity.empty() != !f.value)
                                 c.row.fail("quantity", "a named figure needs its value, and a value its name");
                               if (f.value && f.unit.empty()) c.row.fail("unit", "a figure without a unit");
                               return f;
                             });
}

measure::Result<std::vector<HazardLimit>> read_hazard_limits(std::string_view text, const Crops& crops) {
  return read_rows<HazardLimit>(
      "keeping/hazard_clocks.csv", text, crops,
      {"key", "name", "crops", "room_hours", "fridge_days_low", "fridge_days_high", "notes", "source", "checked"},
      [](Cells& c) {
        return HazardLimit{.key = c.words("key"),
                           .name = c.words("name"),
                           .crops = c.crop_list(),
                           .room_hours = c.row.required_number("room_hours", 0.5, 12),
                           .fridge_days = c.span("fridge_days_low", "fridge_days_high", 0.1, 120),
                           .notes = c.row.text("notes"),
                           .from = c.provenance()};
      });
}

measure::Result<std::vector<KeepingException>> read_exceptions(std::string_view text, const Crops& crops) {
  return read_rows<KeepingException>(
      "keeping/exceptions.csv", text, crops,
      {"crops", "rule", "temp_low_c", "temp_high_c", "factor", "what", "source", "checked"}, [](Cells& c) {
        return KeepingException{.crops = c.crop_list(),
                                .rule = c.row.one_of("rule", {"no_respiration", "mealy", "chilling", "freezing"}),
                                .temp_c = c.optional_span("temp_low_c", "temp_high_c", -10, 40),
                                .factor = c.row.required_number("factor", 0.1, 1000),
                                .what = c.words("what"),
                                .from = c.provenance()};
      });
}

measure::Result<std::vector<Ripening>> read_ripening(std::string_view text, const Crops& crops) {
  return read_rows<Ripening>("keeping/ripening.csv", text, crops,
                             {"crop", "life_counts_from", "underripe_days", "firm_days", "ripe_days", "soft_days",
                              "q10", "stops_below_c", "no_faster_above_c", "notes", "source", "checked"},
                             [](Cells& c) {
                               return Ripening{.crop = c.crop(),
                                               .life_counts_from = condition_cell(c, "life_counts_from"),
                                               .days_at_20c = {c.row.required_number("underripe_days", 0.1, 60),
                                                               c.row.required_number("firm_days", 0.1, 60),
                                                               c.row.required_number("ripe_days", 0.1, 60),
                                                               c.row.required_number("soft_days", 0.1, 60), 0},
                                               .q10 = c.row.required_number("q10", 1, 6),
                                               .stops_below_c = c.row.number("stops_below_c", -2, 20),
                                               .no_faster_above_c = c.row.number("no_faster_above_c", 20, 45),
                                               .notes = c.row.text("notes"),
                                               .from = c.provenance()};
                             });
}

measure::Result<std::vector<TailShape>> read_shapes(std::string_view text, const Crops& crops) {
  return read_rows<TailShape>("keeping/shape.csv", text, crops, {"crop", "kind", "beta", "notes", "source", "checked"},
                              [](Cells& c) {
                                TailShape t{.crop = c.optional_crop(),
                                            .kind = std::nullopt,
                                            .beta = c.row.required_number("beta", 0.5, 10),
                                            .notes = c.row.text("notes"),
                                            .from = c.provenance()};
                                const auto word = c.row.text("kind");
                                for (int k = 0; k <= static_cast<int>(CropKind::other); ++k) {
                                  if (to_word(static_cast<CropKind>(k)) == word) t.kind = static_cast<CropKind>(k);
                                }
                                if (!word.empty() && !t.kind)
                                  c.row.fail("kind", fmt::format("\"{}\" is no kind of crop", word));
                                if (t.crop.empty() == !t.kind)
                                  c.row.fail("crop", "a row is for one crop or for one kind");
                                return t;
                              });
}

measure::Result<KeepingTables> load_keeping_tables(const Crops& crops) {
  KeepingTables t;
  std::optional<measure::Refusal> fault;
  const auto file = [](const char* name) { return embedded_file(std::string("keeping/") + name + ".csv"); };
  take_rows(read_fresh_storage(file("fresh_storage"), crops), t.fresh, fault);
  take_rows(read_room_life(file("room_life"), crops), t.rooms, fault);
  take_rows(read_respiration(file("respiration"), crops), t.respiration, fault);
  take_rows(read_q10(file("q10"), crops), t.q10, fault);
  take_rows(read_curing(file("curing"), crops), t.curing, fault);
  take_rows(read_frozen_storage(file("frozen_storage"), crops), t.frozen, fault);
  take_rows(read_shelf_life(file("canned_dried_storage"), crops), t.shelf, fault);
  take_rows(read_drying(file("drying"), crops), t.drying, fault);
  take_rows(read_cold_chain(file("cold_chain"), crops), t.cold, fault);
  take_rows(read_hazard_limits(file("hazard_clocks"), crops), t.hazards, fault);
  take_rows(read_exceptions(file("exceptions"), crops), t.exceptions, fault);
  take_rows(read_ripening(file("ripening"), crops), t.ripening, fault);
  take_rows(read_shapes(file("shape"), crops), t.shapes, fault);
  if (fault) return tl::unexpected(*fault);
  return t;
}

}  // namespace stillroom::almanac
