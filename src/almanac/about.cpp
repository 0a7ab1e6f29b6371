#include "almanac/about.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "almanac/detail/about_parts.h"

namespace stillroom::almanac {

namespace {

std::string joined(const std::vector<std::string>& words) { return fmt::format("{}", fmt::join(words, ", ")); }

std::vector<std::string> about_cautions(const Crop& crop) {
  std::vector<std::string> out;
  if (crop.foraged) out.emplace_back("Gathered wild: be certain what it is before anyone eats it.");
  if (crop.key == "elderberry") {
    out.emplace_back("Stems, leaves and green berries are discarded; the berries are always heated.");
  }
  if (crop.animal) out.emplace_back("Keeps by a fixed time limit: a look never lengthens it.");
  return out;
}

/// "for pear; read in the source: USDA ..."; common practice is not said twice.
std::string standing_of(const AboutFact& f) {
  std::string out = f.from.empty() ? "" : f.from + "; ";
  out += f.source.starts_with(to_phrase(f.checked)) ? f.source : fmt::format("{}: {}", to_phrase(f.checked), f.source);
  return out;
}

nlohmann::json fact_to_json(const AboutFact& f) {
  return {{"what", f.what},
          {"value", f.value},
          {"from", f.from},
          {"source", f.source},
          {"checked", to_code(f.checked)},
          {"how_surely", to_phrase(f.checked)}};
}

}  // namespace

measure::Result<About> about(const Almanac& almanac, std::string_view typed) {
  const auto named = almanac.crops.named(typed);
  if (!named) return tl::unexpected(named.error());
  const Crop& crop = **named;
  About a{.crop = crop.key,
          .name = crop.name,
          .plural = crop.plural,
          .kind = std::string(to_word(crop.kind)),
          .also_called = crop.aliases,
          .varieties = {},
          .cautions = about_cautions(crop),
          .parts = {}};
  for (const auto& c : almanac.crops.all()) {
    if (c.parent == crop.key) a.varieties.push_back(c.name);
  }
  for (const auto part : {about_limits, about_keeping, about_rooms, about_ripening, about_curing, about_weights,
                          about_yields, about_carcass, about_canning, about_freezing, about_drying, about_routes,
                          about_labour, about_growing, about_eating}) {
    auto p = part(almanac, crop);
    if (!p.facts.empty() || !p.none.empty()) a.parts.push_back(std::move(p));
  }
  return a;
}

std::string to_text(const About& about) {
  std::string out = fmt::format("{} ({})\n", about.name, about.kind);
  if (!about.also_called.empty()) out += fmt::format("  also called: {}\n", joined(about.also_called));
  if (!about.varieties.empty()) out += fmt::format("  kinds known: {}\n", joined(about.varieties));
  for (const auto& caution : about.cautions) out += fmt::format("  {}\n", caution);
  for (const auto& part : about.parts) {
    out += fmt::format("\n{}\n", part.title);
    if (part.facts.empty()) out += fmt::format("  {}\n", part.none);
    for (const auto& f : part.facts) {
      out += fmt::format("  {}: {}\n      {}\n", f.what, f.value, standing_of(f));
    }
  }
  return out;
}

std::string to_json(const About& about) {
  nlohmann::json parts = nlohmann::json::array();
  for (const auto& part : about.parts) {
    nlohmann::json facts = nlohmann::json::array();
    for (const auto& f : part.facts) facts.push_back(fact_to_json(f));
    nlohmann::json p{{"key", part.key}, {"title", part.title}, {"facts", facts}};
    if (part.facts.empty()) p["none"] = part.none;
    parts.push_back(std::move(p));
  }
  const nlohmann::json all{{"crop", about.crop},
                           {"name", about.name},
                           {"plural", about.plural},
                           {"kind", about.kind},
                           {"also_called", about.also_called},
                           {"varieties", about.varieties},
                           {"cautions", about.cautions},
                           {"parts", parts}};
  return all.dump(2);
}

}  // namespace stillroom::almanac
