#include <gmock/gmock.h>

#include <functional>

#include "almanac/csv.h"
#include "almanac/published_tables.h"

// Each compiled-in table is broken in one cell; the refusal must name file, row and column.
namespace stillroom::almanac {
namespace {

using testing::HasSubstr;

using Reader = std::function<std::optional<measure::Refusal>(std::string_view)>;

template <class Rows>
std::optional<measure::Refusal> refusal_of(const measure::Result<Rows>& rows) {
  if (rows) return std::nullopt;
  return rows.error();
}

struct BrokenCell {
  const char* file;
  Reader read;
  const char* column;  ///< of row 2, which is overwritten
  const char* cell;
  const char* says;
};

std::string with_cell(std::string_view text, std::string_view column, std::string_view cell) {
  const auto table = read_csv("t", text, {}).value();
  std::string out;
  const auto put = [&out](const std::vector<std::string>& cells) {
    for (std::size_t i = 0; i < cells.size(); ++i) out += (i ? ",\"" : "\"") + cells[i] + "\"";
    out += "\n";
  };
  put(table.header);
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    auto cells = table.rows[i];
    if (i == 1) cells.at(static_cast<std::size_t>(table.column(column))) = cell;
    put(cells);
  }
  return out;
}

#define STILLROOM_READER(function) [](std::string_view text) { return refusal_of(function(text, published().crops)); }

class BrokenTable : public testing::TestWithParam<BrokenCell> {};

TEST_P(BrokenTable, IsRefusedWithFileRowAndColumn) {
  const auto& b = GetParam();
  const auto text = embedded_file(b.file);
  ASSERT_FALSE(b.read(text)) << "the table itself must be sound";
  const auto refusal = b.read(with_cell(text, b.column, b.cell));
  ASSERT_TRUE(refusal);
  EXPECT_EQ(refusal->code, "bad_table");
  EXPECT_THAT(refusal->message, HasSubstr(std::string(b.file) + ": row 2: column "));
  EXPECT_THAT(refusal->message, HasSubstr(b.says));
  EXPECT_FALSE(refusal->instead.empty());
}

INSTANTIATE_TEST_SUITE_P(
    OneCell, BrokenTable,
    testing::Values(
        BrokenCell{"keeping/fresh_storage.csv", STILLROOM_READER(read_fresh_storage), "crop", "moonfruit", "moonfruit"},
        BrokenCell{"keeping/fresh_storage.csv", STILLROOM_READER(read_fresh_storage), "life_low_days", "900", "above"},
        BrokenCell{"keeping/fresh_storage.csv", STILLROOM_READER(read_fresh_storage), "chilling_below_c", "",
                   "no limit"},
        BrokenCell{"keeping/fresh_storage.csv", STILLROOM_READER(read_fresh_storage), "ethylene_producer", "some",
                   "low"},
        BrokenCell{"keeping/fresh_storage.csv", STILLROOM_READER(read_fresh_storage), "highest_freezing_point_c", "3",
                   "wanted -5 to 0"},
        BrokenCell{"keeping/room_life.csv", STILLROOM_READER(read_room_life), "place", "attic", "counter"},
        BrokenCell{"keeping/room_life.csv", STILLROOM_READER(read_room_life), "seen", "mellow", "underripe"},
        BrokenCell{"keeping/respiration.csv", STILLROOM_READER(read_respiration), "rate_low_mg_co2_per_kg_h", "x",
                   "number"},
        BrokenCell{"keeping/q10.csv", STILLROOM_READER(read_q10), "q10_fit", "", "empty"},
        BrokenCell{"keeping/curing.csv", STILLROOM_READER(read_curing), "cure_temp_c_low", "20", "one end"},
        BrokenCell{"keeping/frozen_storage.csv", STILLROOM_READER(read_frozen_storage), "crops", "asparagus;ice",
                   "ice"},
        BrokenCell{"keeping/canned_dried_storage.csv", STILLROOM_READER(read_shelf_life), "method", "buried", "canned"},
        BrokenCell{"keeping/drying.csv", STILLROOM_READER(read_drying), "dry_yield_ratio", "0.2", "wanted 1"},
        BrokenCell{"keeping/cold_chain.csv", STILLROOM_READER(read_cold_chain), "quantity", "", "named figure"},
        BrokenCell{"keeping/hazard_clocks.csv", STILLROOM_READER(read_hazard_limits), "room_hours", "40", "wanted 0.5"},
        BrokenCell{"keeping/exceptions.csv", STILLROOM_READER(read_exceptions), "rule", "luck", "mealy"},
        BrokenCell{"keeping/ripening.csv", STILLROOM_READER(read_ripening), "ripe_days", "0", "wanted 0.1"},
        BrokenCell{"keeping/shape.csv", STILLROOM_READER(read_shapes), "kind", "fruit", "one crop or for one kind"},
        BrokenCell{"yields/container_weight.csv", STILLROOM_READER(read_container_weights), "lb", "99", "outside"},
        BrokenCell{"yields/containers.csv", STILLROOM_READER(read_containers), "litres_low", "18", "above"},
        BrokenCell{"yields/put_up_yield.csv", STILLROOM_READER(read_put_up_yields), "unit", "barrel", "quart"},
        BrokenCell{"yields/put_up_yield.csv", STILLROOM_READER(read_put_up_yields), "checked", "surely", "memory"},
        BrokenCell{"yields/poultry_yield.csv", STILLROOM_READER(read_poultry_yields), "breast", "1.4", "wanted 0 to 1"},
        BrokenCell{"yields/labour.csv", STILLROOM_READER(read_labour), "least_age", "30", "wanted 0 to 18"},
        BrokenCell{"yields/garden.csv", STILLROOM_READER(read_garden), "frost_hardiness", "tough", "hardy"},
        BrokenCell{"yields/orchard.csv", STILLROOM_READER(read_orchard), "unit", "sack", "bushel"},
        BrokenCell{"yields/livestock.csv", STILLROOM_READER(read_livestock), "source", "", "empty"},
        BrokenCell{"yields/broth.csv", STILLROOM_READER(read_broth), "low", "9000", "wanted"},
        BrokenCell{"household/need.csv", STILLROOM_READER(read_need), "measure", "lots", "lb_per_person_year"},
        BrokenCell{"household/nutrients.csv", STILLROOM_READER(read_nutrients), "kcal_per_100g", "2000",
                   "wanted 0 to 905"},
        BrokenCell{"household/prices.csv", STILLROOM_READER(read_prices), "currency", "GBP", "USD"},
        BrokenCell{"household/supplies.csv", STILLROOM_READER(read_supplies), "capacity", "", "empty"},
        BrokenCell{"household/outdoor_work.csv", STILLROOM_READER(read_outdoor_work), "min_temp_f", "95", "above"}));

}  // namespace
}  // namespace stillroom::almanac
