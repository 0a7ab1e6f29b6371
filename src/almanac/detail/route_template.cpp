#include "almanac/detail/route_template.h"

#include <toml++/toml.h>
#include <algorithm>
#include <optional>

namespace stillroom::almanac::detail {
namespace {

using Keys = std::vector<std::string_view>;
const Keys kTopKeys{"method",  "name",    "is_hold", "hold_place", "product_food", "product_form",
                    "pack",    "source",  "checked", "store_in",   "cautions",     "define",
                    "numbers", "process", "stage",   "also_yields"};
const Keys kNumberKeys{"yield_kg_per_kg", "kg_in_per_pack", "load_kg",        "packs_per_canner",
                       "batch_min_kg",    "batch_max_kg",   "worth_per_kg_in"};
const Keys kProcessKeys{"food", "form", "style_of_pack", "jar", "method", "id"};
const Keys kByProductKeys{"food", "form", "kg_per_kg"};
const Keys kScaledKeys{"fixed", "per_kg", "per_load"};
const Keys kAmountKeys{"use", "fixed", "per_kg", "per_load"};
const Keys kStageKeys{"prep",      "labour",    "when",        "key",         "name",         "instruction",
                      "caution",   "duration",  "spread",      "attention",   "nearby_share", "hands",
                      "least_age", "skill",     "can_pause",   "equipment",   "stock",        "room",
                      "amounts",   "timers",    "lag_min_min", "lag_max_min", "hazard",       "dangers",
                      "weather",   "hold_point"};
const Keys kPrepKeys{"prep", "skill", "hazard", "lag_max_min"};
const Keys kWeatherKeys{"daylight", "dry", "min_temp_c", "max_temp_c", "max_wind_kmh"};

measure::Refusal bad(const std::string& file, const std::string& key, const std::string& what) {
  return {"bad_route", file + ": " + key + ": " + what + ".", {"mend that key and load again"}};
}

/// First key of `table` that is not in `allowed`, or nullopt.
std::optional<std::string> stranger(const toml::table& table, const Keys& allowed) {
  for (auto&& [key, node] : table)
    if (std::ranges::find(allowed, key.str()) == allowed.end()) return std::string(key.str());
  return std::nullopt;
}

bool is_formula_key(std::string_view key) {
  return std::ranges::find(kScaledKeys, key) != kScaledKeys.end() || key == "when" || key == "spread" ||
         key == "kg_per_kg" || key == "lag_min_min" || key == "lag_max_min";
}

void collect_names(std::string_view formula, std::set<std::string>& into) {
  for (std::size_t i = 0; i < formula.size();) {
    std::size_t end = i;
    while (end < formula.size() && ((formula[end] >= 'a' && formula[end] <= 'z') || formula[end] == '_' ||
                                    (end > i && formula[end] >= '0' && formula[end] <= '9')))
      ++end;
    if (end > i) into.insert(std::string(formula.substr(i, end - i)));
    i = std::max(end, i + 1);
  }
}

void collect_columns(const toml::node& node, std::string_view key, bool formulas, std::set<std::string>& into) {
  if (const auto* table = node.as_table()) {
    for (auto&& [k, v] : *table)
      collect_columns(v, k.str(), formulas || k.str() == "define" || k.str() == "numbers", into);
  } else if (const auto* array = node.as_array()) {
    for (auto&& v : *array) collect_columns(v, key, formulas, into);
  } else if (const auto text = node.value<std::string>()) {
    for (std::string& name : names_between(*text, '<', '>')) into.insert(std::move(name));
    if (formulas || is_formula_key(key)) collect_names(*text, into);
  }
}

/// Reads one template against one row; keeps the first thing that is wrong.
class Filler {
 public:
  Filler(const std::string& file, const RouteWords& words) : file_(file), words_(words) {}
  [[nodiscard]] const std::optional<measure::Refusal>& error() const { return error_; }
  [[nodiscard]] RouteWords& words() { return words_; }
  void within(std::string place) { place_ = std::move(place); }
  void fail(std::string_view key, const std::string& what) {
    if (!error_) error_ = bad(file_, place_.empty() ? std::string(key) : place_ + "." + std::string(key), what);
  }
  void known(const toml::table& t, const Keys& allowed) {
    if (const auto key = stranger(t, allowed)) fail(*key, "is no key that is known here");
  }

