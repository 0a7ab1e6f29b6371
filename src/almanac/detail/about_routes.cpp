#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "almanac/csv.h"
#include "almanac/detail/about_parts.h"

namespace stillroom::almanac {

namespace {

/// A way as said, with the jars it is done in: "can as sauce" in quarts and pints.
struct SaidWay {
  std::string name;
  std::vector<std::string> jars;
};

constexpr std::array<std::string_view, 4> kJarEndings{", half-gallons", ", quarts", ", pints", ", half-pints"};

void add_way(std::vector<SaidWay>& ways, std::string name) {
  std::string jar;
  for (const auto ending : kJarEndings) {
    if (!name.ends_with(ending)) continue;
    jar = ending.substr(2);
    name.resize(name.size() - ending.size());
    break;
  }
  auto way = std::ranges::find(ways, name, &SaidWay::name);
  if (way == ways.end()) way = ways.insert(ways.end(), {name, {}});
  if (!jar.empty() && std::ranges::find(way->jars, jar) == way->jars.end()) way->jars.push_back(jar);
}

std::string say_ways(const std::vector<SaidWay>& ways) {
  std::string out;
  for (const SaidWay& way : ways) {
    out += fmt::format("{}{}", out.empty() ? "" : "; ", way.name);
    if (!way.jars.empty()) out += fmt::format(" ({})", fmt::join(way.jars, ", "));
  }
  return out;
}

Sureness sureness_of(const Route& r) { return sureness_from_code(r.checked).value_or(Sureness::common_practice); }

/// The ways of one method that rest on the crop's own figures.
AboutFact method_fact(const std::vector<const Route*>& routes, const std::string& method) {
  AboutFact fact{.what = method, .value = {}, .from = {}, .source = "each way says its own", .checked = Sureness::read};
  std::vector<SaidWay> ways;
  for (const Route* r : routes) {
    if (r->method != method || !r->borrowed_from.empty()) continue;
    add_way(ways, r->name);
    fact.checked = weaker(fact.checked, sureness_of(*r));
  }
  fact.value = say_ways(ways);
  return fact;
}

AboutFact borrowed_fact(const Crops& crops, const Route& r) {
  const Crop* lender = crops.find(r.borrowed_from);
  return {r.method, r.name, fmt::format("with the figures of {}", lender == nullptr ? r.borrowed_from : lender->plural),
          r.source, sureness_of(r)};
}

bool process_covers(const Almanac& almanac, const std::string& id, const Crop& crop) {
  return std::ranges::any_of(almanac.processes.rows, [&](const ProcessRow& row) {
    return row.id == id &&
           std::ranges::any_of(row.covers, [&](const std::string& key) { return almanac.crops.is_a(crop.key, key); });
  });
}

/// What is on file for the crop and has no way, with the reason: data/routes/without_route.csv.
void add_left_out(const Almanac& almanac, const Crop& crop, AboutPart& part) {
  const auto table = read_csv("routes/without_route.csv", embedded_file("routes/without_route.csv"),
                              {"table", "key", "why", "source", "checked"});
  if (!table) return;  // a test reads it too
  for (std::size_t i = 0; i < table->rows.size(); ++i) {
    RowReader row(*table, i);
    const std::string key = row.text("key");
    const bool process = row.text("table") == "canning";
    if (process ? !process_covers(almanac, key, crop) : key != crop.key) continue;
    part.facts.push_back({process ? fmt::format("left out ({})", key) : "left out",
                          row.text("why"),
                          {},
                          row.text("source"),
                          sureness_from_code(row.text("checked")).value_or(Sureness::common_practice)});
  }
}

}  // namespace

AboutPart about_routes(const Almanac& almanac, const Crop& crop) {
  AboutPart part{.key = "ways", .title = "Ways it can take", .facts = {}, .none = {}};
  const auto routes = almanac.routes.for_crop(almanac.crops, crop.key);
  std::vector<std::string> methods;
  for (const Route* r : routes) {
    if (std::ranges::find(methods, r->method) == methods.end()) methods.push_back(r->method);
  }
  for (const std::string& method : methods) {
    if (auto own = method_fact(routes, method); !own.value.empty()) part.facts.push_back(std::move(own));
    for (const Route* r : routes) {
      if (r->method == method && !r->borrowed_from.empty()) part.facts.push_back(borrowed_fact(almanac.crops, *r));
    }
  }
  add_left_out(almanac, crop, part);
  return part;
}

}  // namespace stillroom::almanac
