#include "almanac/routes.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "almanac/csv.h"
#include "almanac/detail/route_check.h"
#include "almanac/detail/route_template.h"
#include "measure/quantity.h"

namespace stillroom::almanac {
namespace {

using measure::refuse;
using measure::Result;

const std::vector<std::string> kRowColumns{"crop", "key",        "accepts",     "not_for", "quality",
                                           "prep", "months_low", "months_high", "source",  "checked"};
/// Columns a table may leave out.
const std::vector<std::string> kOptionalColumns{"prep_frozen_whole", "many_lot_with", "many_lot_kg", "caution",
                                                "borrowed"};

constexpr double kJarLitresHalfPint = 0.2365882365;  // US half pint; doubled for each next jar up to the half-gallon

std::string root_crop(std::string_view key) { return std::string(key.substr(0, key.find('/'))); }

void set_constants(detail::RouteWords& w) {
  w.set("kg_per_lb", measure::kKilogramsPerPound);
  w.set("lb_per_kg", 1 / measure::kKilogramsPerPound);
  w.set("l_per_quart", measure::in_litres(measure::us_quarts(1)));
  w.set("l_per_cup", measure::in_litres(measure::us_cups(1)));
  w.set("l_per_tbsp", measure::in_litres(measure::us_tablespoons(1)));
  w.set("kg_sugar_per_cup", 0.2);       // common practice
  w.set("kg_salt_per_tbsp", 0.018);     // canning salt: 3 tbsp to 5 lb of cabbage is about 2.4 % by weight
  w.set("freezer_l_per_kg", 1 / 0.56);  // 35 lb of wrapped food to a cubic foot, from memory of freezer guides
  w.set("kg_per_tray", 0.6);            // common practice: fresh slices on one dryer tray
}

void set_jar(detail::RouteWords& w) {
  if (!w.has("jar")) return;
  const std::string jar = w.text("jar");
  std::string word = jar;
  std::ranges::replace(word, '_', '-');
  w.set("jar_word", word);
  w.set("jar_l", kJarLitresHalfPint * (jar == "half_gallon" ? 8
                                       : jar == "quart"     ? 4
                                       : jar == "pint"      ? 2
                                       : jar == "half_pint" ? 1
                                                            : 0));
}

/// One row of a method's table, turned into one route for every form it accepts.
class RowExpander {
 public:
  RowExpander(const Crops& crops, const detail::Labour& labour, const detail::RouteTemplate& method,
              const CsvTable& table, std::size_t row)
      : crops_(crops), labour_(labour), method_(method), table_(table), row_(row), in_(table, row) {}

  Result<std::vector<Route>> routes() {
    const std::string crop = in_.text("crop");
    const Crop* known = crops_.find(crop);
    if (known == nullptr) in_.fail("crop", "\"" + crop + "\" is not in crops.csv");
    std::vector<std::string> forms = in_.list("accepts");
    if (forms.empty()) forms.emplace_back("fresh");
    std::vector<Route> out;
    for (const std::string& form : forms) {
      if (in_.error()) return tl::unexpected(*in_.error());
      auto route = method_.build(words(*known), prep_for(form), labour_);
      if (!route) return tl::unexpected(at_row(route.error()));
      add_row(*route, *known);
      route->key = crop + "/" + in_.text("key") + (form == forms.front() ? "" : "_from_" + form);
      route->accepts_form = form;
      out.push_back(std::move(*route));
    }
    if (in_.error()) return tl::unexpected(*in_.error());
    return out;
  }

 private:
  detail::RouteWords words(const Crop& crop) const {
    detail::RouteWords w;
    set_constants(w);
    for (std::size_t c = 0; c < table_.header.size(); ++c) w.set(table_.header[c], in_.text_at(c));
    w.set("density_kg_per_l", crop.density_kg_per_l);
    set_jar(w);
    return w;
  }

  std::vector<std::string> prep_for(const std::string& form) {
    return in_.list(form == "frozen_whole" && table_.column("prep_frozen_whole") >= 0 ? "prep_frozen_whole" : "prep");
  }