  std::string text(const toml::table& t, std::string_view key, std::string otherwise = {}) {
    const toml::node* node = t.get(key);
    if (node == nullptr) return otherwise;
    const auto raw = node->value<std::string>();
    if (!raw) fail(key, "wants a text");
    auto filled = words_.fill(raw.value_or(""));
    if (!filled) fail(key, filled.error().message);
    return filled.value_or("");
  }
  std::string required_text(const toml::table& t, std::string_view key) {
    if (!t.contains(key)) fail(key, "is missing");
    return text(t, key);
  }
  double number(const toml::table& t, std::string_view key, double otherwise) {
    const toml::node* node = t.get(key);
    return node == nullptr ? otherwise : number(*node, key);
  }
  double number(const toml::node& node, std::string_view key) {
    if (const auto v = node.value<double>(); v && !node.is_string()) return *v;
    const auto formula = node.value<std::string>();
    if (!formula) fail(key, "wants a number or a formula");
    const auto v = words_.number(formula.value_or("0"));
    if (!v) fail(key, v.error().message);
    return v.value_or(0);
  }
  bool yes(const toml::table& t, std::string_view key, bool otherwise) {
    const toml::node* node = t.get(key);
    if (node != nullptr && !node->is_boolean()) fail(key, "wants true or false");
    return node == nullptr ? otherwise : node->value_or(otherwise);
  }
  Scaled scaled(const toml::table& t, const Keys& allowed = kScaledKeys) {
    known(t, allowed);
    return {number(t, "fixed", 0), number(t, "per_kg", 0), number(t, "per_load", 0)};
  }
  /// The tables of an array, each handed to `take`; anything else is an error.
  template <class Take>
  void each_table(const toml::table& t, std::string_view key, Take take) {
    const toml::node* node = t.get(key);
    if (node == nullptr) return;
    const auto* array = node->as_array();
    if (array == nullptr) return fail(key, "wants a list");
    for (auto&& item : *array) {
      if (const auto* table = item.as_table()) {
        take(*table);
      } else {
        fail(key, "wants a list of { } tables");
      }
    }
  }
  std::vector<std::string> texts(const toml::table& t, std::string_view key) {
    std::vector<std::string> out;
    const toml::node* node = t.get(key);
    if (node == nullptr) return out;
    const auto* array = node->as_array();
    if (array == nullptr) fail(key, "wants a list of texts");
    for (std::size_t i = 0; array != nullptr && i < array->size(); ++i) {
      auto filled = words_.fill(array->get(i)->value_or(std::string()));
      if (!filled) fail(key, filled.error().message);
      out.push_back(filled.value_or(""));
    }
    return out;
  }

