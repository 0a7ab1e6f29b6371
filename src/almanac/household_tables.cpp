#include "almanac/household_tables.h"

#include "almanac/csv.h"
#include "almanac/detail/cells.h"

namespace stillroom::almanac {

std::optional<double> Price::lb_per_unit() const {
  if (unit == "lb") return 1;
  const auto ounces = unit.find(" oz");
  if (ounces == std::string::npos) return std::nullopt;
  return std::stod(unit.substr(0, ounces)) / 16;  // read_prices has checked that a number stands there
}

measure::Result<std::vector<Need>> read_need(std::string_view text, const Crops& crops) {
  return read_rows<Need>(
      "household/need.csv", text, crops,
      {"food_group", "food", "crops", "measure", "low", "high", "unit", "age_group", "age_factor", "source", "checked",
       "notes"},
      [](Cells& c) {
        return Need{
            .group = c.words("food_group"),
            .food = c.words("food"),
            .crops = c.crop_list(),
            .measure = c.row.one_of("measure", {"age_factor", "kcal_per_day", "cup_eq_per_week", "oz_eq_per_week",
                                                "g_per_day", "lb_per_person_year", "lb_to_put_up_per_person_year",
                                                "quart_per_day", "servings_per_week"}),
            .amount = c.span("low", "high", 0, 5000),
            .unit = c.words("unit"),
            .age_group = c.words("age_group"),
            .age_factor = c.row.number("age_factor", 0, 3),
            .notes = c.row.text("notes"),
            .from = c.provenance()};
      });
}

measure::Result<std::vector<Nutrients>> read_nutrients(std::string_view text, const Crops& crops) {
  return read_rows<Nutrients>(
      "household/nutrients.csv", text, crops,
      {"crop", "food", "form", "kcal_per_100g", "protein_g", "fat_g", "carb_g", "fiber_g", "vit_c_mg", "vit_a_rae_ug",
       "potassium_mg", "water_g", "sodium_mg", "refuse_pct", "fdc_or_ndb_id", "source_description", "source",
       "checked"},
      [](Cells& c) {
        const auto grams = [&c](std::string_view column) { return c.row.number(column, 0, 100); };
        const auto small = [&c](std::string_view column) { return c.row.number(column, 0, 60000); };
        return Nutrients{.crop = c.optional_crop(),
                         .food = c.words("food"),
                         .form = c.words("form"),
                         .kcal = c.row.required_number("kcal_per_100g", 0, 905),
                         .protein_g = grams("protein_g"),
                         .fat_g = grams("fat_g"),
                         .carbohydrate_g = grams("carb_g"),
                         .fiber_g = grams("fiber_g"),
                         .vitamin_c_mg = small("vit_c_mg"),
                         .vitamin_a_rae_ug = small("vit_a_rae_ug"),
                         .potassium_mg = small("potassium_mg"),
                         .water_g = grams("water_g"),
                         .sodium_mg = small("sodium_mg"),
                         .refuse_pct = grams("refuse_pct"),
                         .id = c.row.text("fdc_or_ndb_id"),
                         .description = c.row.text("source_description"),
                         .from = c.provenance()};
      });
}

measure::Result<std::vector<Price>> read_prices(std::string_view text, const Crops& crops) {
  return read_rows<Price>("household/prices.csv", text, crops,
                          {"crop", "food", "form", "unit", "price_low", "price_high", "currency", "year",
                           "yield_fraction", "source", "checked", "notes"},
                          [](Cells& c) {
                            (void)c.row.one_of("currency", {"USD"});
                            return Price{.crop = c.optional_crop(),
                                         .food = c.words("food"),
                                         .form = c.words("form"),
                                         .unit = c.row.one_of("unit", {"lb", "dozen", "gallon", "pint", "8 oz", "12 oz",
                                                                       "12.5 oz", "16 oz", "18 oz", "24 oz", "32 oz"}),
                                         .usd = c.span("price_low", "price_high", 0.01, 500),
                                         .year = c.words("year"),
                                         .yield_fraction = c.row.number("yield_fraction", 0.1, 3),
                                         .notes = c.row.text("notes"),
                                         .from = c.provenance()};
                          });
}

measure::Result<std::vector<Supply>> read_supplies(std::string_view text, const Crops& crops) {
  return read_rows<Supply>(
      "household/supplies.csv", text, crops,
      {"item", "variant", "capacity", "capacity_unit", "volume_ml", "empty_weight_g_low", "empty_weight_g_high",
       "per_unit_of_food", "reuse_rule", "life_low", "life_high", "life_unit", "source", "checked", "notes"},
      [](Cells& c) {
        return Supply{.item = c.words("item"),
                      .variant = c.words("variant"),
                      .capacity = c.row.required_number("capacity", 0, 1000),
                      .capacity_unit = c.words("capacity_unit"),
                      .volume_ml = c.row.number("volume_ml", 1, 20000),
                      .empty_weight_g = c.optional_span("empty_weight_g_low", "empty_weight_g_high", 0, 5000),
                      .per_food = c.row.text("per_unit_of_food"),
                      .reuse = c.row.text("reuse_rule"),
                      .life = c.optional_span("life_low", "life_high", 0, 99),
                      .life_unit = c.row.text("life_unit"),
                      .notes = c.row.text("notes"),
                      .from = c.provenance()};
      });
}

measure::Result<std::vector<OutdoorWork>> read_outdoor_work(std::string_view text, const Crops& crops) {
  return read_rows<OutdoorWork>("household/outdoor_work.csv", text, crops,
                                {"task", "min_temp_f", "max_temp_f", "dry_hours_before", "dry_hours_after",
                                 "max_wind_mph", "daylight_needed", "soil_condition", "source", "checked", "notes"},
                                [](Cells& c) {
                                  return OutdoorWork{
                                      .task = c.words("task"),
                                      .temp_f = c.span("min_temp_f", "max_temp_f", -40, 130),
                                      .dry_hours_before = c.row.required_number("dry_hours_before", 0, 240),
                                      .dry_hours_after = c.row.required_number("dry_hours_after", 0, 240),
                                      .max_wind_mph = c.row.required_number("max_wind_mph", 1, 60),
                                      .daylight = c.yes("daylight_needed"),
                                      .soil = c.row.text("soil_condition"),
                                      .notes = c.row.text("notes"),
                                      .from = c.provenance()};
                                });
}

measure::Result<HouseholdTables> load_household_tables(const Crops& crops) {
  HouseholdTables t;
  std::optional<measure::Refusal> fault;
  const auto file = [](const char* name) { return embedded_file(std::string("household/") + name + ".csv"); };
  take_rows(read_need(file("need"), crops), t.need, fault);
  take_rows(read_nutrients(file("nutrients"), crops), t.nutrients, fault);
  take_rows(read_prices(file("prices"), crops), t.prices, fault);
  take_rows(read_supplies(file("supplies"), crops), t.supplies, fault);
  take_rows(read_outdoor_work(file("outdoor_work"), crops), t.outdoor, fault);
  if (fault) return tl::unexpected(*fault);
  return t;
}

}  // namespace stillroom::almanac
