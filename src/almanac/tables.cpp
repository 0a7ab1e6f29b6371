#include "almanac/tables.h"

#include <fmt/format.h>

#include <algorithm>

#include "almanac/csv.h"
#include "almanac/detail/cells.h"

namespace stillroom::almanac {

namespace {

constexpr auto kRowCrop = [](const auto& row) -> const std::string& { return row.crop; };
constexpr auto kRowCrops = [](const auto& row) -> const std::vector<std::string>& { return row.crops; };

/// The product row that speaks for a whole kind of crop, or empty.
std::string_view general_food(const Crops& crops, std::string_view crop) {
  const Crop* c = crops.find(crop);
  if (c == nullptr || c->animal) return {};
  switch (c->kind) {
    case CropKind::fruit:
      return "fruit_any";
    case CropKind::vegetable:
    case CropKind::root:
    case CropKind::leaf:
    case CropKind::legume:
      return "vegetable_any";
    default:
      return {};
  }
}

template <class Row>
Found<Row> rows_of_food(const std::vector<Row>& table, std::string_view food) {
  Found<Row> found{.rows = {}, .crop = std::string(food), .kin = Kin::parent, .from = {}};
  for (const auto& row : table) {
    if (row.food == food) found.rows.push_back(&row);
  }
  return found;
}

/// `own`, or the general rows of the kind where there are none.
template <class Row>
measure::Result<Found<Row>> or_general(measure::Result<Found<Row>> own, const Crops& crops, std::string_view crop,
                                       const std::vector<Row>& table) {
  if (own) return own;
  const auto food = general_food(crops, crop);
  if (food.empty()) return own;
  auto found = rows_of_food(table, food);
  if (found.rows.empty()) return own;
  found.from = fmt::format("for {} in general; no row for {} itself", food == "fruit_any" ? "fruit" : "vegetables",
                           crops.find(crop)->name);
  return found;
}

}  // namespace

measure::Result<Found<FreshStorage>> Tables::fresh_storage(const Crops& crops, std::string_view crop) const {
  return rows_for(crops, keeping.fresh, crop, "storage life", kRowCrop);
}

measure::Result<const FreshStorage*> Tables::best_storage(const Crops& crops, std::string_view crop) const {
  const auto found = fresh_storage(crops, crop);
  if (!found) return tl::unexpected(found.error());
  return *std::ranges::max_element(found->rows, {}, [](const FreshStorage* r) { return r->life_days.high; });
}

measure::Result<Found<RoomLife>> Tables::room_life(const Crops& crops, std::string_view crop) const {
  return rows_for(crops, keeping.rooms, crop, "life at room, cellar or refrigerator temperature", kRowCrop);
}

measure::Result<Found<Respiration>> Tables::respiration(const Crops& crops, std::string_view crop) const {
  return rows_for(crops, keeping.respiration, crop, "rate of respiration", kRowCrop);
}

measure::Result<Found<Q10>> Tables::q10(const Crops& crops, std::string_view crop) const {
  return rows_for(crops, keeping.q10, crop, "temperature coefficient", kRowCrop);
}

measure::Result<Found<Curing>> Tables::curing(const Crops& crops, std::string_view crop) const {
  return rows_for(crops, keeping.curing, crop, "curing", kRowCrop);
}

measure::Result<Found<FrozenLife>> Tables::frozen(const Crops& crops, std::string_view crop) const {
  return or_general(rows_for(crops, keeping.frozen, crop, "frozen life", kRowCrops), crops, crop, keeping.frozen);
}

measure::Result<Found<ShelfLife>> Tables::shelf_life(const Crops& crops, std::string_view crop,
                                                     std::string_view method) const {
  const auto keep_method = [method](measure::Result<Found<ShelfLife>> found) {
    if (found) std::erase_if(found->rows, [method](const ShelfLife* r) { return r->method != method; });
    return found;
  };
  // A crop may have rows of another method only, so the nearest kin with a row of this one is wanted.
  for (const auto& k : kin_of(crops, crop)) {
    Found<ShelfLife> found{.rows = {}, .crop = k.key, .kin = k.kin, .from = from_words(crops, crop, k)};
    for (const auto& row : keeping.shelf) {
      if (row.method == method && speaks_of(row.crops, k.key)) found.rows.push_back(&row);
    }
    if (!found.rows.empty()) return found;
  }
  const measure::Result<Found<ShelfLife>> none =
      tl::unexpected(no_published_value(crops, crop, fmt::format("life {}", method)));
  auto general = keep_method(or_general(none, crops, crop, keeping.shelf));
  if (general && general->rows.empty()) return none;
  return general;
}

measure::Result<std::vector<const ShelfLife*>> Tables::product_shelf_life(std::string_view product) const {
  auto found = rows_of_food(keeping.shelf, product);
  if (found.rows.empty()) {
    return measure::refuse("no_published_value", fmt::format("There is no published shelf life for {}.", product));
  }
  return std::move(found.rows);
}

measure::Result<Found<Drying>> Tables::drying(const Crops& crops, std::string_view crop) const {
  return rows_for(crops, keeping.drying, crop, "drying", kRowCrops);
}

measure::Result<Found<Ripening>> Tables::ripening(const Crops& crops, std::string_view crop) const {
  return rows_for(crops, keeping.ripening, crop, "ripening", kRowCrop);
}

measure::Result<const ColdFact*> Tables::cold_figure(std::string_view quantity) const {
  const auto it = std::ranges::find(keeping.cold, quantity, &ColdFact::quantity);
  if (quantity.empty() || it == keeping.cold.end()) {
    return measure::refuse("no_published_value", fmt::format("There is no published figure called {}.", quantity));
  }
  return &*it;
}

std::vector<const ColdFact*> Tables::cold_facts(std::string_view topic) const {
  std::vector<const ColdFact*> out;
  for (const auto& f : keeping.cold) {
    if (f.topic == topic) out.push_back(&f);
  }
  return out;
}

measure::Result<Found<ContainerWeight>> Tables::container_weights(const Crops& crops, std::string_view crop) const {
  return rows_for(crops, yields.container_weights, crop, "weight in a container", kRowCrop);
}

measure::Result<Found<PutUpYield>> Tables::put_up_yields(const Crops& crops, std::string_view crop) const {
  return rows_for(crops, yields.put_up, crop, "yield put up", kRowCrop);
}

measure::Result<Found<PoultryYield>> Tables::poultry_yield(const Crops& crops, std::string_view crop) const {
  return rows_for(crops, yields.poultry, crop, "carcass yield", kRowCrop);
}

measure::Result<Found<Labour>> Tables::labour(const Crops& crops, std::string_view crop) const {
  return rows_for(crops, yields.labour, crop, "labour", kRowCrops);
}

measure::Result<Found<GardenRow>> Tables::garden(const Crops& crops, std::string_view crop) const {
  return rows_for(crops, yields.garden, crop, "garden yield", kRowCrops);
}

measure::Result<Found<OrchardYield>> Tables::orchard(const Crops& crops, std::string_view crop) const {
  return rows_for(crops, yields.orchard, crop, "yield per tree or bush", kRowCrop);
}

measure::Result<Found<LivestockFigure>> Tables::livestock(const Crops& crops, std::string_view crop) const {
  return rows_for(crops, yields.livestock, crop, "livestock figure", kRowCrop);
}

measure::Result<Found<Need>> Tables::need(const Crops& crops, std::string_view crop) const {
  return rows_for(crops, household.need, crop, "need per person", kRowCrops);
}

measure::Result<Found<Nutrients>> Tables::nutrients(const Crops& crops, std::string_view crop) const {
  return rows_for(crops, household.nutrients, crop, "nutrient analysis", kRowCrop);
}

measure::Result<Found<Price>> Tables::prices(const Crops& crops, std::string_view crop) const {
  return rows_for(crops, household.prices, crop, "price", kRowCrop);
}

measure::Result<std::vector<const Supply*>> Tables::supplies(std::string_view item) const {
  std::vector<const Supply*> out;
  for (const auto& s : household.supplies) {
    if (s.item == item) out.push_back(&s);
  }
  if (out.empty()) return measure::refuse("no_published_value", fmt::format("No supply is called {}.", item));
  return out;
}

measure::Result<const OutdoorWork*> Tables::outdoor_work(std::string_view task) const {
  const auto it = std::ranges::find(household.outdoor, task, &OutdoorWork::task);
  if (it == household.outdoor.end()) {
    return measure::refuse("no_published_value", fmt::format("There is no weather window for \"{}\".", task));
  }
  return &*it;
}

measure::Result<std::vector<Publication>> read_publications(std::string_view text) {
  const Crops none({});
  return read_rows<Publication>("sources.csv", text, none, {"key", "named_as", "citation", "edition", "how_read"},
                                [](Cells& c) {
                                  Publication p{.key = c.words("key"),
                                                .named_as = c.row.list("named_as"),
                                                .citation = c.words("citation"),
                                                .edition = c.row.text("edition"),
                                                .how_read = c.words("how_read")};
                                  if (p.named_as.empty()) c.row.fail("named_as", "the cell is empty");
                                  return p;
                                });
}

measure::Result<Tables> load_tables(const Crops& crops) {
  auto keeping = load_keeping_tables(crops);
  if (!keeping) return tl::unexpected(keeping.error());
  auto yields = load_yield_tables(crops);
  if (!yields) return tl::unexpected(yields.error());
  auto household = load_household_tables(crops);
  if (!household) return tl::unexpected(household.error());
  auto publications = read_publications(embedded_file("sources.csv"));
  if (!publications) return tl::unexpected(publications.error());
  return Tables{std::move(*keeping), std::move(*yields), std::move(*household), std::move(*publications)};
}

}  // namespace stillroom::almanac
