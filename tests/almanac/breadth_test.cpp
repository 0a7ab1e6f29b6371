#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <regex>
#include <set>

#include "almanac/almanac.h"
#include "almanac/csv.h"
#include "measure/quantity.h"

/// Walks the almanac: whatever is on file has a way to go, or stands in data/routes/without_route.csv with the reason.
namespace stillroom::almanac {
namespace {

const Almanac& whole() {
  static const Almanac all = load_almanac().value();
  return all;
}

/// (table, key) -> why, of data/routes/without_route.csv. Every row has a reason and is used by one of the tests.
const std::map<std::pair<std::string, std::string>, std::string>& listed() {
  static const auto all = [] {
    const auto table = read_csv("routes/without_route.csv", embedded_file("routes/without_route.csv"),
                                {"table", "key", "why", "source", "checked"})
                           .value();
    std::map<std::pair<std::string, std::string>, std::string> out;
    for (std::size_t i = 0; i < table.rows.size(); ++i) {
      RowReader row(table, i);
      out[{row.text("table"), row.text("key")}] = row.text("why");
    }
    return out;
  }();
  return all;
}
bool excused(const std::string& table, const std::string& key) { return listed().contains({table, key}); }

std::vector<const Route*> ways(std::string_view crop) { return whole().routes.for_crop(whole().crops, crop); }
bool keeps(const Route& r) { return !r.is_hold && !lets_go(r); }
template <class Fits>
bool any_way(std::string_view crop, Fits fits) {
  return std::ranges::any_of(ways(crop), [&](const Route* r) { return fits(*r); });
}
/// As any_way, or a route that makes it of another lot: broth of bones.
template <class Fits>
bool any_way_or_maker(std::string_view crop, Fits fits) {
  return any_way(crop, fits) ||
         std::ranges::any_of(whole().routes.all(), [&](const Route& r) { return r.product_food == crop && fits(r); });
}

/// Every crop key a column of a table names, once each.
std::set<std::string> crops_in(const std::string& file, const std::string& column) {
  const auto table = read_csv(file, embedded_file(file), {column}).value();
  std::set<std::string> out;
  for (std::size_t i = 0; i < table.rows.size(); ++i)
    for (std::string& key : RowReader(table, i).list(column)) out.insert(std::move(key));
  out.erase("");
  return out;
}

template <class Fits>
void every_row_has_a_way(const std::string& table, const std::string& file, const std::string& column,
                         std::size_t at_least, Fits fits) {
  const auto crops = crops_in(file, column);
  EXPECT_GE(crops.size(), at_least) << file;
  for (const std::string& crop : crops) {
    EXPECT_NE(any_way_or_maker(crop, fits), excused(table, crop)) << table << " " << crop;
  }
}

TEST(Breadth, EveryCropCanBePutByAndLetGo) {
  for (const Crop& crop : whole().crops.all()) {
    const bool variety = crop.key.starts_with(crop.parent + "/");
    if (excused("crop", crop.key) || (variety && excused("crop", crop.parent))) continue;
    EXPECT_TRUE(any_way(crop.key, keeps)) << crop.key;
    EXPECT_TRUE(any_way(crop.key, [](const Route& r) { return r.method == "given away"; })) << crop.key;
    EXPECT_EQ(any_way(crop.key, takes_poor_food), !crop.animal) << crop.key;
  }
}

TEST(Breadth, NoCropIsExcusedThatHasAWay) {
  for (const auto& [what, why] : listed()) {
    EXPECT_FALSE(why.empty()) << what.second;
    if (what.first != "crop") continue;
    ASSERT_NE(whole().crops.find(what.second), nullptr) << what.second;
    EXPECT_FALSE(any_way(what.second, keeps)) << what.second;
  }
}

TEST(Breadth, NoAnimalFoodIsComposted) {
  for (const Route& r : whole().routes.all()) {
    if (r.method != "composted") continue;
    EXPECT_FALSE(whole().crops.find(r.crop)->animal) << r.key;
    EXPECT_EQ(r.worth_per_kg_in, 0) << r.key;
  }
}

TEST(Breadth, EveryCanningRowThatWasReadHasARoute) {
  std::set<std::pair<std::string, std::string>> taken;
  for (const Route& r : whole().routes.all())
    if (r.process) taken.insert({r.process->id, r.process->jar});
  std::set<std::pair<std::string, std::string>> read;
  for (const ProcessRow& row : whole().processes.rows) {
    if (row.status == RowStatus::recalled) continue;
    // An equal pressure process of a tomato row is the same route by the other canner.
    read.insert({row.id.substr(0, row.id.find("_opt_")), row.jar});
  }
  EXPECT_GE(read.size(), 200U);
  for (const auto& [id, jar] : read) EXPECT_NE(taken.contains({id, jar}), excused("canning", id)) << id << " " << jar;
}

TEST(Breadth, EveryRouteWithAProcessIsForACropItsRowsCover) {
  const auto& crops = whole().crops;
  for (const Route& r : whole().routes.all()) {
    if (!r.process) continue;
    int rows = 0;
    for (const ProcessRow& row : whole().processes.rows) {
      if (row.id.substr(0, row.id.find("_opt_")) != r.process->id) continue;
      ++rows;
      const auto names = [&](const std::string& key) { return crops.is_a(r.crop, key); };
      EXPECT_TRUE(row.covers.empty() || std::ranges::any_of(row.covers, names)) << r.key << " " << row.id;
      EXPECT_FALSE(std::ranges::any_of(row.excludes, names)) << r.key << " " << row.id;
    }
    EXPECT_GT(rows, 0) << r.key;
  }
}

/// Litres of vinegar and bottled lemon juice to a kilogram of the route's crop.
double acid_l_per_kg(const Route& r) {
  double litres = 0;
  for (const Stage& s : r.stages)
    for (const StockUse& u : s.stock)
      if (u.item == "vinegar_l" || u.item == "lemon_juice_l") litres += u.amount.per_kg;
  return litres;
}

/// "3-1/2" is 3.5, "2/3" is 0.667, "6" is 6.
double printed(const std::string& text) {
  double sum = 0;
  const std::regex part("(\\d+)(?:/(\\d+))?");
  for (auto it = std::sregex_iterator(text.begin(), text.end(), part); it != std::sregex_iterator(); ++it)
    sum += std::stod((*it)[1]) / ((*it)[2].matched ? std::stod((*it)[2]) : 1);
  return sum;
}

TEST(Breadth, ATestedRecipeBringsTheAcidItsRowPrints) {
  const std::regex to_pounds("([\\d/-]+) cups.* per ([\\d/-]+) lb.*");
  int fixed = 0, printed_by_weight = 0;
  for (const Route& r : whole().routes.all()) {
    if (!r.process) continue;
    const auto row = std::ranges::find(whole().processes.rows, r.process->id, &ProcessRow::id);
    if (row == whole().processes.rows.end() || std::ranges::count(row->requirements, "acid_ratio_fixed") == 0) continue;
    ++fixed;
    EXPECT_GT(acid_l_per_kg(r), 0) << r.key;
    std::smatch found;
    if (!std::regex_search(row->added_acid, found, to_pounds)) continue;
    ++printed_by_weight;
    const double litres = measure::in_litres(measure::us_cups(printed(found[1])));
    const double kg = measure::in_kilograms(measure::pounds(printed(found[2])));
    // More than printed where other food of the recipe is weighed with it (hot peppers) or a second acid goes in.
    EXPECT_GE(acid_l_per_kg(r), 0.99 * litres / kg) << r.key << ": " << row->added_acid;
  }
  EXPECT_GE(fixed, 50);
  EXPECT_GE(printed_by_weight, 7);
}

TEST(Breadth, EveryFreezingRowHasARoute) {
  every_row_has_a_way("freezing", "keeping/frozen_storage.csv", "crops", 60,
                      [](const Route& r) { return r.store_in == "freezer"; });
}

TEST(Breadth, EveryDryingRowHasARoute) {
  every_row_has_a_way("drying", "keeping/drying.csv", "crops", 40, [](const Route& r) { return r.method == "dried"; });
}

TEST(Breadth, EveryCuringRowHasARoute) {
  every_row_has_a_way("curing", "keeping/curing.csv", "crop", 15, [](const Route& r) { return r.method == "cured"; });
}

TEST(Breadth, EveryKeepingRowHasAHoldOrACellar) {
  every_row_has_a_way("keeping", "keeping/fresh_storage.csv", "crop", 90,
                      [](const Route& r) { return r.is_hold || r.method == "cellared" || r.method == "cured"; });
}

TEST(Breadth, ABorrowedFigureIsSaidWithItsSource) {
  int borrowed = 0;
  for (const Route& r : whole().routes.all()) {
    if (r.borrowed_from.empty()) continue;
    ++borrowed;
    const Crop* lender = whole().crops.find(r.borrowed_from);
    ASSERT_NE(lender, nullptr) << r.key;
    EXPECT_TRUE(r.source.starts_with("figures borrowed from " + lender->plural + ": ")) << r.key << " " << r.source;
  }
  EXPECT_GE(borrowed, 40);
}

}  // namespace
}  // namespace stillroom::almanac