  void add_row(Route& r, const Crop& crop) {
    r.crop = crop.key;
    if (r.product_food.empty()) r.product_food = root_crop(crop.key);
    r.keeps_months_low = in_.required_number("months_low", 0, 60);
    r.keeps_months_high = in_.required_number("months_high", 0, 60);
    const auto quality = numbers("quality");
    if (quality.size() != kConditions) in_.fail("quality", "wants five numbers, underripe to going over");
    std::copy_n(quality.begin(), std::min<std::size_t>(quality.size(), kConditions), r.quality.begin());
    r.not_for = in_.list("not_for");
    if (table_.column("many_lot_with") >= 0) r.many_lot_with = in_.list("many_lot_with");
    if (table_.column("many_lot_kg") >= 0) r.many_lot_kg = numbers("many_lot_kg");
    if (table_.column("caution") >= 0 && !in_.text("caution").empty()) r.cautions.push_back(in_.text("caution"));
    if (crop.foraged) r.cautions.emplace_back("Foraged: be certain what it is.");
    r.checked = detail::weaker_checked(r.checked, in_.one_of("checked", detail::checked_words()));
    r.source = in_.text("source") + "; " + r.source;
    if (table_.column("borrowed") >= 0) add_borrowed(r);
  }

  /// A row may rest on the figures of a like crop; it says so wherever its source is shown.
  void add_borrowed(Route& r) {
    r.borrowed_from = in_.text("borrowed");
    if (r.borrowed_from.empty()) return;
    const Crop* lender = crops_.find(r.borrowed_from);
    if (lender == nullptr || lender->key == r.crop) {
      in_.fail("borrowed", "\"" + r.borrowed_from + "\" is no other crop of crops.csv");
    } else {
      r.source = "figures borrowed from " + lender->plural + ": " + r.source;
    }
  }

  std::vector<double> numbers(std::string_view column) {
    std::vector<double> out;
    detail::RouteWords none;
    for (const std::string& part : in_.list(column)) {
      const auto v = none.number(part);
      if (!v) in_.fail(column, "\"" + part + "\" is no number");
      out.push_back(v.value_or(0));
    }
    return out;
  }

  measure::Refusal at_row(measure::Refusal r) const {
    r.message = table_.file + ": row " + std::to_string(row_ + 1) + ": " + r.message;
    return r;
  }

