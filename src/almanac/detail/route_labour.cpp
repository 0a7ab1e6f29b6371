#include "almanac/detail/route_labour.h"

#include <algorithm>

#include "almanac/csv.h"
#include "measure/quantity.h"

namespace stillroom::almanac::detail {
namespace {

constexpr double kTenNinetyWidth = 2 * 1.2816;  // standard deviations between the 10 and 90 % points of a bell curve

void set_duration(Stage& stage, const std::string& per, double low, double high, double setup) {
  const double mid = (low + high) / 2;
  if (mid > 0) stage.spread = std::max(0.05, (high - low) / kTenNinetyWidth / mid);
  stage.duration_min.fixed = setup;
  if (per == "lb") stage.duration_min.per_kg = mid / measure::kKilogramsPerPound;
  if (per == "load") stage.duration_min.per_load = mid;
  if (per == "batch" || per == "session" || per == "check") stage.duration_min.fixed += mid;
}

Stage labour_row(RowReader& row) {
  Stage s;
  s.key = row.text("key");
  s.name = row.text("name");
  s.instruction = row.text("instruction");
  s.caution = row.text("caution");
  const double low = row.required_number("minutes_low", 0, 2000);
  const double high = row.required_number("minutes_high", 0, 2000);
  if (high < low) row.fail("minutes_high", "is below minutes_low");
  set_duration(s, row.one_of("per", {"lb", "load", "batch", "session", "check"}), low, high,
               row.required_number("setup_min", 0, 120));
  s.least_age = static_cast<int>(row.required_number("least_age", 0, 18));
  s.dangers = row.list("dangers");
  const std::string attention = row.one_of("attention", {"hands_on", "nearby", "unattended"});
  s.attention = attention == "hands_on" ? Attention::hands_on
                : attention == "nearby" ? Attention::nearby
                                        : Attention::unattended;
  s.can_pause = row.one_of("can_pause", {"yes", "no"}) == "yes";
  for (std::string& key : row.list("equipment")) s.equipment.push_back({std::move(key), {.fixed = 1}});
  if (row.text("source").empty()) row.fail("source", "is empty");
  static_cast<void>(row.one_of("checked", checked_words()));
  return s;
}

}  // namespace

const std::vector<std::string>& checked_words() {
  static const std::vector<std::string> words{"yes", "derived", "partial", "derived_memory", "memory", "common"};
  return words;
}

std::string weaker_checked(const std::string& a, const std::string& b) {
  const auto rank = [](const std::string& w) {
    return std::find(checked_words().begin(), checked_words().end(), w) - checked_words().begin();
  };
  return rank(a) < rank(b) ? b : a;
}

measure::Result<Labour> read_labour(std::string_view csv) {
  auto table = read_csv("routes/labour.csv", csv,
                        {"key", "name", "instruction", "caution", "minutes_low", "minutes_high", "per", "setup_min",
                         "least_age", "dangers", "attention", "can_pause", "equipment", "source", "checked"});
  if (!table) return tl::unexpected(table.error());
  Labour labour;
  for (std::size_t i = 0; i < table->rows.size(); ++i) {
    RowReader row(*table, i);
    Stage read = labour_row(row);
    const std::string key = read.key;
    if (!labour.emplace(key, std::move(read)).second) row.fail("key", "\"" + key + "\" stands twice");
    if (row.error()) return tl::unexpected(*row.error());
  }
  return labour;
}

measure::Result<Supplies> read_supplies(std::string_view csv) {
  auto table = read_csv("routes/supplies.csv", csv, {"key", "kind", "price_usd", "watts", "source", "checked"});
  if (!table) return tl::unexpected(table.error());
  Supplies supplies;
  for (std::size_t i = 0; i < table->rows.size(); ++i) {
    RowReader row(*table, i);
    const std::string key = row.text("key");
    const Supply supply{.kind = row.one_of("kind", {"stock", "equipment", "energy"}),
                        .price_usd = row.number("price_usd", 0, 1000).value_or(0),
                        .watts = row.number("watts", 0, 10000).value_or(0)};
    static_cast<void>(row.one_of("checked", checked_words()));
    if (!supplies.emplace(key, supply).second) row.fail("key", "\"" + key + "\" stands twice");
    if (row.error()) return tl::unexpected(*row.error());
  }
  return supplies;
}

}  // namespace stillroom::almanac::detail