 private:
  const std::string& file_;
  RouteWords words_;
  std::string place_;
  std::optional<measure::Refusal> error_;
};

bool all_zero(const Scaled& s) { return s.fixed == 0 && s.per_kg == 0 && s.per_load == 0; }

/// { use = "lid", per_kg = "1.02 / kg_per_pack" } ...; amounts that come out as nothing are left out.
template <class Use>
void read_uses(Filler& in, const toml::table& t, std::string_view key, std::vector<Use>& into) {
  if (!t.contains(key)) return;
  into.clear();
  in.each_table(t, key, [&](const toml::table& item) {
    std::string use = in.required_text(item, "use");
    const Scaled amount = in.scaled(item, kAmountKeys);
    if (!all_zero(amount)) into.push_back({std::move(use), amount});
  });
}

Attention read_attention(Filler& in, const toml::table& t, Attention otherwise) {
  const std::string word = in.text(t, "attention");
  if (word.empty()) return otherwise;
  if (word == "hands_on") return Attention::hands_on;
  if (word == "nearby") return Attention::nearby;
  if (word != "unattended") in.fail("attention", "\"" + word + "\" is not hands_on, nearby or unattended");
  return Attention::unattended;
}

WeatherWindow read_weather(Filler& in, const toml::table& t) {
  in.known(t, kWeatherKeys);
  WeatherWindow w{.daylight = in.yes(t, "daylight", false), .dry = in.yes(t, "dry", false)};
  if (t.contains("min_temp_c")) w.min_temp_c = in.number(t, "min_temp_c", 0);
  if (t.contains("max_temp_c")) w.max_temp_c = in.number(t, "max_temp_c", 0);
  if (t.contains("max_wind_kmh")) w.max_wind_kmh = in.number(t, "max_wind_kmh", 0);
  return w;
}

/// `s` comes in with what labour.csv knows; the template's own keys win.
void read_stage(Filler& in, const toml::table& t, Stage& s) {
  in.known(t, kStageKeys);
  s.key = in.text(t, "key", s.key);
  s.name = in.text(t, "name", s.name);
  s.instruction = in.text(t, "instruction", s.instruction);
  s.caution = in.text(t, "caution", s.caution);
  s.skill = in.text(t, "skill", s.skill);
  s.hazard = in.text(t, "hazard", s.hazard);
  if (const auto* duration = t["duration"].as_table()) s.duration_min = in.scaled(*duration);
  s.spread = in.number(t, "spread", s.spread);
  s.attention = read_attention(in, t, s.attention);
  s.nearby_share = in.number(t, "nearby_share", s.nearby_share);
  s.hands = static_cast<int>(in.number(t, "hands", s.hands));
  s.least_age = static_cast<int>(in.number(t, "least_age", s.least_age));
  s.can_pause = in.yes(t, "can_pause", s.can_pause);
  s.hold_point = in.yes(t, "hold_point", s.hold_point);
  s.lag_min_min = in.number(t, "lag_min_min", s.lag_min_min);
  if (t.contains("lag_max_min")) s.lag_max_min = in.number(t, "lag_max_min", 0);
  if (t.contains("dangers")) s.dangers = in.texts(t, "dangers");
  if (const auto* weather = t["weather"].as_table()) s.weather = read_weather(in, *weather);
  read_uses(in, t, "equipment", s.equipment);
  read_uses(in, t, "stock", s.stock);
  read_uses(in, t, "room", s.room);
  read_uses(in, t, "amounts", s.amounts);
  read_uses(in, t, "timers", s.timers);
}

void add_prep(Filler& in, const toml::table& t, const std::vector<std::string>& prep, const Labour& labour,
              Route& route) {
  in.known(t, kPrepKeys);
  for (std::size_t i = 0; i < prep.size(); ++i) {
    const auto row = labour.find(prep[i]);
    if (row == labour.end()) return in.fail("prep", "\"" + prep[i] + "\" is no task of labour.csv");
    Stage stage = row->second;
    stage.skill = in.text(t, "skill");
    stage.hazard = in.text(t, "hazard");
    if (i == 0 && t.contains("lag_max_min")) stage.lag_max_min = in.number(t, "lag_max_min", 0);
    route.stages.push_back(std::move(stage));
  }
}

void add_stage(Filler& in, const toml::table& t, const Labour& labour, Route& route) {
  if (in.number(t, "when", 1) <= 0) return;
  Stage stage;
  if (const std::string task = in.text(t, "labour"); !task.empty()) {
    const auto row = labour.find(task);
    if (row == labour.end()) return in.fail("labour", "\"" + task + "\" is no task of labour.csv");
    stage = row->second;
  }
  read_stage(in, t, stage);
  route.stages.push_back(std::move(stage));
}

ProcessQuery read_process(Filler& in, const toml::table& t) {
  in.known(t, kProcessKeys);
  return {.food = in.required_text(t, "food"),
          .form = in.required_text(t, "form"),
          .style_of_pack = in.required_text(t, "style_of_pack"),
          .jar = in.required_text(t, "jar"),
          .method = in.required_text(t, "method"),
          .id = in.required_text(t, "id")};
}

void read_numbers(Filler& in, const toml::table& t, Route& r) {
  in.known(t, kNumberKeys);
  r.yield_kg_per_kg = in.number(t, "yield_kg_per_kg", r.yield_kg_per_kg);
  r.kg_in_per_pack = in.number(t, "kg_in_per_pack", r.kg_in_per_pack);
  r.load_kg = in.number(t, "load_kg", r.load_kg);
  r.packs_per_canner = in.number(t, "packs_per_canner", r.packs_per_canner);
  r.batch_min_kg = in.number(t, "batch_min_kg", r.batch_min_kg);
  r.batch_max_kg = in.number(t, "batch_max_kg", r.batch_max_kg);
  r.worth_per_kg_in = in.number(t, "worth_per_kg_in", r.worth_per_kg_in);
}

}  // namespace

struct RouteTemplate::Parsed {
  std::string file;
  toml::table toml;
  std::set<std::string> columns;
};

RouteTemplate::RouteTemplate(std::unique_ptr<Parsed> parsed) : parsed_(std::move(parsed)) {}
RouteTemplate::RouteTemplate(RouteTemplate&&) noexcept = default;
RouteTemplate& RouteTemplate::operator=(RouteTemplate&&) noexcept = default;
RouteTemplate::~RouteTemplate() = default;

const std::set<std::string>& RouteTemplate::columns_used() const { return parsed_->columns; }

measure::Result<RouteTemplate> RouteTemplate::parse(std::string file, std::string_view text) {
  auto parsed = std::make_unique<Parsed>();
  parsed->file = std::move(file);
  try {  // the library reports a fault in the text by throwing
    parsed->toml = toml::parse(text, parsed->file);
  } catch (const toml::parse_error& e) {
    return tl::unexpected(bad(parsed->file, "line " + std::to_string(e.source().begin.line), e.what()));
  }
  if (const auto key = stranger(parsed->toml, kTopKeys))
    return tl::unexpected(bad(parsed->file, *key, "is no key that is known here"));
  if (parsed->toml["stage"].as_array() == nullptr)
    return tl::unexpected(bad(parsed->file, "stage", "at least one [[stage]] is wanted"));
  collect_columns(parsed->toml, {}, false, parsed->columns);
  return RouteTemplate(std::move(parsed));
}

measure::Result<Route> RouteTemplate::build(const RouteWords& words, const std::vector<std::string>& prep,
                                            const Labour& labour) const {
  const toml::table& t = parsed_->toml;
  Filler in(parsed_->file, words);
  if (const auto* define = t["define"].as_table())
    // A TOML table forgets its order, so definitions are taken by name until all that lean on others are there.
    for (std::size_t round = 0; round < define->size(); ++round)
      for (auto&& [key, node] : *define) {
        const auto formula = node.value<std::string>();
        const auto v = in.words().number(formula.value_or(""));
        if (v) in.words().set(std::string(key.str()), *v);
        if (!v && round + 1 == define->size()) in.fail("define." + std::string(key.str()), v.error().message);
      }
  Route r;
  r.method = in.required_text(t, "method");
  r.name = in.required_text(t, "name");
  r.is_hold = in.yes(t, "is_hold", false);
  r.hold_place = in.text(t, "hold_place");
  r.product_food = in.text(t, "product_food");
  r.product_form = in.required_text(t, "product_form");
  r.pack = in.required_text(t, "pack");
  r.store_in = in.required_text(t, "store_in");
  r.source = in.required_text(t, "source");
  r.checked = in.required_text(t, "checked");
  r.cautions = in.texts(t, "cautions");
  if (const auto* numbers = t["numbers"].as_table()) read_numbers(in, *numbers, r);
  if (const auto* process = t["process"].as_table()) r.process = read_process(in, *process);
  in.each_table(t, "also_yields", [&](const toml::table& item) {
    in.known(item, kByProductKeys);
    r.also_yields.push_back(
        {in.required_text(item, "food"), in.required_text(item, "form"), in.number(item, "kg_per_kg", 0)});
  });
  in.each_table(t, "stage", [&](const toml::table& stage) {
    in.within("stage " + std::to_string(r.stages.size() + 1));
    if (in.yes(stage, "prep", false)) {
      add_prep(in, stage, prep, labour, r);
    } else {
      add_stage(in, stage, labour, r);
    }
  });
  if (in.error()) return tl::unexpected(*in.error());
  return r;
}

}  // namespace stillroom::almanac::detail