  const Crops& crops_;
  const detail::Labour& labour_;
  const detail::RouteTemplate& method_;
  const CsvTable& table_;
  std::size_t row_;
  RowReader in_;
};

/// Money for one full load (or 5 kg where there are no loads), spread over its kilograms.
void add_costs(Route& r, const detail::Supplies& supplies) {
  const double kg = r.load_kg > 0 ? r.load_kg : std::clamp(5.0, r.batch_min_kg, r.batch_max_kg);
  const auto price = [&](const std::string& item) {
    const auto found = supplies.find(item);
    return found == supplies.end() ? 0.0 : found->second.price_usd;
  };
  double materials = 0, kilowatt_hours = 0;
  for (const Stage& s : r.stages) {
    for (const StockUse& u : s.stock) materials += price(u.item) * u.amount.at(kg, 1);
    for (const EquipmentUse& e : s.equipment) {
      const auto found = supplies.find(e.key);
      const double watts = found == supplies.end() ? 0 : found->second.watts;
      kilowatt_hours += watts * e.amount.at(kg, 1) * s.duration_min.at(kg, 1) / 60 / 1000;
    }
  }
  r.materials_cost_per_kg = materials / kg;
  r.energy_cost_per_kg = kilowatt_hours * price("kilowatt_hour") / kg;
}

Result<CsvTable> read_rows(const MethodText& text, const detail::RouteTemplate& method) {
  auto table = read_csv("routes/" + text.name + ".csv", text.rows, kRowColumns);
  if (!table) return table;
  for (const std::string& column : table->header) {
    const bool common = std::ranges::find(kRowColumns, column) != kRowColumns.end() ||
                        std::ranges::find(kOptionalColumns, column) != kOptionalColumns.end();
    if (!common && !method.columns_used().contains(column) && column != "jar")
      return refuse("bad_route",
                    table->file + ": column " + column + ": methods/" + text.name + ".toml has no use for it.",
                    {"take the column out, or name it in the template"});
  }
  return table;
}

Result<bool> add_method(const MethodText& text, const Crops& crops, const detail::Labour& labour,
                        const detail::Supplies& supplies, RouteOrigin origin, std::vector<Route>& routes,
                        std::set<std::string>& keys) {
  auto method = detail::RouteTemplate::parse("routes/methods/" + text.name + ".toml", text.toml);
  if (!method) return tl::unexpected(method.error());
  auto table = read_rows(text, *method);
  if (!table) return tl::unexpected(table.error());
  for (std::size_t i = 0; i < table->rows.size(); ++i) {
    auto expanded = RowExpander(crops, labour, *method, *table, i).routes();
    if (!expanded) return tl::unexpected(expanded.error());
    for (Route& r : *expanded) {
      std::string fault = detail::fault_in(r, crops, supplies, origin == RouteOrigin::published);
      if (fault.empty() && !keys.insert(r.key).second) fault = "the key stands twice";
      if (!fault.empty())
        return refuse("bad_route", table->file + ": row " + std::to_string(i + 1) + ": " + r.key + ": " + fault + ".",
                      {"mend the row or its template and load again"});
      add_costs(r, supplies);
      routes.push_back(std::move(r));
    }
  }
  return true;
}

int loads_of(double kg, double load_kg) {
  return load_kg > 0 ? std::max(1, static_cast<int>(std::ceil(kg / load_kg - 1e-6))) : 1;
}

}  // namespace

bool lets_go(const Route& route) { return route.method == "given away" || takes_poor_food(route); }
bool takes_poor_food(const Route& route) { return route.method == "fed to stock" || route.method == "composted"; }

int loads_for(const Route& route, double kg) { return loads_of(kg, route.load_kg); }

double canner_load_kg(const Route& route) {
  return route.packs_per_canner > 0 ? route.packs_per_canner * route.kg_in_per_pack : route.load_kg;
}

int canner_loads_for(const Route& route, double kg) { return loads_of(kg, canner_load_kg(route)); }

const Route* RouteBook::find(std::string_view key) const {
  const auto it = std::ranges::find(routes_, key, &Route::key);
  return it == routes_.end() ? nullptr : &*it;
}

std::vector<const Route*> RouteBook::for_crop(const Crops& crops, std::string_view crop) const {
  const auto own_name = [](const Route& r) { return std::string_view(r.key).substr(r.crop.size()); };
  std::vector<const Route*> out;
  for (const Route& r : routes_) {
    if (!crops.is_a(crop, r.crop)) continue;
    if (std::ranges::any_of(r.not_for, [&](const std::string& v) { return crops.is_a(crop, v); })) continue;
    const auto rival = std::ranges::find_if(out, [&](const Route* o) { return own_name(*o) == own_name(r); });
    if (rival == out.end()) {
      out.push_back(&r);
    } else if (crops.is_a(r.crop, (*rival)->crop)) {
      *rival = &r;  // nearer kin of the crop asked for
    }
  }
  return out;
}

Result<RouteTexts> published_route_texts() {
  RouteTexts texts{
      .labour = embedded_file("routes/labour.csv"), .supplies = embedded_file("routes/supplies.csv"), .methods = {}};
  auto index = read_csv("routes/methods.csv", embedded_file("routes/methods.csv"), {"method"});
  if (!index) return tl::unexpected(index.error());
  for (std::size_t i = 0; i < index->rows.size(); ++i) {
    const std::string name = RowReader(*index, i).text("method");
    texts.methods.push_back(
        {name, embedded_file("routes/methods/" + name + ".toml"), embedded_file("routes/" + name + ".csv")});
    if (texts.methods.back().toml.empty() || texts.methods.back().rows.empty())
      return refuse("bad_route", "routes/methods.csv: " + name + ": its template or table is not compiled in.");
  }
  return texts;
}

Result<RouteBook> load_routes_from(const Crops& crops, const RouteTexts& texts, RouteOrigin origin) {
  auto labour = detail::read_labour(texts.labour);
  if (!labour) return tl::unexpected(labour.error());
  auto supplies = detail::read_supplies(texts.supplies);
  if (!supplies) return tl::unexpected(supplies.error());
  std::vector<Route> routes;
  std::set<std::string> keys;
  for (const MethodText& text : texts.methods) {
    auto added = add_method(text, crops, *labour, *supplies, origin, routes, keys);
    if (!added) return tl::unexpected(added.error());
  }
  return RouteBook(std::move(routes));
}

Result<RouteBook> load_routes(const Crops& crops) {
  auto texts = published_route_texts();
  if (!texts) return tl::unexpected(texts.error());
  return load_routes_from(crops, *texts);
}

}  // namespace stillroom::almanac
