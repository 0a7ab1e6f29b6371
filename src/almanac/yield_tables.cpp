#include "almanac/yield_tables.h"

#include <fmt/format.h>

#include "almanac/csv.h"
#include "almanac/detail/cells.h"

namespace stillroom::almanac {

namespace {

/// The main figure must lie between its bounds.
void check_within(Cells& c, std::string_view column, double value, Span range) {
  if (!c.row.error() && (value < range.low || value > range.high)) {
    c.row.fail(column, fmt::format("{:g} is outside {:g} to {:g}", value, range.low, range.high));
  }
}

std::optional<double> share_cell(Cells& c, std::string_view column) { return c.row.number(column, 0, 1); }

const std::vector<std::string> kPutUpMethods{"canned", "frozen",    "dried", "juiced",
                                             "jelly",  "fermented", "cured", "prep"};
const std::vector<std::string> kPutUpUnits{"quart", "pint", "half_pint", "gallon", "cup", "lb_dried", "lb_cured"};

}  // namespace

measure::Result<std::vector<ContainerWeight>> read_container_weights(std::string_view text, const Crops& crops) {
  return read_rows<ContainerWeight>(
      "yields/container_weight.csv", text, crops,
      {"crop", "container", "as_weighed", "lb", "lb_low", "lb_high", "source", "checked", "notes"}, [](Cells& c) {
        ContainerWeight w{.crop = c.crop(),
                          .container = c.words("container"),
                          .as_weighed = c.row.text("as_weighed"),
                          .lb = c.row.required_number("lb", 0.05, 500),
                          .range_lb = c.span("lb_low", "lb_high", 0.05, 500),
                          .notes = c.row.text("notes"),
                          .from = c.provenance()};
        check_within(c, "lb", w.lb, w.range_lb);
        return w;
      });
}

measure::Result<std::vector<Container>> read_containers(std::string_view text, const Crops& crops) {
  return read_rows<Container>("yields/containers.csv", text, crops,
                              {"key", "name", "aliases", "litres", "litres_low", "litres_high", "source", "checked"},
                              [](Cells& c) {
                                Container k{.key = c.words("key"),
                                            .name = c.words("name"),
                                            .aliases = c.row.list("aliases"),
                                            .litres = c.row.required_number("litres", 0.1, 2000),
                                            .range_l = c.span("litres_low", "litres_high", 0.1, 2000),
                                            .from = c.provenance()};
                                check_within(c, "litres", k.litres, k.range_l);
                                return k;
                              });
}

measure::Result<std::vector<PutUpYield>> read_put_up_yields(std::string_view text, const Crops& crops) {
  return read_rows<PutUpYield>("yields/put_up_yield.csv", text, crops,
                               {"crop", "form", "method", "fresh_lb_per_unit", "unit", "fresh_lb_low", "fresh_lb_high",
                                "edible_fraction_low", "edible_fraction_high", "source", "checked", "notes"},
                               [](Cells& c) {
                                 PutUpYield y{
                                     .crop = c.crop(),
                                     .form = c.words("form"),
                                     .method = c.row.one_of("method", kPutUpMethods),
                                     .fresh_lb = c.row.required_number("fresh_lb_per_unit", 0.05, 60),
                                     .unit = c.row.one_of("unit", kPutUpUnits),
                                     .range_lb = c.span("fresh_lb_low", "fresh_lb_high", 0.05, 60),
                                     .edible_fraction = c.span("edible_fraction_low", "edible_fraction_high", 0.1, 1),
                                     .notes = c.row.text("notes"),
                                     .from = c.provenance()};
                                 check_within(c, "fresh_lb_per_unit", y.fresh_lb, y.range_lb);
                                 return y;
                               });
}

measure::Result<std::vector<PoultryYield>> read_poultry_yields(std::string_view text, const Crops& crops) {
  return read_rows<PoultryYield>(
      "yields/poultry_yield.csv", text, crops,
      {"crop", "class_note", "live_kg", "carcass_fraction", "parts_basis", "source", "checked", "notes"}, [](Cells& c) {
        return PoultryYield{
            .crop = c.crop(),
            .class_note = c.words("class_note"),
            .live_kg = c.row.number("live_kg", 0.1, 1000),
            .carcass_fraction = share_cell(c, "carcass_fraction"),
            .parts_basis = c.row.text("parts_basis"),
            .breast = share_cell(c, "breast"),
            .thigh = share_cell(c, "thigh"),
            .drumstick = share_cell(c, "drumstick"),
            .wing = share_cell(c, "wing"),
            .back_neck_carcass = share_cell(c, "back_neck_carcass"),
            .giblets = share_cell(c, "giblets"),
            .skin_fat = share_cell(c, "skin_fat"),
            .hind_leg = share_cell(c, "hind_leg"),
            .loin = share_cell(c, "loin"),
            .foreleg = share_cell(c, "foreleg"),
            .neck_rib = share_cell(c, "neck_rib"),
            .edible_meat = share_cell(c, "edible_meat_fraction"),
            .bone = share_cell(c, "bone_fraction"),
            .broth_quarts = c.optional_span("broth_quarts_per_carcass_low", "broth_quarts_per_carcass_high", 0.1, 40),
            .notes = c.row.text("notes"),
            .from = c.provenance()};
      });
}

measure::Result<std::vector<Labour>> read_labour(std::string_view text, const Crops& crops) {
  return read_rows<Labour>("yields/labour.csv", text, crops,
                           {"task", "crops", "what", "with", "low", "high", "per", "setup_min", "least_age",
                            "attention", "source", "checked", "notes"},
                           [](Cells& c) {
                             return Labour{.task = c.words("task"),
                                           .crops = c.crop_list(),
                                           .what = c.words("what"),
                                           .with = c.row.text("with"),
                                           .minutes = c.span("low", "high", 0, 2000),
                                           .per = c.row.one_of("per", {"lb", "load", "batch", "check", "session"}),
                                           .setup_min = c.row.required_number("setup_min", 0, 240),
                                           .least_age = static_cast<int>(c.row.required_number("least_age", 0, 18)),
                                           .attention = c.row.one_of("attention", {"hands_on", "nearby", "unattended"}),
                                           .notes = c.row.text("notes"),
                                           .from = c.provenance()};
                           });
}

measure::Result<std::vector<GardenRow>> read_garden(std::string_view text, const Crops& crops) {
  return read_rows<GardenRow>(
      "yields/garden.csv", text, crops,
      {"crops", "as_grown", "yield_lb_per_100ft_row_low", "yield_lb_per_100ft_row_high",
       "row_ft_per_person_preserve_low", "row_ft_per_person_preserve_high", "row_ft_per_person_fresh_low",
       "row_ft_per_person_fresh_high", "plants_or_seed_per_100ft", "spacing_in", "days_to_maturity_low",
       "days_to_maturity_high", "frost_hardiness", "source", "checked", "culture_checked", "notes"},
      [](Cells& c) {
        GardenRow g{
            .crops = c.crop_list(),
            .as_grown = c.words("as_grown"),
            .lb_per_100ft = c.span("yield_lb_per_100ft_row_low", "yield_lb_per_100ft_row_high", 1, 2000),
            .ft_per_person_preserve =
                c.optional_span("row_ft_per_person_preserve_low", "row_ft_per_person_preserve_high", 0, 500),
            .ft_per_person_fresh =
                c.optional_span("row_ft_per_person_fresh_low", "row_ft_per_person_fresh_high", 0, 500),
            .plants_or_seed_per_100ft = c.row.text("plants_or_seed_per_100ft"),
            .spacing_in = c.row.required_number("spacing_in", 0.5, 120),
            .days_to_maturity = c.span("days_to_maturity_low", "days_to_maturity_high", 10, 1500),
            .frost_hardiness = c.row.one_of("frost_hardiness", {"hardy", "semi_hardy", "tender", "very_tender"}),
            .culture_checked = Sureness::from_memory,
            .notes = c.row.text("notes"),
            .from = c.provenance()};
        const auto culture = sureness_from_code(c.row.text("culture_checked"));
        if (!culture) c.row.fail("culture_checked", "no word for how surely it is known");
        g.culture_checked = culture.value_or(Sureness::from_memory);
        return g;
      });
}

measure::Result<std::vector<OrchardYield>> read_orchard(std::string_view text, const Crops& crops) {
  return read_rows<OrchardYield>(
      "yields/orchard.csv", text, crops,
      {"crop", "size", "yield_low", "yield_high", "unit", "yield_lb_low", "yield_lb_high", "years_to_bear_low",
       "years_to_bear_high", "spacing_ft", "source", "checked", "notes"},
      [](Cells& c) {
        return OrchardYield{.crop = c.crop(),
                            .size = c.words("size"),
                            .amount = c.span("yield_low", "yield_high", 0.01, 1000),
                            .unit = c.row.one_of("unit", {"bushel", "lb", "lb_per_ft"}),
                            .lb = c.span("yield_lb_low", "yield_lb_high", 0.05, 5000),
                            .years_to_bear = c.span("years_to_bear_low", "years_to_bear_high", 0, 30),
                            .spacing_ft = c.row.required_number("spacing_ft", 0.5, 80),
                            .notes = c.row.text("notes"),
                            .from = c.provenance()};
      });
}

measure::Result<std::vector<LivestockFigure>> read_livestock(std::string_view text, const Crops& crops) {
  return read_rows<LivestockFigure>("yields/livestock.csv", text, crops,
                                    {"crop", "stock", "measure", "low", "high", "unit", "source", "checked", "notes"},
                                    [](Cells& c) {
                                      return LivestockFigure{.crop = c.crop(),
                                                             .stock = c.words("stock"),
                                                             .measure = c.words("measure"),
                                                             .value = c.span("low", "high", 0, 5000),
                                                             .unit = c.words("unit"),
                                                             .notes = c.row.text("notes"),
                                                             .from = c.provenance()};
                                    });
}

measure::Result<std::vector<BrothFact>> read_broth(std::string_view text, const Crops& crops) {
  return read_rows<BrothFact>("yields/broth.csv", text, crops,
                              {"topic", "fact", "low", "high", "unit", "notes", "source", "checked"}, [](Cells& c) {
                                return BrothFact{.topic = c.words("topic"),
                                                 .fact = c.words("fact"),
                                                 .value = c.span("low", "high", 0, 1000),
                                                 .unit = c.words("unit"),
                                                 .notes = c.row.text("notes"),
                                                 .from = c.provenance()};
                              });
}

measure::Result<YieldTables> load_yield_tables(const Crops& crops) {
  YieldTables t;
  std::optional<measure::Refusal> fault;
  const auto file = [](const char* name) { return embedded_file(std::string("yields/") + name + ".csv"); };
  take_rows(read_container_weights(file("container_weight"), crops), t.container_weights, fault);
  take_rows(read_containers(file("containers"), crops), t.containers, fault);
  take_rows(read_put_up_yields(file("put_up_yield"), crops), t.put_up, fault);
  take_rows(read_poultry_yields(file("poultry_yield"), crops), t.poultry, fault);
  take_rows(read_labour(file("labour"), crops), t.labour, fault);
  take_rows(read_garden(file("garden"), crops), t.garden, fault);
  take_rows(read_orchard(file("orchard"), crops), t.orchard, fault);
  take_rows(read_livestock(file("livestock"), crops), t.livestock, fault);
  take_rows(read_broth(file("broth"), crops), t.broth, fault);
  if (fault) return tl::unexpected(*fault);
  return t;
}

}  // namespace stillroom::almanac
